"""The print book: every job that went to a printer or into a file, and any label of it printed again."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from hashlib import sha256
from typing import Any

from hilum.benches.label_orders import (
    NO_BACK,
    LabelJob,
    OrderedSheets,
    PrintOrder,
    back_of,
    design_of,
    make_order,
    with_warnings,
)
from hilum.benches.label_stocks import stock_named
from hilum.benches.printing import lot_fields, newest_result
from hilum.benches.views import view
from hilum.catalogue import germination_tests, listing, print_book, steps
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.people import person_names
from hilum.catalogue.print_book import BookedLabel, PrintedJob
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.labels.designs import design
from hilum.labels.job import LabelWarning

__all__ = [
    "PrintBookLine",
    "PrintedJob",
    "PrintedLabel",
    "book",
    "book_in",
    "print_again",
    "printed_job",
    "printed_jobs",
    "printed_labels",
    "reprint_job",
]

# What a label says of the day or the dish, not of the lot: it does not grow old.
_OF_THE_DAY = ("packed", "seeds", "dish", "test_started", "count_days", "substrate", "temperature", "address")
_CHOICES = {field.name for field in fields(LabelJob)}


@dataclass(frozen=True, slots=True)
class PrintBookLine:
    """One job of the print book as a list shows it."""

    job: PrintedJob
    who: str
    design: str
    stock: str

    @property
    def id(self) -> int:
        """The number of the job."""
        return self.job.id


@dataclass(frozen=True, slots=True)
class PrintedLabel:
    """One label of a job: its place in it (from 1), what it said, and what its lot says otherwise by now."""

    place: int
    key: str
    crop: str
    variety: str
    year: str
    copies: int
    changed: tuple[str, ...]

    @property
    def id(self) -> int:
        """Its place, by which lists know it."""
        return self.place


def book(
    catalogue: Catalogue, sheets: OrderedSheets, *, on: date, went_to: str, again: int | None = None
) -> int:
    """Write a job into the print book; gives its number."""
    with catalogue.job(f"print {sheets.order.title}") as job:
        return book_in(job, sheets, on=on, went_to=went_to, again=again)


def book_in(job: Job, sheets: OrderedSheets, *, on: date, went_to: str, again: int | None = None) -> int:
    """Write a job into the print book within a larger step."""
    order = sheets.order
    values = {
        "on_date": on,
        "title": order.title,
        "design": order.job.design,
        # Its whole name: a short one may mean another stock when there are more of them.
        "label_stock": stock_named(job.settings, order.job.label_stock).name,
        "choices": order.job.choices,
        "labels": sheets.labels,
        "pages": sheets.pages,
        "sha256": sha256(sheets.pdf).hexdigest(),
        "went_to": went_to,
        "again_id": again,
    }
    return print_book.add_print(job, values, order.labels)


def printed_jobs(catalogue: Catalogue, *, lot: str = "", limit: int = 200) -> tuple[PrintBookLine, ...]:
    """Give the newest print jobs, newest first; with a lot number only those that printed a label of it."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, lot) if lot.strip() else None
        names, settings = person_names(connection), read_settings(connection)
        jobs = print_book.print_jobs(connection, lot_id=lot_id, limit=limit)
    designs = {each.design: _design_title(each.design) for each in jobs}
    stocks = {each.label_stock: _stock_title(settings, each.label_stock) for each in jobs}
    return tuple(
        PrintBookLine(
            each, names.get(each.person_id or 0, ""), designs[each.design], stocks[each.label_stock]
        )
        for each in jobs
    )


def _stock_title(settings: Settings, name: str) -> str:
    try:
        return stock_named(settings, name).title
    except BadInput:
        # One that the library had measured and forgot since.
        return name


def _design_title(name: str) -> str:
    try:
        return design(name).title
    except BadInput:
        # A design of the keeper's own that is gone; its file's name is all that is left.
        return name


def printed_job(catalogue: Catalogue, number: int) -> PrintedJob:
    """Give one job of the print book."""
    with catalogue.look() as connection:
        return print_book.one_print(connection, number)


