"""Tables out of files: encodings, separators, row numbers, and files that are no tables."""

import pytest

from hilum.errors import BadInput, KeeperError
from hilum.exchange import delimited, rows, tables
from hilum.exchange.tables import UnreadableTable, read_table, table_from_cells
from tests.exchange.builders import write_file

LIST = "Crop;Variety;Notes\r\nLeek;Grüner Öhm;blau\r\nPea;Año;“tall”\r\n"


@pytest.mark.parametrize(
    ("encoding", "mark", "words"),
    [
        ("utf-8", b"", "UTF-8"),
        ("utf-8", b"\xef\xbb\xbf", "UTF-8"),
        ("utf-16-le", b"\xff\xfe", "UTF-16"),
        ("utf-16-be", b"\xfe\xff", "UTF-16"),
        ("utf-16-le", b"", "UTF-16"),
        ("utf-16-be", b"", "UTF-16"),
        ("cp1252", b"", "Windows-1252"),
    ],
)
def test_every_usual_encoding_is_recognised(tmp_path, encoding, mark, words):
    """The same list comes out of each."""
    table = read_table(write_file(tmp_path / "list.csv", mark + LIST.encode(encoding)))
    assert table.header == ("Crop", "Variety", "Notes")
    assert [row.cells for row in table.rows] == [("Leek", "Grüner Öhm", "blau"), ("Pea", "Año", "“tall”")]
    assert table.how.encoding == words


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_every_usual_separator_is_recognised(tmp_path, separator):
    """By the rows having as many cells as the header, not by counting characters."""
    text = "\n".join(
        separator.join(cells)
        for cells in [
            ["Crop", "Variety", "Weight"],
            ["Leek", "Blue", '"1,5 g; dry|clean"'],
            ["Pea", "Tall", "2 g"],
        ]
    )
    table = read_table(write_file(tmp_path / "list.csv", text))
    assert [row.cells for row in table.rows] == [("Leek", "Blue", "1,5 g; dry|clean"), ("Pea", "Tall", "2 g")]
    assert table.how.separator == delimited.SEPARATORS[separator]


def test_decimal_commas_do_not_make_a_comma_the_separator(tmp_path):
    """A heading with a comma in it and decimal commas below still leave the semicolon."""
    text = "Crop;Weight, dry;Year\nLeek;1,5 g;2024\nPea;2,5 g;2024\nOat;3 g;2024\n"
    assert read_table(write_file(tmp_path / "list.csv", text)).header == ("Crop", "Weight, dry", "Year")


def test_a_row_has_the_number_a_spreadsheet_shows(tmp_path):
    """Line breaks inside a cell do not count; blank lines do."""
    text = 'Crop,Notes\r\nLeek,"two\r\nlines"\r\n\r\nPea,x\r\n'
    table = read_table(write_file(tmp_path / "list.csv", text))
    assert [(row.number, row.cells) for row in table.rows] == [
        (2, ("Leek", "two\nlines")),
        (3, ("", "")),
        (4, ("Pea", "x")),
    ]


def test_a_title_above_the_header_is_not_taken_for_it(tmp_path):
    """The header is the first row with two filled cells; numbers stay those of the file."""
    table = read_table(
        write_file(tmp_path / "list.csv", "Our seeds,,\n,,\nCrop,Variety,Year\nLeek,Blue,2024\n")
    )
    assert table.header == ("Crop", "Variety", "Year")
    assert (table.header_number, table.rows[0].number) == (3, 4)
    assert [row.number for row in table.above] == [1]


def test_the_line_that_tells_spreadsheets_the_separator_is_no_row(tmp_path):
    """Spreadsheets do not show it either."""
    table = read_table(write_file(tmp_path / "list.csv", "sep=;\r\nCrop;Year\r\nLeek;2024\r\n"))
    assert (table.header, table.rows[0].number) == (("Crop", "Year"), 2)


