"""What volunteers really meet: treated seed, hybrids, rights notices, unknown names, grow-outs, two desks at once."""

from datetime import date

import pytest

from hilum.benches import keeping, lots, packing
from hilum.benches.lots import EditedMeanwhile
from hilum.benches.printing import LabelJob, lot_fields, lot_labels
from hilum.errors import BadInput
from tests.benches.conftest import LEEK, TODAY, clock, take_in

SHEET = LabelJob("packet", "a4-3x8")


def fields(catalogue, number: str) -> dict[str, str]:
    """Give the words of a lot's label."""
    return lot_fields(lots.lot_view(catalogue, number), None, catalogue.settings(), on=TODAY)


def test_treated_seed_is_held_and_its_label_says_so(catalogue):
    """Writing the treatment puts the hold; lifted, the label still names the substance and the caution."""
    [number] = take_in(catalogue, LEEK)
    lots.change_lot(catalogue, number, {"treatment": "thiram"})
    [hold] = lots.lot_story(catalogue, number).holds
    assert (hold.kind, hold.note, hold.lifted_on) == ("treated seed", "thiram", None)
    with pytest.raises(BadInput, match="on hold"):
        packing.pack(catalogue, number, packets=1, seeds=20, job=SHEET, on=TODAY)
    lots.lift_hold(catalogue, hold.id, on=TODAY, why="labels name it")
    assert fields(catalogue, number)["treatment"] == (
        "Treated seed: thiram. Do not use for food, feed, or oil purposes."
    )
    done = packing.pack(catalogue, number, packets=1, seeds=20, job=SHEET, on=TODAY)
    assert any("Every packet must say so" in words for words in done.warnings)


def test_a_second_edit_of_the_treatment_puts_no_second_hold(catalogue):
    """One mark is enough; and taking the edit back takes its hold away too."""
    [number] = take_in(catalogue, LEEK)
    lots.change_lot(catalogue, number, {"treatment": "thiram"})
    first = lots.recent_jobs(catalogue, limit=1)[0].id
    lots.change_lot(catalogue, number, {"treatment": "thiram and dye"})
    assert len(lots.lot_story(catalogue, number).holds) == 1
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    lots.take_back(catalogue, first)
    story = lots.lot_story(catalogue, number)
    assert (story.holds, story.written.treatment, story.lot.line.state) == ((), "", "in hand")


def test_hybrids_and_rights_are_told_where_seed_leaves(catalogue):
    """The packing plan warns, and a hybrid's name on a label says F1."""
    [number] = take_in(catalogue, LEEK)
    lots.change_lot(
        catalogue,
        number,
        {"is_f1": True, "rights_notice": "protected until 2031", "supplier_batch": "B-77/4"},
    )
    plan = packing.plan_packing(catalogue, number, seeds=20, on=TODAY)
    assert any("does not come true" in words for words in plan.warnings)
    assert any("protected until 2031" in words for words in plan.warnings)
    assert fields(catalogue, number)["variety"] == "Fenlock Grey F1"
    found = lots.find_lots(catalogue, lots.LotFilter(words="b-77/4"), on=TODAY)
    assert [lot.number for lot in found.lots] == [number]


def test_an_unknown_lot_is_never_packed_as_named(catalogue):
    """Not by packing, not by drawing seed as packed, not by a packet label; a jar label says that it is unknown."""
    [number] = take_in(catalogue, LEEK)
    lots.change_lot(catalogue, number, {"identity": "unknown"})
    unknown = "identity of lot .* is unknown"
    with pytest.raises(BadInput, match=unknown):
        packing.pack(catalogue, number, packets=1, seeds=20, job=SHEET, on=TODAY)
    with pytest.raises(BadInput, match=unknown):
        lots.draw(catalogue, number, "packed", on=TODAY, mass_mg=100)
    with pytest.raises(BadInput, match=unknown):
        lot_labels(catalogue, [number], SHEET, on=TODAY)
    assert lot_labels(catalogue, [number], LabelJob("jar", "a4-3x8"), on=TODAY).warnings is not None
    assert fields(catalogue, number)["variety"] == "unknown, came as Fenlock Grey"