def printed_labels(catalogue: Catalogue, number: int) -> tuple[PrintedLabel, ...]:
    """Give the labels of a job, each with what its lot says otherwise by now."""
    with catalogue.look() as connection:
        job, settings = print_book.one_print(connection, number), read_settings(connection)
        labels = print_book.booked_labels(connection, number)
        treated = steps.treated_lots(connection)
        now = {
            lot_id: _said_now(connection, lot_id, settings, treated, job.on)
            for lot_id in dict.fromkeys(each.lot_id for each in labels if each.lot_id is not None)
        }
    return tuple(
        PrintedLabel(
            place, each.key, each.fields.get("crop", ""), each.fields.get("variety", ""), each.fields.get("year", ""),
            each.copies, changed_words(each, now.get(each.lot_id or 0)),
        )
        for place, each in enumerate(labels, start=1)
    )  # fmt: skip


def _said_now(
    connection: Any, lot_id: int, settings: Settings, treated: Mapping[int, str], on: date
) -> dict[str, str]:
    shown = view(listing.one_lot(connection, lot_id), settings)
    result = newest_result(germination_tests.germination_tests_of(connection, lot_id))
    return lot_fields(shown, result, settings, on=on, treatment=treated.get(lot_id))


def changed_words(printed: BookedLabel, now: Mapping[str, str] | None) -> tuple[str, ...]:
    """Say what a lot says otherwise by now than a label printed of it did."""
    if now is None:
        return ()
    # A dish tag shows neither result nor caution of its lot.
    apart = ("germination", "caution", "treatment", "below_standard") if printed.fields.get("dish") else ()
    return tuple(
        f"{name.replace('_', ' ')}: “{printed.fields.get(name, '')}”, now “{text}”"
        for name, text in now.items()
        if name not in (*_OF_THE_DAY, *apart) and printed.fields.get(name, "") != text
    )


def reprint_job(printed: PrintedJob) -> LabelJob:
    """Give the job as it was printed, for whoever prints it again."""
    choices = {name: value for name, value in printed.choices.items() if name in _CHOICES}
    choices["skip"] = tuple(choices.get("skip", ()))
    return LabelJob(printed.design, printed.label_stock, **choices)


def print_again(
    catalogue: Catalogue,
    number: int,
    places: Sequence[int] = (),
    job: LabelJob | None = None,
    *,
    copies: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> OrderedSheets:
    """Make pages of a job again with the words it was printed with: all its labels, or those at some places.

    All of it, in the job's own way, gives the same bytes as then; a warning says when it does not, and each label
    whose lot says something else by now is pointed out. `copies` is how many of each, if not as then.
    """
    with catalogue.look() as connection:
        printed, settings = print_book.one_print(connection, number), read_settings(connection)
        labels = print_book.booked_labels(connection, number)
    beyond = [each for each in places if not 1 <= each <= len(labels)]
    if beyond:
        raise BadInput(f"Print job {number} has labels 1 to {len(labels)}; there is no {beyond[0]}.")
    chosen = [labels[place - 1] for place in places] if places else list(labels)
    wanted = job or (replace(reprint_job(printed), start=1, skip=()) if places else reprint_job(printed))
    if copies is not None:
        chosen = [replace(each, copies=copies) for each in chosen]
    if places:
        # A separator says how a whole group stands; single labels do without.
        chosen = [replace(each, behind="") for each in chosen]
    title = printed.title if not places else f"{design_of(wanted).title}, printed again"
    sheets = make_order(PrintOrder(tuple(chosen), wanted, title), settings, progress=progress, stop=stop)
    return with_warnings(sheets, _since(catalogue, number, printed, places, wanted, copies, sheets))


def _since(
    catalogue: Catalogue,
    number: int,
    printed: PrintedJob,
    places: Sequence[int],
    wanted: LabelJob,
    copies: int | None,
    sheets: OrderedSheets,
) -> list[LabelWarning]:
    """Say what is otherwise now than when the job was printed."""
    said = [
        LabelWarning(
            each.key, "since then", f"printed as then; the lot says otherwise now: {'; '.join(each.changed)}"
        )
        for each in printed_labels(catalogue, number)
        if each.changed and (not places or each.place in places)
    ]
    is_whole = not places and copies is None and _way(wanted) == _way(reprint_job(printed))
    if is_whole and sha256(sheets.pdf).hexdigest() != printed.sha256:
        why = (
            "these pages are not those of then: the design, label stock, program or a name has changed since"
        )
        said.insert(0, LabelWarning(f"job {number}", "pages", why))
    return said


def _way(job: LabelJob) -> LabelJob:
    """Give what of a job tells on its pages, the usual other side by its name."""
    return replace(job, copies=1, sort_by="", group_by="", back=back_of(job) or NO_BACK)
