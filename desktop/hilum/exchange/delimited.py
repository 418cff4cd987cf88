"""CSV: from bytes to rows, whatever computer wrote them."""

import csv
import io
import re
from collections.abc import Callable

from hilum.exchange.rows import MAX_COLUMNS, MAX_ROWS, HowRead, TableRow, UnreadableTable
from hilum.exchange.words import clean_text

# First the one most often meant: where two fit equally well, the earlier wins.
SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "upright stroke"}
_BYTE_ORDER_MARKS = (
    (b"\xef\xbb\xbf", "utf-8", "UTF-8"),
    (b"\xff\xfe\x00\x00", "utf-32-le", "UTF-32"),
    (b"\x00\x00\xfe\xff", "utf-32-be", "UTF-32"),
    (b"\xff\xfe", "utf-16-le", "UTF-16"),
    (b"\xfe\xff", "utf-16-be", "UTF-16"),
)
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?\r?\n', re.IGNORECASE)
# What a spreadsheet runs: a formula sign first, also behind white space or in full width. Writers put an
# apostrophe before such a text (and before one that already starts with such an apostrophe, so that
# taking one away on reading always gives the text back).
GUARDED = re.compile(r"'*(?:\s*[=+\-@＝＋－＠]|[\t\r\n])")
_SAMPLE_CHARACTERS = 200_000
_SAMPLE_ROWS = 200
MAX_CELL_CHARACTERS = 131_072  # the csv reader's own limit


def read_delimited(
    data: bytes,
    name: str,
    encoding: str | None = None,
    most_rows: int | None = None,
    fit: Callable[[str, str], float] | None = None,
) -> tuple[list[TableRow], HowRead]:
    """Read the bytes of a CSV file; `encoding` overrules what the bytes seem to be.

    `fit` says how well a text read with a separator looks like what is wanted, where the widths of rows cannot tell.
    """
    text, encoding_words, proof = _decoded(data, name, encoding)
    if "\x00" in text:
        raise UnreadableTable(
            f"{name} is not a table: it holds NUL characters, as programs and pictures do. "
            "Save the list as CSV or XLSX and take that in."
        )
    if not text.strip(' \r\n"' + "".join(SEPARATORS)):
        raise UnreadableTable(f"{name} is empty. Choose the file with the list in it.")
    controls = sum(text.count(chr(code)) for code in (*range(1, 9), *range(14, 32), 127))
    if controls > 5 and controls * 50 > len(text):
        raise UnreadableTable(
            f"{name} is not a table: {controls} of its {len(text)} characters are invisible controls. "
            "Save the list as CSV or XLSX and take that in."
        )
    if fit is None:
        text, separator = _separator(text)
    else:
        separator = max(SEPARATORS, key=lambda candidate: fit(text[:_SAMPLE_CHARACTERS], candidate))
    how = HowRead("CSV", encoding_words, proof, SEPARATORS.get(separator, _unusual(separator)))
    return _rows(text, separator, name, most_rows or MAX_ROWS), how


def _unusual(separator: str) -> str | None:
    """Give a word for an unusual separator, or None for a table of one column."""
    return repr(separator) if separator else None


def _decoded(data: bytes, name: str, encoding: str | None) -> tuple[str, str, str]:
    if encoding is not None:
        return _strictly(data, encoding, name, encoding), encoding, "chosen by the keeper"
    for mark, codec, words in _BYTE_ORDER_MARKS:
        if data.startswith(mark):
            return _strictly(data[len(mark) :], codec, name, words), words, "the file begins with its mark"
    wide = _wide_codec(data)
    if wide:
        return _strictly(data, wide, name, "UTF-16"), "UTF-16", "every other byte is empty"
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        return _western(data, name, error), "Windows-1252", "it is not valid UTF-8, and Windows-1252 fits"
    return text, "UTF-8", "plain letters only" if text.isascii() else "every accented letter is valid UTF-8"


def _strictly(data: bytes, codec: str, name: str, words: str) -> str:
    try:
        return data.decode(codec)
    except LookupError as error:
        raise UnreadableTable(f"There is no character encoding called {words}. Try UTF-8.") from error
    except UnicodeDecodeError as error:
        raise UnreadableTable(
            f"{name} is damaged: it is marked as {words}, but byte {error.start + 1} does not fit. "
            "Save it again as CSV (UTF-8)."
        ) from error