@pytest.mark.parametrize(
    ("result", "identity"), [("seen true", "seen true"), ("not true", "unknown"), ("not clear", "claimed")]
)
def test_a_grow_out_settles_the_identity(catalogue, result: str, identity: str):
    """What was seen is a dated fact of the lot; one that was not true is packed no more."""
    [number] = take_in(catalogue, LEEK)
    on = date(2026, 7, 3)
    shown = lots.record_grow_out(catalogue, number, result, on=on, plants=24, off_type=2, note="two bolters")
    [line] = lots.lot_story(catalogue, number).grow_outs
    assert (line.on, line.result, line.plants, line.off_type, line.note) == (on, result, 24, 2, "two bolters")
    assert shown.line.identity == identity
    assert bool(packing.why_not(catalogue, number)) == (identity == "unknown")
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert lots.lot_story(catalogue, number).grow_outs == ()
    assert lots.lot_view(catalogue, number).line.identity == "claimed"


def test_a_grow_out_that_cannot_be_is_refused(catalogue):
    """More off types than plants, no plants, or a result of another name."""
    [number] = take_in(catalogue, LEEK)
    for result, plants, off_type in (("true", 5, 0), ("seen true", 0, None), ("seen true", 5, 6)):
        with pytest.raises(BadInput):
            lots.record_grow_out(catalogue, number, result, on=TODAY, plants=plants, off_type=off_type)
    assert lots.lot_story(catalogue, number).grow_outs == ()


def two_desks(where):
    """Let two desks edit one lot, and give what the second one is told."""
    with keeping.make(where, clock=clock) as first, keeping.open_at(where, clock=clock) as second:
        [number] = take_in(first, LEEK)
        keeping.come_to_bench(first, "Ida Fenn")
        seen = lots.lot_story(second, number).written
        lots.draw(first, number, "sown", on=TODAY, mass_mg=500)
        lots.change_lot(second, number, {"isolation": "cage"}, seen=seen)
        seen = lots.lot_story(second, number).written
        lots.change_lot(first, number, {"notes": "first desk", "year": 2024, "grower": "Oduya"})
        with pytest.raises(EditedMeanwhile) as told:
            lots.change_lot(second, number, {"notes": "second desk", "plants": 30}, seen=seen)
        assert lots.lot_story(second, number).notes == "first desk"
        lots.change_lot(second, number, {"plants": 30}, seen=told.value.now)
        story = lots.lot_story(first, number)
        assert (story.notes, story.plants, story.lot.line.year) == ("first desk", 30, 2024)
        return told.value


def test_the_second_desk_is_told_what_who_and_when(tmp_path):
    """Seed moved elsewhere is no edit; fields written elsewhere are told one by one, and nothing is overwritten."""
    told = two_desks(tmp_path / "library.hilum")
    assert [(each.field, each.seen, each.now, each.who, each.at) for each in told.differences] == [
        ("year", 2025, 2024, "Ida Fenn", clock()),
        ("grower", "Marit", "Oduya", "Ida Fenn", clock()),
        ("notes", "", "first desk", "Ida Fenn", clock()),
    ]
    assert "notes: nothing → first desk by Ida Fenn at 2026-11-25 12:00" in str(told)


@pytest.mark.postgresql
def test_two_desks_on_a_server_are_told_the_same(postgresql_url):
    """The same on PostgreSQL."""
    assert [each.field for each in two_desks(postgresql_url).differences] == ["year", "grower", "notes"]


def test_both_desks_may_write_the_same(catalogue):
    """Where the other desk wrote what this one wants to write, there is nothing to ask."""
    [number] = take_in(catalogue, LEEK)
    seen = lots.lot_story(catalogue, number).written
    lots.change_lot(catalogue, number, {"notes": "bolted"})
    lots.change_lot(catalogue, number, {"notes": "bolted", "plants": 12}, seen=seen)
    assert lots.lot_story(catalogue, number).plants == 12


def test_a_slip_is_corrected_with_the_right_figure(catalogue):
    """The figure is given without its sign; the line it replaces went out, so it goes out."""
    [number] = take_in(catalogue, LEEK)
    lots.draw(catalogue, number, "sown", on=TODAY, mass_mg=8_500)
    line = lots.lot_story(catalogue, number).movements[-1]
    shown = lots.correct_movement(catalogue, line.id, on=TODAY, why="misread the scale", right_mg=6_500)
    assert shown.line.stock == 32_000
