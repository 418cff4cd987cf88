"""Papers: sheets of plain paper to work from, a row a lot or dish, its code beside columns to write in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

from hilum.labels.art import Art, Note, line, outline
from hilum.labels.designs import LabelDesign, read_design
from hilum.labels.errors import LabelError
from hilum.labels.geometry import Box
from hilum.labels.job import LabelSheets, Layout, Steps, finished
from hilum.labels.orders import LabelData
from hilum.labels.sheets import places
from hilum.labels.stocks import LabelStock, plain_page
from hilum.resources import resource

_MARGIN_MM, _TOP_MM, _HEADINGS_MM, _ROW_MM = 10.0, 13.0, 9.0, 16.0
# A stroke of the pencil goes into each box of a tally.
_TICK_MM, _TICK_GAP_MM = 4.0, 0.9


@dataclass(frozen=True, slots=True)
class WriteIn:
    """A column to write in: its heading, its width, and how many small boxes to tick it has, if any."""

    heading: str
    width_mm: float
    ticks: int = 0


@dataclass(frozen=True, slots=True)
class WorkPaper:
    """One kind of paper to work from."""

    name: str
    title: str
    what: str
    columns: tuple[WriteIn, ...]

    @property
    def columns_mm(self) -> float:
        """Width of all columns to write in."""
        return sum(column.width_mm for column in self.columns)


WORK_PAPERS = (
    WorkPaper(
        "count", "Count sheet", "Lot and dish",
        (
            WriteIn("1st count, normal", 17), WriteIn("between, normal", 17), WriteIn("last, normal", 17),
            WriteIn("ab- normal", 14), WriteIn("hard", 11), WriteIn("fresh", 11), WriteIn("dead", 11),
        ),
    ),
    WorkPaper(
        "picking", "Picking list", "Lot and where it lies",
        (WriteIn("to take", 24), WriteIn("left there", 24), WriteIn("done", 12, 1)),
    ),
    WorkPaper(
        "stocktake", "Stocktake sheet", "Lot, where it lies, what the book says",
        (WriteIn("found, g or seeds", 30), WriteIn("jar sound, label sound", 20, 2), WriteIn("counted by", 22)),
    ),
    WorkPaper(
        "tally", "Swap-day tally sheet", "Lot and packets put out",
        (WriteIn("packets given out: a stroke each", 76, 30), WriteIn("sum", 16), WriteIn("came back", 16)),
    ),
)  # fmt: skip


def work_paper(name: str) -> WorkPaper:
    """Find a kind of paper by its name."""
    for each in WORK_PAPERS:
        if each.name == name.strip().lower():
            return each
    raise LabelError(f"There is no paper “{name}”. There are {', '.join(each.name for each in WORK_PAPERS)}.")


@cache
def row_design() -> LabelDesign:
    """Give the design of a row; it is no design a keeper prints by."""
    return read_design(resource("designs", "inner", "row.toml"))


def rows_on(paper: WorkPaper, page: str) -> LabelStock:
    """Give the rows of a page of A4 or Letter as a stock: one column of the words beside the columns to write in."""
    plain = plain_page(page)
    top_mm = _MARGIN_MM + _TOP_MM + _HEADINGS_MM
    rows = int((plain.page_h_mm - top_mm - _MARGIN_MM - 4) / _ROW_MM)
    width_mm = plain.page_w_mm - 2 * _MARGIN_MM - paper.columns_mm
    return replace(
        plain, name=f"paper-{paper.name}-{page}", title=f"{plain.title}: {paper.title}", rows=rows, label_w_mm=width_mm,
        label_h_mm=_ROW_MM, margin_left_mm=_MARGIN_MM, margin_top_mm=top_mm, pitch_x_mm=width_mm, pitch_y_mm=_ROW_MM,
    )  # fmt: skip


def make_paper(
    rows: Sequence[LabelData],
    paper: WorkPaper | str,
    page: str = "a4",
    *,
    title: str,
    below: str,
    language: str = "en",
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Lay out, draw and proof a paper to work from: `title` heads every page, `below` stands under it."""
    kind = work_paper(paper) if isinstance(paper, str) else paper
    stock = rows_on(kind, page)
    steps = Steps(len(rows), stop, progress)
    spots = places(len(rows), stock)
    job = Layout(stock, _DPI, language, None)
    inked = job.fronts(rows, row_design(), spots, steps.counted_from(0))
    pages = spots[-1].page + 1 if spots else 0
    art = {
        number: tuple(
            _page_art(
                kind, stock, sum(spot.page == number for spot in spots), (title, below),
                f"page {number + 1} of {pages}",
            )
        )
        for number in range(pages)
    }  # fmt: skip
    sheets = finished(inked, stock, art, job, title, steps)
    return replace(sheets, pages=pages)


