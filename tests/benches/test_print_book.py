"""The print book: what was printed stays known, and is printed again to the byte."""

import io
from dataclasses import replace
from datetime import date
from hashlib import sha256

import pytest
from sqlalchemy import update

from hilum.benches import keeping, lots, packing, preparing, print_book, printing, testing
from hilum.benches.printing import LabelJob
from hilum.catalogue.records import person
from hilum.errors import BadInput
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, TODAY, clock, take_in

SHEET = LabelJob("jar", "a4-2x7-99.1x38.1", copies=2, start=3, skip=(5,))


@pytest.fixture(params=["file", "server"])
def catalogue(request, tmp_path):
    """Give an empty catalogue in a file and on a server."""
    where = (
        tmp_path / "library.hilum" if request.param == "file" else request.getfixturevalue("postgresql_url")
    )
    with keeping.make(where, clock=clock) as opened:
        yield opened


def text_of(pdf):
    """Give the words of a PDF as another library reads them."""
    from pypdf import PdfReader

    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


@pytest.fixture
def printed(catalogue):
    """Two lots printed on one sheet, and booked; gives the numbers, the pages and the job's number."""
    numbers = take_in(catalogue, LEEK, ONION)
    sheets = printing.lot_labels(catalogue, numbers, SHEET, on=TODAY)
    return numbers, sheets, print_book.book(catalogue, sheets, on=TODAY, went_to="Bench printer")


def test_a_job_is_remembered_with_everything_that_made_it(catalogue, printed):
    """Which lots, how many, on what, who, when, where to, and the hash of the pages."""
    numbers, sheets, number = printed
    [line] = print_book.printed_jobs(catalogue)
    job = line.job
    assert (job.id, job.labels, job.pages, job.on) == (number, 4, 1, TODAY)
    assert (job.design, line.design, job.label_stock, job.went_to) == (
        "jar",
        "Jar",
        SHEET.label_stock,
        "Bench printer",
    )
    assert job.sha256 == sha256(sheets.pdf).hexdigest()
    assert print_book.reprint_job(job) == replace(SHEET, copies=1)
    labels = print_book.printed_labels(catalogue, number)
    assert [(each.key, each.copies, each.changed) for each in labels] == [(each, 2, ()) for each in numbers]


def test_the_whole_job_again_gives_the_same_bytes(catalogue, printed):
    """Nothing changed: same start, same spoiled label, same bytes, nothing to look at."""
    _, sheets, number = printed
    again = print_book.print_again(catalogue, number)
    assert again.pdf == sheets.pdf
    assert not [each for each in again.warnings if each.box in ("pages", "since then")]


def test_a_label_says_what_it_said_though_the_lot_changed(catalogue, printed):
    """The variety is renamed: the reprint still says the old name, and a warning says the new one."""
    numbers, sheets, number = printed
    lots.change_lot(catalogue, numbers[0], {"variety": "Fenlock Blue", "year": 2024})
    first, second = print_book.printed_labels(catalogue, number)
    assert first.changed == ("variety: “Fenlock Grey”, now “Fenlock Blue”", "year: “2025”, now “2024”")
    assert second.changed == ()
    again = print_book.print_again(catalogue, number)
    assert again.pdf == sheets.pdf
    assert "Fenlock Grey" in text_of(again.pdf)
    assert [each.key for each in again.warnings if each.box == "since then"] == [numbers[0]]


def test_one_label_is_printed_again_alone(catalogue, printed):
    """One of the second lot, on a new place of another sheet."""
    numbers, _, number = printed
    job = LabelJob("jar", "a4-2x7-99.1x38.1", start=9)
    again = print_book.print_again(catalogue, number, [2], job, copies=1)
    assert (again.labels, again.proof.codes) == (1, 1)
    words = text_of(again.pdf)
    assert numbers[1] in words
    assert numbers[0] not in words
    with pytest.raises(BadInput, match="has labels 1 to 2; there is no 3"):
        print_book.print_again(catalogue, number, [3])
    with pytest.raises(BadInput, match=f"no job {number + 7}. Its newest job is {number}"):
        print_book.print_again(catalogue, number + 7)


def test_jobs_are_found_by_lot(catalogue, printed):
    """Only jobs that printed a label of the lot are listed, the newest first."""
    numbers, _, number = printed
    only = printing.lot_labels(catalogue, numbers[1:], replace(SHEET, copies=1), on=TODAY)
    later = print_book.book(catalogue, only, on=TODAY, went_to="labels.pdf")
    assert [each.id for each in print_book.printed_jobs(catalogue)] == [later, number]
    assert [each.id for each in print_book.printed_jobs(catalogue, lot=numbers[1])] == [later, number]
    assert [each.id for each in print_book.printed_jobs(catalogue, lot=numbers[0])] == [number]


