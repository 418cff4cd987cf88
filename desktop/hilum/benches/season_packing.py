"""Packing the season's list: stock, batches and one proofed PDF for all chosen rows together, or nothing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.packing import Booked, book_packets
from hilum.benches.print_book import book_in
from hilum.benches.printing import LabelJob, OrderedSheets, make_lot_sheets
from hilum.benches.season import PlannedRow, planned_rows
from hilum.benches.views import view
from hilum.catalogue import listing, season, steps
from hilum.catalogue.opening import Catalogue, Job
from hilum.errors import BadInput, KeeperError
from hilum.labels.job import LabelsStopped

# Rows named in the words of a refusal; the rest is counted.
MOST_NAMED = 5


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that cannot be packed, and why."""

    lot: str
    why: str


class RowsRefused(BadInput):
    """Some rows cannot be packed, so none was; `rows` names all of them."""

    def __init__(self, rows: Sequence[BadRow], of: int) -> None:
        self.rows = tuple(rows)
        named = " ".join(f"{row.lot}: {row.why}" for row in self.rows[:MOST_NAMED])
        more = len(self.rows) - MOST_NAMED
        rest = f" And {more} more." if more > 0 else ""
        super().__init__(f"Nothing was packed: {len(self.rows)} of {of} lots cannot be packed. {named}{rest}")


@dataclass(frozen=True, slots=True)
class PackedRow:
    """One row that was packed."""

    lot: str
    packets: int
    seeds_per_packet: int
    fill_mg: int | None
    stock: int | None
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SeasonPacked:
    """What was packed in one step, in the order of its labels; `job` takes all of it back."""

    rows: tuple[PackedRow, ...]
    sheets: OrderedSheets
    job: str

    @property
    def packets(self) -> int:
        """All packets together."""
        return sum(row.packets for row in self.rows)


def pack_rows(
    catalogue: Catalogue,
    list_id: int,
    row_ids: Sequence[int],
    job: LabelJob,
    *,
    on: date,
    keep: Callable[[bytes], None] | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SeasonPacked:
    """Pack what is left of some rows, with labels sorted as the rows are given; all of it, or nothing.

    Raises RowsRefused naming every lot that cannot be packed. `keep` is handed the PDF while the transaction is
    still open.
    """
    what = (
        f"pack {len(row_ids)} lots of the season's list"
        if len(row_ids) != 1
        else "pack a lot of the season's list"
    )
    with catalogue.job(what) as work:
        rows = {row.id: row for row in planned_rows(work.connection, list_id, on)}
        gone = [row_id for row_id in row_ids if row_id not in rows]
        if gone or not row_ids:
            raise BadInput(
                "Nothing was packed: a chosen lot is no longer on the list."
                if gone
                else "Choose lots to pack first."
            )
        chosen = [rows[row_id] for row_id in dict.fromkeys(row_ids)]
        booked = _book_all(work, chosen, on, stop)
        labelled, seeds, packed = [], [], []
        for row, each in zip(chosen, booked, strict=True):
            after = view(listing.one_lot(work.connection, row.lot.line.id), work.settings)
            labelled += [(after, each.result)] * row.left
            seeds += [row.seeds_per_packet] * row.left
            packed.append(
                PackedRow(
                    row.number, row.left, row.seeds_per_packet, each.plan.fill_mg, after.line.stock,
                    each.plan.warnings,
                )
            )  # fmt: skip
        sheets = make_lot_sheets(
            labelled, job, work.settings, on=on, treated=steps.treated_lots(work.connection),
            seeds_per_packet=seeds, progress=progress, stop=stop,
        )  # fmt: skip
        book_in(work, sheets, on=on, went_to="packing")
        if keep is not None:
            keep(sheets.pdf)
        return SeasonPacked(tuple(packed), sheets, work.id)


def _book_all(
    work: Job, rows: Sequence[PlannedRow], on: date, stop: Callable[[], bool] | None
) -> list[Booked]:
    """Book every row; what is refused is gathered, so that the keeper hears of all bad rows at once."""
    booked, bad = [], []
    for row in rows:
        if stop is not None and stop():
            raise LabelsStopped("Stopped.")
        if not row.left:
            bad.append(BadRow(row.number, "all of its packets are packed already."))
            continue
        try:
            done = book_packets(
                work, row.lot.line.id, packets=row.left, seeds=row.seeds_per_packet, on=on,
                viable=row.by_germination,
            )  # fmt: skip
        except KeeperError as refused:
            bad.append(BadRow(row.number, str(refused).removesuffix(" Nothing was packed.")))
            continue
        season.note_batch(work, row.id, done.batch_id)
        booked.append(done)
    if bad:
        raise RowsRefused(bad, len(rows))
    return booked