def test_old_line_ends_are_read(tmp_path):
    """A bare carriage return ends a line too."""
    table = read_table(write_file(tmp_path / "list.csv", "Crop,Year\rLeek,2024\rPea,2023\r"))
    assert [row.cells for row in table.rows] == [("Leek", "2024"), ("Pea", "2023")]


def test_what_cannot_be_seen_is_taken_off_and_accents_are_composed(tmp_path):
    """A name must compare equal to itself, and nothing may be dressed up by turning the text round."""
    table = read_table(
        write_file(tmp_path / "list.csv", "Crop,Variety\nLeek,Gru\u0308n\u202e\u0007 x\u200b\n")
    )
    assert table.rows[0].cells[1] == "Grün x"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "list.csv is empty"),
        (b"\xef\xbb\xbf", "list.csv is empty"),
        (b" \n\n ", "list.csv is empty"),
        (b";;;\n;;;\n", "list.csv is empty"),
        (b"Crop,Year\nLe\x00ek,2024\n", "holds NUL characters"),
        (bytes(range(1, 32)) * 20, "invisible controls"),
        (b"%PDF-1.7\nx", "is a PDF, not a table"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "an old workbook (XLS)"),
        (b"\x89PNG\r\n\x1a\n", "is a picture, not a table"),
        (b"Crop,Year\nLeek,\x81\x8d\n", "neither UTF-8, UTF-16 nor Windows-1252"),
        ("Crop,Year\nGrün,süß,Öl".encode() + b"\xff,x\n", "mostly UTF-8, but line 2"),
        (b"\xef\xbb\xbfCrop,Year\n\xff\n", "is marked as UTF-8, but byte 11"),
        (b"PK\x03\x04garbage", "the workbook cannot be unpacked"),
        (b'Crop,Year\nLeek,2024\n"Pea,2023\n', "row 3: a quotation mark"),
        (b"Crop" + b",x" * 300, "a list may have 256"),
    ],
)
def test_what_is_no_table_is_refused_in_words(tmp_path, content, words):
    """One clear error each, naming the file."""
    with pytest.raises(UnreadableTable) as error:
        read_table(write_file(tmp_path / "list.csv", content))
    assert words in str(error.value)
    assert isinstance(error.value, BadInput)


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path):
    """Each says what to do."""
    with pytest.raises(UnreadableTable, match="There is no file"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(UnreadableTable, match="is a folder"):
        read_table(tmp_path)


def test_a_file_over_the_stated_size_is_not_opened(tmp_path, monkeypatch):
    """The size is looked at first."""
    monkeypatch.setattr(tables, "MAX_FILE_BYTES", 1_000_000)
    with pytest.raises(UnreadableTable, match=r"has 1\.5 MB; at most 1 MB are read"):
        read_table(write_file(tmp_path / "list.csv", b"a,b\n" * 375_000))


def test_a_list_of_too_many_rows_is_refused(tmp_path, monkeypatch):
    """With what to do about it."""
    monkeypatch.setattr(delimited, "MAX_ROWS", 10)
    with pytest.raises(UnreadableTable, match=r"more than 10 rows\. Split it"):
        read_table(write_file(tmp_path / "list.csv", "a,b\n" * 11))
    assert rows.MAX_ROWS == 100_000


def test_the_keeper_may_say_which_encoding_it_is(tmp_path):
    """Where the guess was wrong."""
    path = write_file(tmp_path / "list.csv", "Crop,Variety\nLeek,Žlutý\n", "cp1250")
    assert read_table(path, encoding="cp1250").rows[0].cells[1] == "Žlutý"
    with pytest.raises(KeeperError, match="no character encoding called nonsense"):
        read_table(path, encoding="nonsense")


def test_what_is_typed_into_a_grid_goes_through_the_same_door():
    """Numbers begin where the caller says."""
    table = table_from_cells(["Crop ", "Year"], [["Le\u0000ek", "2024"]], first_number=1)
    assert (table.header, table.rows[0].number, table.rows[0].cells) == (
        ("Crop", "Year"),
        1,
        ("Leek", "2024"),
    )