def test_packing_writes_the_print_book_or_nothing(catalogue):
    """Twelve packets are one line of the book with twelve copies; a packing that fails leaves none."""
    [leek] = take_in(catalogue, LEEK)
    preparing.count(catalogue, leek, on=TODAY, seeds=100, replicates_mg=[250, 251, 249, 250])
    done = packing.pack(catalogue, leek, packets=12, seeds=40, job=LabelJob("packet", "a4-3x8"), on=TODAY)
    [line] = print_book.printed_jobs(catalogue, lot=leek)
    assert (line.job.labels, line.job.went_to) == (12, "packing")
    assert print_book.print_again(catalogue, line.id).pdf == done.sheets.pdf

    def full_disk(_pdf):
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        packing.pack(
            catalogue, leek, packets=2, seeds=40, job=LabelJob("packet", "a4-3x8"), on=TODAY, keep=full_disk
        )
    assert len(print_book.printed_jobs(catalogue)) == 1


def test_a_grower_who_was_erased_is_erased_here_too(catalogue, printed):
    """The name stands on the label but not in the book: only the id of the person does."""
    _, sheets, number = printed
    assert "Marit" in text_of(sheets.pdf)
    with catalogue.job("erase") as job:
        job.run(update(person).where(person.c.name == "Marit").values(name=None, folded=""))
    again = print_book.print_again(catalogue, number)
    assert "Marit" not in text_of(again.pdf)
    assert any(each.box == "pages" and "not those of then" in each.why for each in again.warnings)


def test_groups_and_their_separators_come_again(catalogue):
    """Sorted by variety, grouped by crop, in whole sets: the pages of the reprint are the same."""
    numbers = take_in(catalogue, ONION, LEEK)
    job = LabelJob("packet", "a4-3x8", copies=2, sort_by="variety", group_by="crop", whole_sets=True)
    sheets = printing.lot_labels(catalogue, numbers, job, on=TODAY)
    assert (sheets.labels, sheets.proof.codes) == (4, 4)
    words = text_of(sheets.pdf)
    assert words.index("Leek") < words.index("Onion")
    assert words.count("2 labels") == 2
    number = print_book.book(catalogue, sheets, on=TODAY, went_to="labels.pdf")
    assert print_book.print_again(catalogue, number).pdf == sheets.pdf


def test_dish_tags_are_booked_too(catalogue):
    """A tag belongs to its lot and does not grow old with the lot's results."""
    [leek] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, leek, on=TODAY, dishes=[25, 25])
    sheets = printing.dish_labels(catalogue, [test.id], LabelJob("dish", "a4-5x13-38.1x21.2"))
    number = print_book.book(catalogue, sheets, on=TODAY, went_to="Bench printer")
    assert [each.key for each in print_book.printed_labels(catalogue, number)] == [
        f"{leek} dish 1",
        f"{leek} dish 2",
    ]
    assert all(not each.changed for each in print_book.printed_labels(catalogue, number))
    assert print_book.print_again(catalogue, number).pdf == sheets.pdf


def test_copies_go_by_lot(catalogue):
    """A number a lot, none for one of them."""
    leek, onion = take_in(catalogue, LEEK, ONION)
    sheets = printing.lot_labels(
        catalogue, [leek, onion], LabelJob("jar", "a4-2x7-99.1x38.1"), on=TODAY, copies_of={leek: 3, onion: 0}
    )
    assert (sheets.labels, [each.copies for each in sheets.order.labels]) == (3, [3])


def test_folding_packets_are_printed_by_their_stock(catalogue):
    """Front and back on one sheet of plain paper, and a poisonous crop keeps its caution."""
    numbers = take_in(catalogue, LEEK, FOXGLOVE)
    sheets = printing.lot_labels(
        catalogue, numbers, LabelJob("packet-small", "fold-small-a4"), on=date(2026, 11, 25)
    )
    assert (sheets.labels, sheets.pages) == (2, 1)
    assert "glue" in text_of(sheets.pdf)
    assert "poison" in text_of(sheets.pdf).casefold()
    with pytest.raises(BadInput, match="each sheet begins anew"):
        printing.lot_labels(catalogue, numbers, LabelJob("packet-small", "fold-c7-a4", start=2), on=TODAY)
