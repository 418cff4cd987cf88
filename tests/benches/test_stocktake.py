"""A stocktake: scanned, weighed and photographed lots held against the book; what is accepted is written as one."""

from datetime import date
from pathlib import Path

import pytest

from hilum.benches import lots, stocktake, store
from hilum.benches.keeping import Catalogue
from hilum.benches.stocktake import (
    BOOK,
    DIFFERS,
    ELSEWHERE,
    EMPTY,
    HERE,
    MISSING,
    NOT_FOUND,
    UNKNOWN,
    WRITE_OFF,
)
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, SQUASH, TODAY, take_in
from tests.support.photos import Shot, photograph, sheet

JAN = date(2026, 1, 10)


@pytest.fixture
def shelf(catalogue: Catalogue) -> tuple[Catalogue, list[str], dict[str, int]]:
    """Give a shelf with two boxes, and three lots: leek and onion in box 1, the foxglove in box 2, a squash nowhere."""
    numbers = take_in(catalogue, LEEK, ONION, FOXGLOVE, SQUASH)
    top = store.add_store_place(catalogue, name="Shelf", kind="shelf", temperature_c=12)
    ids = {"Shelf": top.id}
    for name in ("Box 1", "Box 2"):
        ids[name] = store.add_store_place(catalogue, name=name, kind="box", parent_id=top.id).id
    for number, name in zip(numbers[:3], ("Box 1", "Box 1", "Box 2"), strict=True):
        store.move_lot(catalogue, number, ids[name], on=JAN, container="jar")
    return catalogue, numbers, ids


def kinds(counted: stocktake.Counted) -> list[tuple[str, str]]:
    return [(each.kind, each.key.split(" ", 1)[1]) for each in counted.findings]


def test_what_is_missing_misplaced_and_lighter_is_found_and_put_right_as_one(shelf):
    """Each finding says what would be written; what is not accepted stays; one taking-back undoes all of it."""
    catalogue, [leek, onion, foxglove, squash], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Shelf"], on=TODAY)
    assert (begun.expected, kinds(begun)) == (3, [(MISSING, n) for n in sorted([leek, onion, foxglove])])
    stocktake.note_seen(catalogue, begun.id, leek, gross_mg=230_000, tare_mg=200_000)
    seen = stocktake.note_seen(catalogue, begun.id, squash, store_place_id=ids["Box 2"], seeds=40)
    assert seen.is_new
    assert squash in seen.words
    stocktake.note_seen(catalogue, begun.id, onion.lower().replace("-", " "), store_place_id=ids["Box 2"])
    now = stocktake.stocktake_now(catalogue, begun.id)
    assert kinds(now) == [(MISSING, foxglove), (ELSEWHERE, onion), (ELSEWHERE, squash), (DIFFERS, leek)]
    assert [each.words for each in now.findings][1].endswith(
        "was seen in Box 2; by the book it lies in Box 1."
    )
    ways = {each.key: each.ways[0].key for each in now.findings}
    assert list(ways.values()) == [NOT_FOUND, HERE, HERE, BOOK]
    del ways[f"{ELSEWHERE} {squash}"]
    done = stocktake.write_stocktake(catalogue, begun.id, ways, on=TODAY)
    assert (done.corrected, done.left) == (tuple(sorted([leek, onion, foxglove])), 1)
    story = lots.lot_story(catalogue, foxglove)
    assert story.stays[-1].until_on == TODAY
    assert story.holds[-1].note == f"not found at the stocktake of Shelf: not seen, {TODAY.isoformat()}"
    assert lots.lot_story(catalogue, onion).stays[-1].path == "Shelf / Box 2"
    assert lots.lot_view(catalogue, leek).line.stock == 30_000
    assert "weighed 30 g, the book says 38.5 g" in lots.lot_story(catalogue, leek).movements[-1].why
    assert lots.lot_story(catalogue, leek).stays[-1].tare_mg == 200_000
    assert stocktake.stocktakes_open(catalogue) == ()
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert lots.lot_view(catalogue, leek).line.stock == 38_500
    assert lots.lot_story(catalogue, foxglove).stays[-1].until_on is None
    assert lots.lot_story(catalogue, onion).stays[-1].path == "Shelf / Box 1"
    assert kinds(stocktake.stocktake_now(catalogue, begun.id)) == kinds(now)