_DPI = 300


def _page_art(
    paper: WorkPaper, stock: LabelStock, rows: int, heads: tuple[str, str], number: str
) -> list[Art]:
    """Draw head, headings, the lines between rows and columns, and the boxes to tick."""
    right_mm = stock.page_w_mm - _MARGIN_MM
    found: list[Art] = [
        Note((_MARGIN_MM, _MARGIN_MM + 5), heads[0], 14, face="bold"),
        Note((_MARGIN_MM, _MARGIN_MM + 10), heads[1], 8),
        Note((right_mm - 22, stock.page_h_mm - _MARGIN_MM + 1), number, 8),
        Note((_MARGIN_MM, stock.margin_top_mm - 2), paper.what, 7.5, face="bold"),
    ]
    edges_mm, left_mm = [], _MARGIN_MM + stock.label_w_mm
    for column in paper.columns:
        edges_mm.append(left_mm)
        found += _heading(column, left_mm, stock.margin_top_mm)
        left_mm += column.width_mm
    end_mm = stock.margin_top_mm + rows * _ROW_MM
    for row in range(rows + 1):
        y_mm = stock.margin_top_mm + row * _ROW_MM
        found.append(line(_MARGIN_MM, y_mm, right_mm, y_mm, 0.25 if row == 0 else 0.12))
    found += [line(x_mm, stock.margin_top_mm, x_mm, end_mm) for x_mm in (*edges_mm, right_mm)]
    for row in range(rows):
        for column, x_mm in zip(paper.columns, edges_mm, strict=True):
            found += _ticks(column, x_mm, stock.margin_top_mm + row * _ROW_MM)
    return found


def _heading(column: WriteIn, left_mm: float, top_mm: float) -> list[Art]:
    """Set a heading above its column, in as many lines as it needs from below."""
    most = max(4, int(column.width_mm / 1.45))
    lines = [""]
    for word in column.heading.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}".strip()
    return [
        Note((left_mm + 1, top_mm - 2 - 2.9 * (len(lines) - 1 - place)), words, 7, face="bold")
        for place, words in enumerate(lines)
    ]


def _ticks(column: WriteIn, left_mm: float, top_mm: float) -> list[Art]:
    """Draw the boxes to tick, in groups of five, in as few rows as the column is wide enough for."""
    if not column.ticks:
        return []
    step_mm = _TICK_MM + _TICK_GAP_MM
    across = min(column.ticks, max(1, int((column.width_mm - 2) / step_mm)))
    across = across // 5 * 5 or across
    down = -(-column.ticks // across)
    first_mm = top_mm + (_ROW_MM - down * step_mm + _TICK_GAP_MM) / 2
    return [
        outline(
            Box(
                left_mm + 1 + number % across * step_mm + number % across // 5 * _TICK_GAP_MM,
                first_mm + number // across * step_mm, _TICK_MM, _TICK_MM,
            ),
            grey=0.45,
        )
        for number in range(column.ticks)
    ]  # fmt: skip
