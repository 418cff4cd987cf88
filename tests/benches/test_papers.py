"""Papers to work from: every row with its code, every code read back, on A4 and on Letter."""

import io

import pypdf
import pytest

from hilum.benches import packing, papers, preparing, store, testing
from hilum.benches.printing import LabelJob
from hilum.errors import BadInput
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, TODAY, take_in
from tests.support.paper import sheets_of

SIZES = {"a4": (210, 297), "letter": (215.9, 279.4)}


def text_of(pdf):
    """Give the words of a PDF as another library reads them."""
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_a_count_sheet_has_a_row_a_dish(catalogue, page):
    """Eight dishes of two tests, each with the code of its lot and its counting days."""
    numbers = take_in(catalogue, LEEK, ONION)
    tests = [testing.start_test(catalogue, number, on=TODAY, dishes=[25] * 4).id for number in numbers]
    made = papers.count_paper(catalogue, tests, page, on=TODAY)
    assert (made.labels, made.proof.codes, made.proof.unread) == (8, 8, ())
    [sheet] = sheets_of(made.pdf, 300)
    assert (sheet.width_mm, sheet.height_mm) == pytest.approx(SIZES[page], abs=0.1)
    assert sorted(sheet.codes) == sorted(numbers * 4)
    words = text_of(made.pdf)
    for wanted in ("Count sheet", "dish 3 of 4", "count 1 Dec, 9 Dec", "fresh", "page 1 of 1"):
        assert wanted in words


@pytest.mark.parametrize("kind", ["picking", "stocktake", "tally"])
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_lists_of_lots_read_back(catalogue, kind, page):
    """Three lots, three codes, the words of the work."""
    numbers = take_in(catalogue, LEEK, ONION, FOXGLOVE)
    made = papers.lots_paper(catalogue, kind, numbers, page, on=TODAY)
    [sheet] = sheets_of(made.pdf, 300)
    assert sorted(sheet.codes) == sorted(numbers)
    words = text_of(made.pdf)
    assert papers.work_paper(kind).title in words
    assert made.warnings == ()
    if kind == "tally":
        assert "poisonous" in words
    else:
        assert "38.5 g" in words


def test_a_long_list_goes_over_pages(catalogue):
    """Forty lots need three pages of A4; every page says which it is, every code is read."""
    numbers = take_in(catalogue, *(LEEK.replace("Fenlock Grey", f"Fenlock {n}") for n in range(40)))
    made = papers.lots_paper(catalogue, "stocktake", numbers, on=TODAY)
    assert (made.pages, made.proof.read) == (3, 40)
    assert "page 3 of 3" in text_of(made.pdf)


def test_the_lists_are_sorted_for_the_way_along_the_shelves(catalogue):
    """By store place; what is not stored comes last."""
    leek, onion, foxglove = take_in(catalogue, LEEK, ONION, FOXGLOVE)
    room = store.add_store_place(catalogue, name="Cold room", kind="room")
    box_b = store.add_store_place(catalogue, name="Box B", kind="box", parent_id=room.id)
    box_a = store.add_store_place(catalogue, name="Box A", kind="box", parent_id=room.id)
    store.move_lot(catalogue, leek, box_b.id, on=TODAY)
    store.move_lot(catalogue, foxglove, box_a.id, on=TODAY)
    words = text_of(papers.lots_paper(catalogue, "picking", [leek, onion, foxglove], on=TODAY).pdf)
    assert words.index(foxglove) < words.index(leek) < words.index(onion)
    assert "Cold room / Box B" in words
    assert "not stored yet" in words
    assert set(papers.lots_at_place(catalogue, room.id)) == {leek, foxglove}
    assert papers.lots_at_place(catalogue, box_a.id) == (foxglove,)


def test_the_tally_says_how_many_packets_there_are(catalogue):
    """What was packed and is left, for the table of a swap day."""
    [leek] = take_in(catalogue, LEEK)
    preparing.count(catalogue, leek, on=TODAY, seeds=100, replicates_mg=[250, 251, 249, 250])
    packing.pack(catalogue, leek, packets=12, seeds=40, job=LabelJob("packet", "a4-3x8"), on=TODAY)
    assert "12 packets in hand" in text_of(papers.lots_paper(catalogue, "tally", [leek], on=TODAY).pdf)


def test_the_same_list_gives_the_same_bytes(catalogue):
    """And what cannot be is refused in words."""
    numbers = take_in(catalogue, LEEK, ONION)
    one, two = (papers.lots_paper(catalogue, "tally", numbers, on=TODAY).pdf for _ in range(2))
    assert one == two
    with pytest.raises(BadInput, match="No lots were chosen for the swap-day tally sheet"):
        papers.lots_paper(catalogue, "tally", [], on=TODAY)
    with pytest.raises(
        BadInput, match=r"There is no paper “menu”\. There are count, picking, stocktake, tally"
    ):
        papers.lots_paper(catalogue, "menu", numbers, on=TODAY)
    with pytest.raises(BadInput, match="made for germination tests"):
        papers.lots_paper(catalogue, "count", numbers, on=TODAY)