def test_a_known_container_needs_no_second_weighing_and_small_differences_are_none(shelf):
    """Two per cent or 0.1 g are scales and damp air; the tare of an earlier stocktake is used again."""
    catalogue, [leek, onion, foxglove, _], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Shelf"], on=TODAY)
    with pytest.raises(BadInput, match=f"the empty container of {leek} weighs is not known"):
        stocktake.note_seen(catalogue, begun.id, leek, gross_mg=238_000)
    for number, gross, tare in ((leek, 239_200, 200_000), (onion, 54_000, 0), (foxglove, 2_190, 0)):
        stocktake.note_seen(catalogue, begun.id, number, gross_mg=gross, tare_mg=tare)
    assert stocktake.stocktake_now(catalogue, begun.id).findings == ()
    stocktake.write_stocktake(catalogue, begun.id, {}, on=TODAY)
    again = stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)
    stocktake.note_seen(catalogue, again.id, leek, gross_mg=239_300)
    assert (DIFFERS, leek) in kinds(stocktake.stocktake_now(catalogue, again.id))


def test_bad_figures_and_damaged_codes_are_told_and_not_counted(shelf):
    """Nothing is noted of a wrong scan, a count of weighed seed, or a container heavier than itself and its seed."""
    catalogue, [leek, _, _, squash], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)
    wrong = leek[:-1] + ("A" if leek[-1] != "A" else "B")
    for code, figures, words in (
        (wrong, {}, "its last character should be"),
        ("CAKE", {}, "is not a lot number"),
        (leek, {"seeds": 5}, "is booked by weight"),
        (squash, {"gross_mg": 5, "tare_mg": 0}, "is booked in counted seeds"),
        (leek, {"gross_mg": 5, "tare_mg": 6}, "cannot weigh less than the empty one"),
        (leek, {"store_place_id": ids["Box 2"]}, "does not lie in the place that is counted"),
    ):
        with pytest.raises(BadInput, match=words):
            stocktake.note_seen(catalogue, begun.id, code, **figures)
    assert stocktake.stocktake_now(catalogue, begun.id).seen == ()
    with pytest.raises(BadInput, match="being counted already"):
        stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)


def test_a_code_with_address_or_words_is_read_as_its_lot(shelf):
    """What our labels may hold beside the bare number."""
    catalogue, [leek, onion, _, _], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)
    stocktake.note_seen(catalogue, begun.id, f"HTTPS://SEEDS.EXAMPLE.ORG/L/{leek}")
    stocktake.note_seen(catalogue, begun.id, f"ONION / SEXTONS KEEPER / 2025 / {onion}")
    assert stocktake.stocktake_now(catalogue, begun.id).findings == ()


def test_a_photo_of_the_shelf_notes_all_its_lots_at_once(shelf, tmp_path: Path):
    """Strangers and damaged codes are listed as no lot here; a second picture finds the same lots again."""
    catalogue, numbers, ids = shelf
    damaged = numbers[0][:-1] + ("A" if numbers[0][-1] != "A" else "B")
    stranger = "LEK25-999-" + "Z"
    picture, _ = photograph(sheet([*numbers, damaged, stranger]), Shot(4), tmp_path / "shelf.jpg")
    begun = stocktake.begin_stocktake(catalogue, ids["Shelf"], on=TODAY)
    noted = stocktake.note_photo(catalogue, begun.id, picture)
    assert sorted(noted.new) == sorted(numbers)
    assert sorted(noted.unknown) == sorted([damaged, stranger])
    found = kinds(stocktake.stocktake_now(catalogue, begun.id))
    assert found == [(ELSEWHERE, numbers[3]), (UNKNOWN, damaged), (UNKNOWN, stranger)]
    again = stocktake.note_photo(catalogue, begun.id, picture)
    assert (again.new, sorted(again.before)) == ((), sorted(numbers))
    stocktake.forget_seen(catalogue, begun.id, damaged)
    assert (UNKNOWN, damaged) not in kinds(stocktake.stocktake_now(catalogue, begun.id))
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(b"\xff\xd8\xff\xe0 not a picture")
    with pytest.raises(BadInput, match="no picture that can be read"):
        stocktake.note_photo(catalogue, begun.id, broken)


