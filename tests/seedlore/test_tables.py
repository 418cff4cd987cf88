"""The one door to the reference tables: what is wrong in one is said with its line."""

from pathlib import Path

import pytest

from hilum.resources import resource
from hilum.seedlore.tables import TableError, read_lines, rule, table

SOURCE_COLUMNS = {
    # Column that says where the values of a line come from.
    "crops": "sources",
    "crops_sources": "citation",
    "crop_names": "names_source",
}


def a_table(folder: Path, text: str) -> Path:
    path = folder / "crops.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_cell_too_many_is_refused_with_its_line(tmp_path: Path):
    """A stray comma would shift every cell behind it."""
    path = a_table(tmp_path, "crop,days\nLeek,14\nPea,8,9\n")
    with pytest.raises(TableError, match=r"crops\.csv, line 3: 3 cells stand under 2 headings"):
        read_lines(path)


@pytest.mark.parametrize("text", ["", "crop,crop\nLeek,Pea\n"])
def test_a_table_needs_headings_that_differ(tmp_path: Path, text: str):
    """Two columns of one name would hide each other."""
    with pytest.raises(TableError, match="headings are missing or stand twice"):
        read_lines(a_table(tmp_path, text))


def test_a_table_without_lines_is_refused(tmp_path: Path):
    """An empty table is damage and not "no crops"."""
    with pytest.raises(TableError, match="is empty"):
        read_lines(a_table(tmp_path, "crop,days\n"))


@pytest.mark.parametrize(
    ("cell", "read", "words"),
    [
        ("", "number", "days is empty"),
        ("soon", "number", "days is 'soon', which is no number"),
        ("nan", "number", "which is no number"),
        ("inf", "whole", "which is no number"),
        ("7.5", "whole", "which is no whole number"),
        ("", "whole", "days is empty"),
        ("", "link", "days is empty"),
        ("maybe", "is_yes", "allowed are yes, no"),
    ],
)
def test_a_wrong_cell_is_refused_with_its_line_and_column(tmp_path: Path, cell: str, read: str, words: str):
    """Nothing is taken for something else."""
    [line] = read_lines(a_table(tmp_path, f"crop,days\nLeek,{cell}\n"))
    with pytest.raises(TableError, match=words) as refused:
        getattr(line, read)("days")
    assert str(refused.value).startswith("crops.csv, line 2: ")


def test_a_missing_column_is_refused(tmp_path: Path):
    """A renamed heading is noticed at the first reading."""
    [line] = read_lines(a_table(tmp_path, "crop,days\nLeek,14\n"))
    with pytest.raises(TableError, match="the column 'kind' is missing"):
        line.text("kind")


@pytest.mark.parametrize("name", sorted(path.stem for path in resource("seedlore").glob("*.csv")))
def test_every_line_of_every_table_has_a_source(name: str):
    """A value without a source cannot be checked by anybody."""
    column = SOURCE_COLUMNS.get(name, "source")
    assert all(line.text(column) for line in table(name))


def test_an_unknown_figure_is_refused():
    """A mistyped key is not a limit of nought."""
    with pytest.raises(TableError, match="there is no figure 'freezing'"):
        rule("freezing")
