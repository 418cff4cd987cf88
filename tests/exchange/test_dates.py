"""Dates of receipt and years of harvest: proven per file, partial where they are, refused where unsure."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.errors import BadInput
from hilum.exchange.choices import Choices
from hilum.exchange.dates import DateReadings, order_of, read_date, readings_of
from hilum.exchange.trouble import Trouble
from hilum.exchange.years import Year, read_year
from tests.exchange.builders import TODAY, read_rows, the_refusal, the_row


@pytest.mark.parametrize(
    ("text", "on", "precision"),
    [
        ("2025-10-04", date(2025, 10, 4), "day"),
        ("2025/10/4", date(2025, 10, 4), "day"),
        ("20251004", date(2025, 10, 4), "day"),
        ("2025-10-04 00:00:00", date(2025, 10, 4), "day"),
        ("2025-10-04T09:30:00Z", date(2025, 10, 4), "day"),
        ("30/07/2024", date(2024, 7, 30), "day"),
        ("07/30/2024", date(2024, 7, 30), "day"),
        ("7/30/2024 12:00:00 AM", date(2024, 7, 30), "day"),
        ("5.5.2024", date(2024, 5, 5), "day"),
        ("30.07.24", date(2024, 7, 30), "day"),
        ("4 Oct 2025", date(2025, 10, 4), "day"),
        ("4th October 2025", date(2025, 10, 4), "day"),
        ("Oct 4, 2025", date(2025, 10, 4), "day"),
        ("2025 Oct 4", date(2025, 10, 4), "day"),
        ("04-Oct-25", date(2025, 10, 4), "day"),
        ("4. Oktober 2025", date(2025, 10, 4), "day"),
        ("4. März 2025", date(2025, 3, 4), "day"),
        ("4 de octubre de 2025", date(2025, 10, 4), "day"),
        ("1er août 2025", date(2025, 8, 1), "day"),
        ("Oct 2025", date(2025, 10, 1), "month"),
        ("Oct '25", date(2025, 10, 1), "month"),
        ("10/2025", date(2025, 10, 1), "month"),
        ("2025-10", date(2025, 10, 1), "month"),
        ("2025", date(2025, 1, 1), "year"),
        ("٢٠٢٥-١٠-٠٤", date(2025, 10, 4), "day"),
    ],
)
def test_dates_that_can_be_read_in_one_way(text, on, precision):
    """Whatever the habit of the writer."""
    row = the_row(read_rows({"Received": text}))
    assert (row.received_on, row.received_precision) == (on, precision)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("03.10.2023", "can be read in two ways, 3 Oct 2023 or 10 Mar 2023"),
        ("1/2/2024", "can be read in two ways, 1 Feb 2024 or 2 Jan 2024"),
        ("04-05-06", "can be read in two ways, 4 May 2006, 5 Apr 2006 or 6 May 2004"),
        ("2026-11-26", "is in the future (26 Nov 2026)"),
        ("Dec 2026", "is in the future"),
        ("31.02.2024", "is not a date"),
        ("Oct 25", "is not a date. Write it like 2025-10-04"),
        ("24", "is not a date"),
        ("last autumn", "is not a date"),
        ("14/15/2024", "is not a date"),
        ("1850-01-01", "is before 1900"),
        ("4 Oct or Nov 2025", "is not a date"),
        ("=TODAY()", "is not a date"),
    ],
)
def test_dates_that_are_refused(text, words):
    """With every reading, and what to do."""
    refusal = the_refusal(read_rows({"Year": "unknown", "Received": text}))
    assert refusal.column == "Received"
    assert words in refusal.why


def test_one_date_with_a_day_over_twelve_proves_the_order_of_its_file():
    """Also when that row itself is refused for something else."""
    reading = read_rows(
        {"Received": "03.10.2024"}, {"Received": "28.09.2024", "Weight": "-3 g"}, {"Received": "11/12/2024"}
    )
    assert [row.received_on for row in reading.understood] == [date(2024, 10, 3), date(2024, 12, 11)]
    assert reading.understood[0].taken_for == ("03.10.2024 taken as 3 Oct 2024",)
    assert reading.fact("date order").taken == "day first"


def test_a_file_with_both_orders_proves_none():
    """And says which rows disagree."""
    reading = read_rows({"Received": "03/10/2024"}, {"Received": "28/09/2024"}, {"Received": "09/28/2024"})
    assert "the file is not of one mind: day first (row 3" in the_refusal(reading).why
    assert reading.asks == ("date order",)


def test_a_heading_can_prove_the_order():
    """Unless the cells say otherwise; then neither is believed."""
    day_first, month_first = "Received (DD/MM/YYYY)", "Received (MM/DD/YYYY)"
    for heading, on in [(day_first, date(2024, 10, 3)), (month_first, date(2024, 3, 10))]:
        reading = read_rows({"Received": "", heading: "03/10/2024"})
        assert the_row(reading).received_on == on
        assert f'the heading "{heading}" says' in reading.fact("date order").proof
    reading = read_rows(
        {"Received": "", month_first: "03/10/2024"}, {"Received": "", month_first: "28/09/2024"}
    )
    assert "says month first, but row 3" in the_refusal(reading).why


def test_the_keeper_can_settle_the_order():
    """For dates that can be read in two ways."""
    for order, on in [("month first", date(2024, 3, 10)), ("day first", date(2024, 10, 3))]:
        settled = read_rows({"Received": "03/10/2024"}, choices=Choices(date_order=order))
        assert the_row(settled).received_on == on
        assert settled.fact("date order").proof == "chosen by you"
    with pytest.raises(BadInput, match="The order of dates cannot be 'backwards'"):
        Choices(date_order="backwards")


@pytest.mark.parametrize("text", ["", "?", "unknown"])
def test_no_date_of_receipt_is_today_and_said_so(text):
    """Seed is usually taken in on the day it comes."""
    row = the_row(read_rows({"Received": text}))
    assert row.received_on == TODAY
    assert "no date received: taken as today, 25 Nov 2026" in row.taken_for


def test_nothing_is_received_before_it_is_harvested():
    """One of the two figures is wrong; which one only the keeper knows."""
    refusal = the_refusal(read_rows({"Year": "2024", "Received": "2023-12-31"}))
    assert "Received in 2023, but harvested later, in 2024" in refusal.why
    assert the_row(read_rows({"Year": "2024", "Received": "2024"})).received_precision == "year"


@pytest.mark.parametrize(
    ("text", "year"),
    [
        ("2025", 2025),
        (" 1998 ", 1998),
        ("'24", 2024),
        ("24", 2024),
        ("’98", 1998),
        ("unknown", None),
        ("?", None),
    ],
)
def test_years_that_can_be_read(text, year):
    """Two digits where only one century can be meant."""
    read = read_year(text, None, TODAY)
    assert isinstance(read, Year)
    assert read.year == year


@pytest.mark.parametrize(
    ("text", "words", "suggestion"),
    [
        ("", 'No year of harvest. Write the year of harvest with four digits, or "unknown".', None),
        ("2027", "is in the future", None),
        ("2062", "is in the future", None),
        ("1899", "is before 1900", None),
        ("27", "could be 1927, long ago", None),
        ("2024/25", "names two years. Write the one in which the seed was harvested (2024 or 25)", None),
        ("zwanzig-24", "is not a year", None),
        ("ca. 2024", "is not a year", "2024"),
        ("2024-09-12", "is not a year", "2024"),
        ("20245", "is not a year", None),
    ],
)
def test_years_that_are_refused(text, words, suggestion):
    """With what to write."""
    read = read_year(text, None, TODAY)
    assert isinstance(read, Trouble)
    assert words in read.why
    assert read.suggestion == suggestion


some_days = st.dates(min_value=date(1990, 1, 1), max_value=TODAY)


@given(st.lists(some_days, min_size=1, max_size=8), st.sampled_from(["%d.%m.%Y", "%m/%d/%Y", "%d-%m-%Y"]))
def test_a_date_written_in_one_order_is_read_as_itself_or_refused(days, habit):
    """Never as another day."""
    cells = [readings_of(day.strftime(habit), None, TODAY) for day in days]
    sure = [cell for cell in cells if isinstance(cell, DateReadings)]
    assert len(sure) == len(days)
    order = order_of([("row", cell) for cell in sure])
    for day, cell in zip(days, sure, strict=True):
        read = read_date(cell, order, TODAY)
        assert isinstance(read, Trouble) or read.on == day


@given(some_days, st.integers(0, 50))
def test_a_short_year_is_the_latest_that_is_not_to_come(today, back):
    """Whatever today is."""
    year = (today - timedelta(days=366 * back)).year
    if year >= 1900 and today.year - year <= 50:
        assert read_year(f"'{year % 100:02}", None, today) == Year(
            year, (f"'{year % 100:02} taken as {year}",)
        )


@given(st.text(max_size=30))
def test_any_text_is_a_date_or_refused(text):
    """Nothing else can come out."""
    cell = readings_of(text, None, TODAY)
    if isinstance(cell, DateReadings):
        read = read_date(cell, order_of([("row", cell)]), TODAY)
        assert isinstance(read, Trouble) or read.on <= TODAY
