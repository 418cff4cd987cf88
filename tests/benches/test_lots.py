"""The catalogue bench: find, change, take back, draw, correct."""

from datetime import date

import pytest

from hilum.benches import day_sheet, keeping, lots, preparing, reference
from hilum.benches.lots import EditedMeanwhile, LotFilter
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, RADISH, SQUASH, TODAY, clock, take_in


def found(catalogue, words: str) -> list[str]:
    """Give the varieties a search finds."""
    return [shown.line.variety for shown in lots.find_lots(catalogue, LotFilter(words=words), on=TODAY).lots]


def test_find_takes_words_in_any_order_and_by_their_beginnings(catalogue):
    """Variety, crop in other languages, grower, place and botanical name all count."""
    take_in(catalogue, LEEK, ONION)
    assert found(catalogue, "grey fen") == ["Fenlock Grey"]
    assert found(catalogue, "lauch marit") == ["Fenlock Grey"]
    assert found(catalogue, "allium") == ["Sexton's Keeper", "Fenlock Grey"], "newest first"
    assert found(catalogue, "sextons") == ["Sexton's Keeper"]
    assert found(catalogue, "nobody") == []


def test_a_search_with_nothing_found_offers_near_names(catalogue):
    """A slip of the keyboard is not the end."""
    take_in(catalogue, LEEK)
    page = lots.find_lots(catalogue, LotFilter(words="fenlok"), on=TODAY)
    assert page.lots == ()
    assert any("Fenlock" in words for words in page.did_you_mean)


def test_a_synonym_finds_the_variety(catalogue):
    """Lots are found by every name the variety goes by."""
    take_in(catalogue, LEEK)
    [variety] = reference.varieties(catalogue)
    reference.add_synonym(catalogue, variety.id, "Grauer Winter")
    assert found(catalogue, "grauer") == ["Fenlock Grey"]
    with pytest.raises(BadInput, match="already a name of"):
        reference.add_synonym(catalogue, variety.id, "fenlock grey")


def test_a_change_is_kept_with_its_before_and_can_be_taken_back_later(catalogue, tmp_path):
    """Another session undoes what the first one wrote."""
    [number] = take_in(catalogue, LEEK)
    lots.change_lot(catalogue, number, {"notes": "blue flag", "grower": "Oduya"})
    with keeping.open_at(tmp_path / "library.hilum", clock=clock) as later:
        newest = lots.recent_jobs(later, limit=1)[0]
        lots.take_back(later, newest.edits[0].job)
        story = lots.lot_story(later, number)
    assert (story.notes, story.lot.line.grower) == ("", "Marit")


def test_two_desks_do_not_overwrite_each_other(catalogue):
    """The second desk is told, and its change is not written."""
    [number] = take_in(catalogue, LEEK)
    seen = lots.lot_story(catalogue, number).written
    lots.change_lot(catalogue, number, {"notes": "first"}, seen=seen)
    with pytest.raises(EditedMeanwhile, match="changed at another desk"):
        lots.change_lot(catalogue, number, {"notes": "second"}, seen=seen)
    assert lots.lot_story(catalogue, number).notes == "first"


def test_drawing_more_than_there_is_is_refused(catalogue):
    """The refusal says what there is; the ledger is as before."""
    [number] = take_in(catalogue, LEEK)
    with pytest.raises(KeeperError, match=r"holds 38.5 g; 40 g cannot be taken"):
        lots.draw(catalogue, number, "sown", on=TODAY, mass_mg=40_000)
    assert len(lots.lot_story(catalogue, number).movements) == 1


def test_drawing_seeds_from_a_weighed_lot_needs_a_seed_weight(catalogue):
    """A crop without a published seed weight: count a sample, or say grams."""
    reference.add_crop(catalogue, "Unicorn root")
    with catalogue.job("a lot by hand") as job:
        from hilum.catalogue.lots import NewLot, NumberGiver, add_lot
        from hilum.catalogue.names import variety_id
        from hilum.catalogue.records import crop

        own = job.run(crop.select().where(crop.c.name == "Unicorn root")).one().id
        variety = variety_id(job, own, "Moonbeam")
        _, number = add_lot(job, NewLot(own, variety, 2025, "mg", 5_000, date(2025, 10, 1)), NumberGiver(job))
    with pytest.raises(BadInput, match="no thousand-seed weight"):
        lots.draw(catalogue, number, "sown", on=TODAY, seeds=10)


def test_a_slip_in_the_ledger_is_corrected_by_its_opposite(catalogue):
    """Nothing is rubbed out: the correction points at the line it corrects, and only once."""
    [number] = take_in(catalogue, LEEK)
    lots.draw(catalogue, number, "discarded", on=TODAY, mass_mg=8_500, why="mouldy")
    line = lots.lot_story(catalogue, number).movements[-1]
    shown = lots.correct_movement(catalogue, line.id, on=TODAY, why="it was another jar")
    assert shown.line.stock == 38_500
    assert [move.kind for move in lots.lot_story(catalogue, number).movements] == [
        "received",
        "discarded",
        "corrected",
    ]
    with pytest.raises(KeeperError, match="already been corrected"):
        lots.correct_movement(catalogue, line.id, on=TODAY, why="again")


def test_the_day_sheet_gathers_what_waits(catalogue):
    """Due, to be weighed, in hand, held and barred lots stand under their own headings."""
    leek, onion, radish, squash, foxglove = take_in(catalogue, LEEK, ONION, RADISH, SQUASH, FOXGLOVE)
    lots.hold_lot(catalogue, onion, "disease", on=TODAY)
    preparing.clean(catalogue, leek, on=TODAY, mass_mg=35_000)
    sheet = day_sheet.day_sheet(catalogue, on=TODAY)
    assert {shown.number for shown in sheet.due} >= {leek, radish, foxglove}
    assert [shown.number for shown in sheet.to_be_weighed] == [radish]
    assert [shown.number for shown in sheet.held] == [onion]
    assert [(shown.number, shown.line.due_bar) for shown in sheet.barred] == [(squash, "too few seeds")]
    assert next(waiting.next_step for waiting in sheet.in_hand if waiting.lot.number == leek) == "dried"


def test_a_rule_of_the_library_moves_due_dates_at_once(catalogue):
    """The test season opens on 1 December unless the library says otherwise."""
    [number] = take_in(catalogue, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20")
    assert lots.lot_view(catalogue, number).line.due_on == date(2026, 12, 1)
    keeping.change_settings(catalogue, {"season_month": 1, "season_day": 15})
    assert lots.lot_view(catalogue, number).line.due_on == date(2027, 1, 15)


def test_the_library_sets_its_own_standard(catalogue):
    """A crop's own figure stands before the published one and says so."""
    page = reference.crop_page(catalogue, "leek")
    assert (page.standard_percent, "7 CFR 201.31" in page.standard_words) == (60, True)
    page = reference.set_for_crop(catalogue, "leek", {"standard_percent": 75})
    assert (page.standard_percent, "set by the library" in page.standard_words) == (75, True)
    page = reference.set_for_crop(catalogue, "leek", {"standard_percent": None})
    assert page.standard_percent == 60