def test_a_lost_lot_is_written_off_and_an_empty_jar_is_told(shelf):
    """Written off, the stock is nothing; the jar that turns up again is seen although the book has it used up."""
    catalogue, [leek, onion, foxglove, _], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Box 2"], on=TODAY)
    done = stocktake.write_stocktake(catalogue, begun.id, {f"{MISSING} {foxglove}": WRITE_OFF}, on=TODAY)
    assert done.corrected == (foxglove,)
    assert lots.lot_view(catalogue, foxglove).line.stock == 0
    lots.draw(catalogue, onion, "discarded", on=TODAY, mass_mg=54_000, why="mouldy")
    again = stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)
    stocktake.note_seen(catalogue, again.id, leek)
    assert stocktake.stocktake_now(catalogue, again.id).findings == ()
    stocktake.note_seen(catalogue, again.id, onion)
    assert (EMPTY, onion) in kinds(stocktake.stocktake_now(catalogue, again.id))


def test_what_is_not_found_any_more_or_not_open_is_refused(shelf):
    """A finding that went away, a way that is none, a stocktake that was ended: nothing is written."""
    catalogue, [leek, onion, _, _], ids = shelf
    begun = stocktake.begin_stocktake(catalogue, ids["Box 1"], on=TODAY)
    stocktake.note_seen(catalogue, begun.id, leek)
    with pytest.raises(BadInput, match="not found by this stocktake any more"):
        stocktake.write_stocktake(catalogue, begun.id, {f"{MISSING} {leek}": NOT_FOUND}, on=TODAY)
    with pytest.raises(BadInput, match="cannot be settled as “here”"):
        stocktake.write_stocktake(catalogue, begun.id, {f"{MISSING} {onion}": HERE}, on=TODAY)
    stocktake.drop_stocktake(catalogue, begun.id, on=TODAY)
    with pytest.raises(KeeperError, match="was dropped on 2026-11-25"):
        stocktake.note_seen(catalogue, begun.id, leek)
    assert lots.lot_story(catalogue, onion).stays[-1].until_on is None


def test_a_place_is_closed_only_when_nothing_lies_in_it(shelf):
    """Closed, it takes nothing and is offered nowhere; its boxes go with it and come back with it."""
    catalogue, [leek, onion, foxglove, _], ids = shelf
    with pytest.raises(BadInput, match=r"3 lots lie in Shelf\. Move what lies there elsewhere"):
        store.close_store_place(catalogue, ids["Shelf"], on=TODAY)
    other = store.add_store_place(catalogue, name="Cupboard", kind="room", temperature_c=14)
    store.move_lots(catalogue, [leek, onion, foxglove], other.id, on=TODAY)
    assert store.close_store_place(catalogue, ids["Shelf"], on=TODAY).closed_on == TODAY
    assert [line.path for line in store.store_places(catalogue)] == ["Cupboard"]
    assert len(store.store_places(catalogue, with_closed=True)) == 4
    with pytest.raises(BadInput, match="Shelf / Box 1 was closed on 2026-11-25"):
        store.move_lot(catalogue, leek, ids["Box 1"], on=TODAY)
    with pytest.raises(BadInput, match="was closed"):
        stocktake.begin_stocktake(catalogue, ids["Shelf"], on=TODAY)
    store.open_store_place(catalogue, ids["Box 2"])
    assert [line.path for line in store.store_places(catalogue)] == ["Cupboard", "Shelf", "Shelf / Box 2"]
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert [line.path for line in store.store_places(catalogue)] == ["Cupboard"]
