"""The counter from a shell: out, back, summed and recalled, with the keys scripts may rely on."""

from pathlib import Path

import pytest

from tests.commands.calling import document, everything_in, hilum

LEEK = "LEK-25-001-S"


@pytest.fixture
def packed(library: Path, tmp_path: Path) -> Path:
    """The autumn library with five packets of leek on the shelf."""
    document(
        "pack", LEEK, "--packets", "5", "--seeds", "40", "--design", "packet", "--label-stock", "a4-3x8",
        "-o", tmp_path / "p.pdf",
    )  # fmt: skip
    return library


def test_packets_go_out_and_come_back(packed: Path):
    """Two out, two back; a second time there is nothing to take back."""
    assert document("handout", LEEK, "--packets", 2, "--event", "Spring swap") == {
        "lot": LEEK, "packets": 2, "packets_left": 3,
    }  # fmt: skip
    assert document("handout", LEEK, "--back") == {"lot": LEEK, "packets": -2, "packets_left": 5}
    called = hilum("handout", LEEK, "--back")
    assert called.code == 2
    assert "No seed of lot LEK-25-001-S was handed out on 2026-11-25" in called.err


def test_the_last_packets_want_a_reason(packed: Path):
    """Exit 2 and nothing changed; with the reason it is done."""
    before = everything_in(packed)
    called = hilum("handout", LEEK, "--packets", 5)
    assert called.code == 2
    assert "These are the last packets of lot LEK-25-001-S" in called.err
    assert everything_in(packed) == before
    assert document("handout", LEEK, "--packets", 5, "--why", "to the sister library")["packets_left"] == 0


def test_more_than_there_are_is_bad_input(packed: Path):
    """Six of five."""
    called = hilum("handout", LEEK, "--packets", 6, "--why", "x")
    assert (called.code, "only 5 packets left" in called.err) == (2, True)


def test_what_went_out_is_told_and_written(packed: Path, tmp_path: Path):
    """By variety, season and event; a school without its name."""
    document("handout", LEEK, "--event", "Hollin Road School", "--kind", "school", "--season", 2027)
    document("handout", LEEK, "--event", "Spring swap")
    found = document("handed-out")
    assert found["packets"] == 2
    assert {(each["season"], each["event"]) for each in found["handed_out"]} == {
        (2027, "a school"), (2026, "Spring swap"),
    }  # fmt: skip
    file = tmp_path / "out.csv"
    assert document("handed-out", "--season", 2026, "-o", file)["packets"] == 1
    assert "Spring swap" in file.read_text(encoding="utf-8-sig")


def test_a_recall_names_where_packets_went(packed: Path, tmp_path: Path):
    """One out to a person, four on the shelf, and loose seed in the store; the file says the same."""
    document("handout", LEEK, "--event", "Spring swap", "--to", "Wren Hollis")
    found = document("recall", LEEK, "-o", tmp_path / "recall.csv")
    assert (found["lots"], found["packets_out"], found["packets_on_shelf"]) == ([LEEK], 1, 4)
    assert [each["to"] for each in found["packets"]] == ["Wren Hollis", None, None]
    assert "Wren Hollis" in (tmp_path / "recall.csv").read_text(encoding="utf-8-sig")
    assert "1 packet out, 4 on the shelf" in hilum("recall", LEEK).out


def test_loose_seed_goes_out_and_comes_back(packed: Path):
    """By weight; the newest hand-out is the one that is taken back."""
    before = document("show", LEEK)["stock_mg"]
    out = document("handout", LEEK, "--grams", "1.5", "--event", "Spring swap")
    assert (out["lot"], out["stock_mg"]) == (LEEK, before - 1_500)
    [went] = document("handed-out")["handed_out"]
    assert (went["event"], went["packets"], went["loose_mg"]) == ("Spring swap", 0, 1_500)
    assert document("handout", LEEK, "--back")["stock_mg"] == before
    called = hilum("handout", LEEK, "--grams", "1", "--packets", 2)
    assert called.code == 2
