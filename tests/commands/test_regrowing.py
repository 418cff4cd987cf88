"""Regrowing by command: need, plan, sow, select, harvest; the new lot names its parent."""

from datetime import date
from pathlib import Path

from tests.commands.calling import document, everything_in, hilum

LEEK = "LEK-25-001-S"


def test_a_lot_goes_from_plan_to_harvest(library: Path, tmp_path: Path):
    """Each step answers with the regrowing as it stands; the day sheet says what is to be sown."""
    planned = document("regrow", "plan", LEEK, "--garden", "Long Field", "--bed", 3, "--isolation", "cage")
    assert (planned["state"], planned["year"], planned["plants"]) == ("planned", 2027, 100)
    spring = date(2027, 4, 10)
    [waiting] = document("day", today=spring)["to_sow"]
    assert (waiting["lot"], waiting["garden"], waiting["seeds"]) == (LEEK, "Long Field", planned["seeds"])
    assert "To be sown for regrowing" in hilum("day", today=spring).out
    before = document("show", LEEK)["stock_mg"]
    sown = document("regrow", "sow", LEEK, "--grams", "0.5", today=spring)
    assert sown["sown_on"] == "2027-04-10"
    assert document("show", LEEK)["stock_mg"] == before - 500
    document("regrow", "select", LEEK, "--plants", 84, today=date(2027, 7, 1))
    done = document("regrow", "harvest", LEEK, "--grams", 61, today=date(2027, 9, 20))
    assert document("show", done["new_lot"])["parents"] == [LEEK]
    assert document("regrow", "list")["regrowings"] == []
    [closed] = document("regrow", "list", "--all")["regrowings"]
    assert (closed["state"], closed["plants_kept"], closed["new_lot"]) == ("harvested", 84, done["new_lot"])


def test_the_plan_is_put_on_paper_and_crossings_are_told(library: Path, tmp_path: Path):
    """Two leeks in one garden."""
    leeks = [lot["lot"] for lot in document("lots", "--crop", "leek")["lots"]]
    leeks += [lot["lot"] for lot in document("lots", "--find", "kale")["lots"]]
    for number in leeks:
        document("regrow", "plan", number, "--garden", "Long Field")
    called = hilum("regrow", "list", "-o", tmp_path / "plan.pdf")
    assert called.code == 0
    assert (tmp_path / "plan.pdf").read_bytes().startswith(b"%PDF")
    assert len(document("regrow", "list")["regrowings"]) == len(leeks)


def test_what_cannot_be_is_refused_and_changes_nothing(library: Path):
    """A lot that is not planned, a plan that is not sown, a reason that is missing."""
    before = everything_in(library)
    called = hilum("regrow", "sow", LEEK, "--seeds", 10)
    assert (called.code, "Plan it first" in called.err) == (2, True)
    assert everything_in(library) == before
    document("regrow", "plan", LEEK)
    called = hilum("regrow", "harvest", LEEK)
    assert (called.code, "its regrowing in 2027 is planned" in " ".join(called.err.split())) == (2, True)
    assert document("regrow", "give-up", LEEK, "--why", "no room")["state"] == "given up"


def test_lots_that_need_new_seed_are_named_with_their_figures(library: Path):
    """A leek far below its standard."""
    document("germination", LEEK, "--on", "2026-11-20", "--of", 100, "--normal", "30,30,31,29")
    [leek] = [each for each in document("regrow", "need")["lots"] if each["lot"] == LEEK]
    assert leek["reasons"][0] == "below standard"
    assert "Germination is 30 %" in leek["why"][0]
