"""Tables: a header and rows of text cells, read from a CSV or XLSX file or typed into a grid."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from hilum.exchange.delimited import read_delimited
from hilum.exchange.rows import MAX_FILE_BYTES, HowRead, TableRow, UnreadableTable
from hilum.exchange.words import clean_text, one_line
from hilum.exchange.workbooks import read_workbook

__all__ = ["HowRead", "Table", "TableRow", "UnreadableTable", "read_rows", "read_table", "table_from_cells"]

_OTHER_KINDS = (
    (b"\xd0\xcf\x11\xe0", "an old workbook (XLS) or one locked with a password"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a packed file"),
    (b"7z\xbc\xaf", "a packed file"),
    (b"{\\rtf", "a text document"),
)


@dataclass(frozen=True, slots=True)
class Table:
    """A header and the rows below it; `above` holds what stood over the header, such as a title."""

    header: tuple[str, ...]
    rows: tuple[TableRow, ...]
    how: HowRead
    header_number: int = 1
    above: tuple[TableRow, ...] = ()


def read_table(path: Path, *, encoding: str | None = None, sheet: str | None = None) -> Table:
    """Read a CSV or XLSX file, by what it holds rather than by what its name ends in.

    `number` of a row is what a spreadsheet shows beside it. `encoding` (CSV) and `sheet` (XLSX) overrule
    what would be chosen. Raises `UnreadableTable` for whatever is not a table.
    """
    rows, how = read_rows(path, encoding=encoding, sheet=sheet)
    return _with_header(rows, how, path.name)


def read_rows(
    path: Path,
    *,
    encoding: str | None = None,
    sheet: str | None = None,
    most_rows: int | None = None,
    fit: Callable[[str, str], float] | None = None,
) -> tuple[list[TableRow], HowRead]:
    """Read the rows of a file as they stand, whichever of them is the header; `fit` as `read_delimited` has it."""
    data = _bytes_of(path)
    name = path.name
    for mark, kind in _OTHER_KINDS:
        if data.startswith(mark):
            raise UnreadableTable(f"{name} is {kind}, not a table. Save the list as XLSX or CSV (UTF-8).")
    if data.startswith(b"PK\x03\x04"):
        return read_workbook(data, name, sheet)
    if path.suffix.lower() in {".xlsx", ".xlsm"}:
        raise UnreadableTable(
            f"{name} is not a workbook, whatever its name says. Save the list again as XLSX or CSV."
        )
    return read_delimited(data, name, encoding, most_rows, fit)


def table_from_cells(header: Sequence[str], rows: Iterable[Sequence[str]], *, first_number: int = 2) -> Table:
    """Make a table of what was typed or pasted into a grid, so that it is understood as a file is."""
    typed_in = tuple(
        _padded(TableRow(number, tuple(clean_text(cell) for cell in cells)), len(header))
        for number, cells in enumerate(rows, start=first_number)
    )
    return Table(tuple(one_line(clean_text(text)) for text in header), typed_in, HowRead("typed in"))


def _padded(row: TableRow, width: int) -> TableRow:
    """Give a row that has a cell under every heading: files leave out empty ones at its end."""
    missing = width - len(row.cells)
    return replace(row, cells=row.cells + ("",) * missing) if missing > 0 else row


def _bytes_of(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise UnreadableTable(f"{path} is a folder. Choose a CSV or XLSX file in it.")
        if not path.exists():
            raise UnreadableTable(f"There is no file {path}. Check the name.")
        if not path.is_file():
            raise UnreadableTable(f"{path} is not a file. Choose a CSV or XLSX file.")
        size = path.stat().st_size
        if size > MAX_FILE_BYTES:
            raise UnreadableTable(
                f"{path.name} has {size / 1e6:,.1f} MB; at most {MAX_FILE_BYTES / 1e6:,.0f} MB are read. "
                "Split the list, or save it without pictures."
            )
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise UnreadableTable(f"{path} cannot be read: {reason}.") from error
    if not data:
        raise UnreadableTable(f"{path.name} is empty. Choose the file with the list in it.")
    return data


def _with_header(rows: list[TableRow], how: HowRead, name: str) -> Table:
    """The header is the first row with two filled cells: a title above it fills only one."""
    filled = [index for index, row in enumerate(rows) if not row.is_empty]
    if not filled:
        raise UnreadableTable(f"{name} is empty. Choose the file with the list in it.")
    at = next(
        (index for index in filled if sum(1 for cell in rows[index].cells if cell.strip()) > 1), filled[0]
    )
    header = tuple(one_line(cell) for cell in rows[at].cells)
    return Table(
        header=header,
        rows=tuple(_padded(row, len(header)) for row in rows[at + 1 :]),
        how=how,
        header_number=rows[at].number,
        above=tuple(row for row in rows[:at] if not row.is_empty),
    )
