"""Loose seed at the counter: drawn once, guarded as packets are, taken back, and followed by a recall."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from hilum.benches import counter, joining, keeping, loose_out, lots, people, recall, returns
from hilum.benches.counter import Occasion, ReasonWanted
from hilum.benches.joining import BULKED, MIXED
from hilum.benches.keeping import Catalogue
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import LEEK, TODAY, clock, take_in

SWAP = Occasion("Spring swap", "swap day")


@pytest.fixture(params=["file", pytest.param("server", marks=pytest.mark.postgresql)])
def catalogue(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue in a file, then one on a server."""
    server = request.param == "server"
    where = request.getfixturevalue("postgresql_url") if server else tmp_path / "library.hilum"
    with keeping.make(where, clock=clock) as opened:
        yield opened


def test_loose_seed_goes_out_by_weight_or_counted_and_comes_back(catalogue: Catalogue) -> None:
    """It is drawn from the lot's own stock once, shown with the day's hand-outs, and put back by a correction."""
    [leek] = take_in(catalogue, LEEK)
    given = loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=2_000, occasion=SWAP, to="Ada Quill")
    assert (given.words, given.lot.line.stock) == ("2 g", 36_500)
    counted = loose_out.hand_out_loose(catalogue, leek, on=TODAY, seeds=100)
    assert 0 < (counted.lot.line.stock or 0) < 36_500
    newest, first = counter.out_today(catalogue, on=TODAY)
    assert (first.amount, first.to, first.line.event, first.is_loose) == (
        "2 g loose", "Ada Quill", "Spring swap", True,
    )  # fmt: skip
    [swap] = [row for row in counter.went_out(catalogue) if row.event == "Spring swap"]
    assert (swap.packets, swap.loose_mg, swap.loose_words) == (0, 2_000, "2 g")
    loose_out.take_back_loose(catalogue, first.line.id, on=TODAY)
    loose_out.take_back_loose(catalogue, newest.line.id, on=TODAY)
    assert lots.lot_view(catalogue, leek).line.stock == 38_500
    assert [row.taken_back for row in counter.out_today(catalogue, on=TODAY)] == [True, True]
    assert counter.went_out(catalogue) == ()
    assert keeping.check(catalogue).findings == ()


def test_loose_seed_has_the_guards_that_packets_have(catalogue: Catalogue) -> None:
    """More than there is, the reserve, a hold and an unknown identity: refused, and nothing is written."""
    [leek] = take_in(catalogue, LEEK)
    with pytest.raises(KeeperError, match="cannot be taken from it"):
        loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=40_000)
    with pytest.raises(ReasonWanted, match="its reserve is"):
        loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=38_400)
    nameless = returns.take_return(catalogue, on=TODAY, crop="Leek", weight="30 g").number
    with pytest.raises(BadInput, match="is unknown; it is not handed out"):
        loose_out.hand_out_loose(catalogue, nameless, on=TODAY, mass_mg=1_000)
    lots.hold_lot(catalogue, leek, "disease", on=TODAY)
    with pytest.raises(BadInput, match="on hold"):
        loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=1_000)
    assert counter.out_today(catalogue, on=TODAY) == ()
    assert lots.lot_view(catalogue, leek).line.stock == 38_500


def test_taking_a_loose_hand_out_back_and_that_again_keeps_who_got_it(catalogue: Catalogue) -> None:
    """From the history too, and what stands in its place still says where the seed went."""
    [leek] = take_in(catalogue, LEEK)
    given = loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=2_000, occasion=SWAP, to="Ada Quill")
    for stock, goes in ((38_500, 0), (36_500, 1), (38_500, 0), (36_500, 1)):
        lots.take_back(catalogue, lots.recent_jobs(catalogue)[0].id)
        assert lots.lot_view(catalogue, leek).line.stock == stock
        out = [row for row in recall.recall(catalogue, leek).rows if row.on]
        assert [(row.amount, row.event, row.to) for row in out] == [
            ("2 g loose", "Spring swap", "Ada Quill")
        ] * goes
    lots.correct_movement(catalogue, loose_id(catalogue), on=TODAY, why="scale was off", right_mg=3_000)
    [row] = [row for row in recall.recall(catalogue, leek).rows if row.on]
    assert (row.amount, row.to) == ("3 g loose", "Ada Quill")
    assert given.words == "2 g"


def loose_id(catalogue: Catalogue) -> int:
    """Give the movement of the one loose hand-out that stands."""
    [row] = [row for row in counter.out_today(catalogue, on=TODAY) if not row.taken_back]
    return row.line.id


def test_a_recall_reaches_loose_seed_and_what_was_bulked_or_mixed(
    catalogue: Catalogue, tmp_path: Path
) -> None:
    """Seed that was poured into another lot is followed there, to whoever got it, and to the next lot again."""
    first, second = take_in(catalogue, LEEK, LEEK.replace("2025-10-04", "2025-11-04"))
    [other] = take_in(catalogue, LEEK.replace("Fenlock Grey", "Ashmere Blue"))
    part = joining.Component
    bulked = joining.join(
        catalogue, BULKED, (part(first, mass_mg=5_000), part(second, mass_mg=5_000)), on=TODAY
    ).number
    mixed = joining.join(
        catalogue,
        MIXED,
        (part(bulked, mass_mg=2_000), part(other, mass_mg=2_000)),
        on=TODAY,
        name="Two leeks",
    ).number
    library = Occasion("Marsh Library", "other library")
    loose_out.hand_out_loose(catalogue, mixed, on=TODAY, mass_mg=1_000, occasion=library, why="asked for")
    found = recall.recall(catalogue, first)
    assert set(found.lots) == {first, bulked, mixed}
    [out] = [row for row in found.rows if row.on]
    assert (out.lot, out.where, out.amount) == (mixed, "Marsh Library", "1 g loose")
    assert out.descent == "mixed with seed of it, 2 steps on"
    here = {row.lot: row.amount for row in found.rows if not row.on}
    assert here == {first: "33.5 g loose", bulked: "8 g loose", mixed: "3 g loose"}
    file = tmp_path / "recall.csv"
    assert recall.recall_csv(found, file) == 4
    assert "1 g loose" in file.read_text(encoding="utf-8-sig")
    assert recall.recall_on_paper(found, on=TODAY).startswith(b"%PDF")


def test_what_somebody_got_loose_is_told_and_the_name_goes_when_it_is_erased(catalogue: Catalogue) -> None:
    """What is held about a person names the loose seed; the day counts for how long the name is kept."""
    [leek] = take_in(catalogue, LEEK)
    loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=2_000, to="Ada Quill")
    [ada] = [each for each in people.people_kept(catalogue, on=TODAY).people if each.name == "Ada Quill"]
    assert ada.last_on == TODAY
    assert any(what == "loose seed handed out" for what, _, _ in people.held_about(catalogue, ada.id))
    people.erase(catalogue, [ada.id], on=TODAY)
    [row] = counter.out_today(catalogue, on=TODAY)
    assert (row.amount, row.to) == ("2 g loose", "(erased)")
    assert keeping.check(catalogue).findings == ()
