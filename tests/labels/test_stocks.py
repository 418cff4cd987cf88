"""Label stocks: found by name, by a short name where only one has it, refused with names that exist."""

from pathlib import Path

import pytest

from hilum.errors import ResourceError
from hilum.labels.errors import LabelError
from hilum.labels.stocks import label_stock, label_stocks, read_stocks
from hilum.resources import resource


def test_every_usable_row_of_the_table_is_a_stock_with_a_source() -> None:
    """36 A4 sheets, 15 Letter sheets, 10 rolls with a fixed label, 11 envelopes; names are all different."""
    stocks = label_stocks()
    assert [
        sum(each.name.startswith(page) for each in stocks)
        for page in ("a4-", "letter-", "roll-", "envelope-")
    ] == [
        36,
        15,
        10,
        11,
    ]
    assert len({each.name for each in stocks}) == len(stocks)
    assert all(each.source for each in stocks)


def test_a_stock_is_named_by_page_columns_rows_and_size() -> None:
    """The names a keeper types."""
    assert label_stock("a4-3x8-70x37").rows == 8
    assert label_stock("letter-3x10-66.7x25.4").label_w_mm == 66.675
    assert label_stock("roll-57x32").kind == "roll"


def test_short_names_mean_the_size_most_often_sold() -> None:
    """Two settled by rule; others where only one stock begins so."""
    assert label_stock("a4-3x8").name == "a4-3x8-70x37"
    assert label_stock("letter-3x10").name == "letter-3x10-66.7x25.4"
    assert label_stock("A4 5x13").name == "a4-5x13-38.1x21.2"


def test_a_short_name_of_two_stocks_is_refused_naming_both() -> None:
    """Nothing is guessed."""
    with pytest.raises(LabelError, match=r"a4-3x7-70x42\.4, a4-3x7-63\.5x38\.1\. Give the whole name"):
        label_stock("a4-3x7")


def test_an_unknown_name_is_refused_with_the_nearest() -> None:
    """A slip of the finger is pointed out."""
    with pytest.raises(LabelError, match=r"no label stock “rol-57x32”. The nearest names are roll-57x32"):
        label_stock("rol-57x32")
    with pytest.raises(LabelError, match="no label stock “”"):
        label_stock("")


def test_a_damaged_table_is_refused_with_its_line(tmp_path: Path) -> None:
    """A letter where a number should be."""
    good = resource("labels", "label_stocks.csv").read_text(encoding="utf-8").splitlines()
    table = tmp_path / "stocks.csv"
    table.write_text(
        "\n".join([good[0], good[1], good[2].replace(",70,36,", ",70,wide,", 1)]), encoding="utf-8"
    )
    with pytest.raises(ResourceError, match=r"stocks\.csv, line 3"):
        read_stocks(table)
