"""The season's list by command: begun, filled, shown, packed as one, taken back as one."""

from pathlib import Path

import pytest

from tests.commands.calling import document, everything_in, hilum

LEEK = "LEK-25-001-S"
SHEET = ("--design", "packet", "--label-stock", "a4-3x8")


@pytest.fixture
def spring(library: Path) -> str:
    """A list with two lots."""
    document("season", "begin", "Spring 2027")
    numbers = [lot["lot"] for lot in document("lots", "--crop", "onion")["lots"]][:1]
    document("season", "add", "Spring 2027", "--lots", ",".join([LEEK, *numbers]), "--packets", 3)
    return "Spring 2027"


def test_a_list_is_shown_with_what_it_takes(spring: str):
    """Every figure scripts need; the lists are named."""
    [first, _] = document("season", "show", spring)["rows"]
    assert (first["lot"], first["packets"], first["left"], first["seeds_per_packet"]) == (LEEK, 3, 3, 50)
    assert first["fill_mg"] > 0
    assert first["possible_packets"] > 3
    assert first["barred_by"] is None
    assert document("season", "lists")["lists"] == [{"name": spring, "made_on": "2026-11-25", "lots": 2}]
    assert "3 × 50 seeds" in hilum("season", "show", spring).out


def test_a_whole_list_is_packed_and_taken_back(spring: str, tmp_path: Path):
    """One PDF for both lots; afterwards nothing is left, then all is back."""
    before = document("show", LEEK)["stock_mg"]
    done = document("season", "pack", spring, *SHEET, "-o", tmp_path / "spring.pdf")
    assert (done["packets"], done["labels"], done["proof"]["read"]) == (6, 6, 6)
    assert (tmp_path / "spring.pdf").read_bytes().startswith(b"%PDF")
    assert document("show", LEEK)["stock_mg"] == before - 3 * done["rows"][0]["fill_mg"]
    again = hilum("season", "pack", spring, *SHEET, "-o", tmp_path / "again.pdf")
    assert (again.code, "Nothing is left to pack" in again.err) == (2, True)
    assert not (tmp_path / "again.pdf").exists()
    document("season", "take-back", done["job"])
    assert document("show", LEEK)["stock_mg"] == before
    assert document("show", LEEK)["packet_batches"] == []


def test_a_bad_row_is_named_and_nothing_changes(spring: str, library: Path, tmp_path: Path):
    """Exit 2, no file, no change; --lots packs the others."""
    document("hold", LEEK, "wet")
    before = everything_in(library)
    called = hilum("season", "pack", spring, *SHEET, "-o", tmp_path / "spring.pdf")
    assert called.code == 2
    assert f"1 of 2 lots cannot be packed. {LEEK}: Lot {LEEK} is on hold" in " ".join(called.err.split())
    assert everything_in(library) == before
    assert not (tmp_path / "spring.pdf").exists()
    other = document("season", "show", spring)["rows"][1]["lot"]
    done = document("season", "pack", spring, "--lots", other, *SHEET, "-o", tmp_path / "spring.pdf")
    assert done["packets"] == 3


def test_lots_come_off_a_list_and_mistakes_are_told(spring: str):
    """A list or lot that is not there is refused with what there is."""
    rows = document("season", "drop", spring, "--lots", LEEK)["rows"]
    assert LEEK not in [row["lot"] for row in rows]
    missing = hilum("season", "drop", spring, "--lots", LEEK)
    assert (missing.code, f"Not on “{spring}”: {LEEK}." in missing.err) == (2, True)
    unknown = hilum("season", "show", "Autumn")
    assert (unknown.code, f"There are: “{spring}”" in unknown.err) == (2, True)
