"""The pack for the next keeper: whole, readable, restorable, and without names unless they are asked for."""

import csv
import zipfile
from datetime import date
from pathlib import Path

import pytest

from hilum.benches import keeping, lots
from hilum.benches.hand_over import hand_over
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, RADISH, SQUASH, TODAY, clock, take_in

NAMES = ("Marit", "Oduya", "Benedek", "Ida Fenn")


@pytest.fixture
def library(catalogue, tmp_path):
    """Give a catalogue with people in it, and a folder of its own designs beside it."""
    keeping.come_to_bench(catalogue, "Ida Fenn")
    take_in(catalogue, LEEK, ONION, RADISH, SQUASH, FOXGLOVE)
    lots.change_lot(catalogue, "LEK-25-001-S", {"notes": "blue flag <b>&", "grower": "Oduya"})
    (tmp_path / "library designs").mkdir()
    (tmp_path / "library designs" / "mine.toml").write_text("title = 'Mine'", encoding="utf-8")
    (tmp_path / "library safety copies").mkdir()
    return catalogue


def everything(folder: Path) -> bytes:
    """Give all bytes of a pack, workbooks unpacked."""
    found = b""
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        found += file.read_bytes()
        if file.suffix == ".xlsx":
            with zipfile.ZipFile(file) as book:
                found += b"".join(book.read(name) for name in book.namelist())
    return found


def test_the_pack_is_whole_and_can_be_gone_on_with(library, tmp_path):
    """Copy, tables, lists, settings, own designs and the page; the copy opens, and restores, with all its lots."""
    steps = []
    done = hand_over(library, tmp_path / "pack", on=TODAY, progress=lambda at, of: steps.append((at, of)))
    names = sorted(path.name for path in (tmp_path / "pack").iterdir())
    assert names == sorted(name.rstrip("/") for name, _ in done.files)
    assert {"catalogue.hilum", "lots.csv", "lots.xlsx", "passport data.txt", "all lots.pdf", "settings.json",
            "READ ME FIRST.html", "library designs"} <= set(names)  # fmt: skip
    assert "library safety copies" not in names
    assert steps[-1] == (6, 6)
    assert done.warnings == ()
    keeping.restore(tmp_path / "pack" / "catalogue.hilum", tmp_path / "next.hilum", clock=clock)
    with keeping.open_at(tmp_path / "next.hilum", clock=clock) as following:
        assert keeping.check(following).ok
        assert lots.find_lots(following, lots.LotFilter(), on=TODAY).total == 5
        story = lots.lot_story(following, "LEK-25-001-S")
        assert story.notes == "blue flag <b>&"
        assert len(story.past) == 2
    with (tmp_path / "pack" / "lots.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["Lot"] for row in rows if row["Crop"] == "Leek"] == ["LEK-25-001-S"]
    assert {row["Grower"] for row in rows} == {""}


def test_no_name_leaves_the_house_unless_asked(library, tmp_path):
    """Not one byte of the pack holds a person's name, nor does find in its copy; with names, the copy has them."""
    hand_over(library, tmp_path / "without", on=TODAY)
    found = everything(tmp_path / "without")
    assert [name for name in NAMES if name.encode() in found or name.casefold().encode() in found] == []
    with keeping.open_at(tmp_path / "without" / "catalogue.hilum", clock=clock) as opened:
        assert lots.find_lots(opened, lots.LotFilter(words="oduya"), on=TODAY).total == 0
        assert keeping.check(opened).ok
    assert lots.find_lots(library, lots.LotFilter(words="oduya"), on=TODAY).total > 0, (
        "the catalogue itself stays"
    )
    done = hand_over(library, tmp_path / "with.zip", on=TODAY, with_people=True)
    with zipfile.ZipFile(done.place) as archive:
        table = archive.read("with/lots.csv").decode("utf-8-sig")
        page = archive.read("with/READ ME FIRST.html").decode()
    assert "Oduya" in table
    assert "keep it where nobody else reads it" in page


def test_the_page_says_what_is_due_scarce_and_to_be_handled_with_care(library, tmp_path):
    """Words from the catalogue are text on the page, never markup."""
    lots.change_lot(library, "LEK-25-001-S", {"treatment": "<i>thiram</i>"})
    lots.draw(library, "LEK-25-001-S", "sown", on=TODAY, mass_mg=38_490)
    hand_over(library, tmp_path / "pack", on=TODAY)
    page = (tmp_path / "pack" / "READ ME FIRST.html").read_text(encoding="utf-8")
    for words in (
        "Due for a germination test in the next twelve months",
        "never tested; first test season",
        "Scarce: little seed above the reserve",
        "Handle with care",
        "hilum restore catalogue.hilum",
        "treated seed (&lt;i&gt;thiram&lt;/i&gt;)",
        "check with your local authority",
        "Chapel White",
    ):
        assert words in page, words
    assert "<i>thiram" not in page


def test_a_pack_is_whole_or_not_there(library, tmp_path):
    """A taken name, a missing folder, a stop in the middle: one clear message, and nothing is left behind."""
    before = sorted(tmp_path.iterdir())
    for place, words in (
        (tmp_path / "library.hilum", "already there"),
        (tmp_path / "no" / "pack", "no folder"),
    ):
        with pytest.raises(BadInput, match=words):
            hand_over(library, place, on=TODAY)
    with pytest.raises(KeeperError, match=r"Stopped\. No pack was written"):
        hand_over(library, tmp_path / "pack", on=TODAY, stop=lambda: True)
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.postgresql
def test_on_a_server_the_pack_has_no_copy_and_says_so(postgresql_url, tmp_path):
    """Tables and lists are there; the page says whom to ask."""
    with keeping.make(postgresql_url, clock=clock) as served:
        take_in(served, LEEK)
        done = hand_over(served, tmp_path / "pack", on=date(2026, 11, 25))
    assert "server" in done.warnings[0]
    assert not (tmp_path / "pack" / "catalogue.hilum").exists()
    assert (tmp_path / "pack" / "lots.csv").exists()


def test_passport_data_keeps_to_the_standard(library, tmp_path):
    """Tab-separated, exact names first, partial dates with hyphens, no code made up."""
    take_in(library, "Leek | Ferry Pole | 2024 | 3 g | Upper Mill; north | | 2024")
    hand_over(library, tmp_path / "pack", on=TODAY)
    lines = (tmp_path / "pack" / "passport data.txt").read_bytes().decode("utf-8").split("\r\n")
    head = lines[0].split("\t")
    rows = {line.split("\t")[1]: dict(zip(head, line.split("\t"), strict=True)) for line in lines[1:] if line}
    leek, ferry = rows["LEK-25-001-S"], next(row for row in rows.values() if row["ACCENAME"] == "Ferry Pole")
    assert (leek["GENUS"], leek["SPECIES"], leek["ACQDATE"], leek["INSTCODE"]) == (
        "Allium", "ampeloprasum", "20251004", "",
    )  # fmt: skip
    assert ferry["ACQDATE"] == "2024----"
    assert ferry["REMARKS"].split(";")[-1] == "COLLSITE:grown at Upper Mill, north"