def _wide_codec(data: bytes) -> str | None:
    """UTF-16 without its mark: Western text then has a zero in every other byte."""
    head = data[:4000]
    pairs = len(head) // 2
    if pairs < 4:
        return None
    if head[1::2].count(0) > 0.4 * pairs and head[0::2].count(0) == 0:
        return "utf-16-le"
    if head[0::2].count(0) > 0.4 * pairs and head[1::2].count(0) == 0:
        return "utf-16-be"
    return None


def _western(data: bytes, name: str, utf8_error: UnicodeDecodeError) -> str:
    line = data.count(b"\n", 0, utf8_error.start) + 1
    as_utf8 = data.decode("utf-8", errors="replace")
    damaged = as_utf8.count("\ufffd")
    # In Windows-1252 an accented letter stands before a plain one, which UTF-8 never allows; where most
    # accented letters are valid UTF-8, the file was UTF-8 and is damaged or mixed.
    if sum(char > "\x7f" for char in as_utf8) - damaged > damaged:
        raise UnreadableTable(
            f"{name} is mostly UTF-8, but line {line} has a byte that is not. Open it in the program that "
            "wrote it and save it again as CSV (UTF-8)."
        )
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError as error:
        raise UnreadableTable(
            f"{name} cannot be read: it is neither UTF-8, UTF-16 nor Windows-1252 (byte {error.start + 1}). "
            "Save the list as CSV (UTF-8) or XLSX and take that in."
        ) from error


def _separator(text: str) -> tuple[str, str]:
    """Find the separator; the line by which a spreadsheet is told it is no row and is taken off."""
    told = _SEPARATOR_LINE.match(text)
    if told:
        return text[told.end() :], told.group(1)
    best, best_score = "", (0.0, 1)
    for candidate in SEPARATORS:
        score = _fit(text, candidate)
        if score > best_score:
            best, best_score = candidate, score
    return text, best


def _fit(text: str, separator: str) -> tuple[float, int]:
    """How many rows have as many cells as the header, in tenths, and how many that is."""
    sample = io.StringIO(text[:_SAMPLE_CHARACTERS], newline="")
    widths: list[int] = []
    header_seen = False
    try:
        for record in csv.reader(sample, delimiter=separator, strict=True):
            header_seen = header_seen or sum(1 for cell in record if cell.strip()) > 1
            if header_seen and record:
                widths.append(len(record))
            if len(widths) >= _SAMPLE_ROWS:
                break
    except csv.Error:
        pass  # a wrong separator fails at once; for the right one the rows before the fault still speak
    if not widths or widths[0] < 2:
        return (0.0, 0)
    return (max(0.1, round(widths.count(widths[0]) / len(widths), 1)), widths[0])


def _rows(text: str, separator: str, name: str, most_rows: int) -> list[TableRow]:
    # A list of one column has no separator; the control character for it stands in no list.
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator or "\x1f", strict=True)
    rows: list[TableRow] = []
    try:
        for number, record in enumerate(reader, start=1):
            if number > most_rows:
                raise UnreadableTable(
                    f"{name} has more than {most_rows:,} rows. Split it and take the parts in one by one."
                )
            if len(record) > MAX_COLUMNS:
                raise UnreadableTable(
                    f"{name}, row {number}: {len(record)} cells; a list may have {MAX_COLUMNS}. "
                    "Is this the right file?"
                )
            rows.append(TableRow(number, tuple([_cell(cell) for cell in record])))
    except csv.Error as error:
        raise UnreadableTable(
            f'{name}, row {len(rows) + 1}: a quotation mark (") opens or closes in the wrong place, or a '
            f"cell is longer than {MAX_CELL_CHARACTERS:,} characters. Nothing was read. Mend it, or save "
            "the list as XLSX and take that in."
        ) from error
    return rows


def _cell(raw: str) -> str:
    if raw.startswith("'") and GUARDED.match(raw, 1):
        raw = raw[1:]
    return clean_text(raw)
