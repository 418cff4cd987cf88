"""A logger's file: what its columns, marks, dates and units are taken for, and what is refused row by row."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.errors import BadInput
from hilum.exchange.logger import LoggerChoices, LoggerFile, day_reading, read_logger

TODAY = date(2026, 11, 25)


def read(tmp_path: Path, text: str, **choices: str) -> LoggerFile:
    file = tmp_path / "logger.csv"
    file.write_text(text, "utf-8")
    return read_logger(file, today=TODAY, choices=LoggerChoices(**choices))


def taken(found: LoggerFile) -> dict[str, str]:
    return {each.what: each.value for each in found.taken_for}


def test_a_head_of_the_logger_and_decimal_commas(tmp_path: Path):
    """Lines about the device, a running number, semicolons, commas, and a dew point that is no temperature."""
    found = read(
        tmp_path,
        "Gerät;L-204\nIntervall;60 min\n\nNr;Zeit;Temperatur [°C];Feuchte [%rF];Taupunkt [°C]\n"
        "1;13.02.2026 08:00:00;4,5;40,1;-7\n2;13.02.2026 20:00:00;5,5;41,9;-7\n",
    )
    assert found.refused == ()
    assert taken(found) == {
        "Cells parted by": "semicolon", "Date": "Zeit", "Temperature": "Temperatur [°C]",
        "Humidity": "Feuchte [%rF]", "Order of dates": "day first", "Decimal mark": "comma", "Unit": "°C",
    }  # fmt: skip
    [day] = found.days
    assert (day.on, day.temperature_c, day.lowest_c, day.highest_c) == (date(2026, 2, 13), 5.0, 4.5, 5.5)
    assert (day.humidity_percent, day.readings) == (41.0, 2)


def test_fahrenheit_month_first_and_a_clock_with_am(tmp_path: Path):
    """41 °F is 5 °C; 2/13 can only be month first."""
    found = read(
        tmp_path, "Date/Time,Temperature (°F),RH (%)\n2/13/2026 8:00 AM,41.0,38\n2/13/2026 8:00 PM,50.0,40\n"
    )
    assert taken(found)["Unit"] == "°F"
    assert taken(found)["Order of dates"] == "month first"
    assert [(day.lowest_c, day.highest_c) for day in found.days] == [(5.0, 10.0)]


def test_days_in_sequence_prove_the_order(tmp_path: Path):
    """No day over 12, but only day first makes the days follow one another."""
    found = read(tmp_path, "Date,Temp C\n01.02.2026,4.5\n02.02.2026,4.6\n03.02.2026,4.7\n")
    assert [day.on for day in found.days] == [date(2026, 2, day) for day in (1, 2, 3)]
    assert "follow one another" in next(t.proof for t in found.taken_for if t.what == "Order of dates")


def test_a_single_day_that_proves_nothing_is_refused_until_the_keeper_says(tmp_path: Path):
    """4 May or 5 April: the row says both, and the choice settles it."""
    text = "Date,Temp C\n04/05/2026,4.5\n"
    found = read(tmp_path, text)
    assert found.days == ()
    assert found.asks == ("date order",)
    assert "4 May 2026" in found.refused[0].why
    assert [day.on for day in read(tmp_path, text, date_order="month first").days] == [date(2026, 4, 5)]


def test_no_unit_is_asked_for_and_never_guessed(tmp_path: Path):
    """A column headed Temperature may be either scale."""
    text = "Date,Temperature\n2026-02-13,41\n"
    found = read(tmp_path, text)
    assert (found.days, found.asks) == ((), ("unit",))
    assert [day.temperature_c for day in read(tmp_path, text, unit="°F").days] == [5.0]


def test_a_mark_before_three_digits_is_refused_until_the_keeper_says(tmp_path: Path):
    """4,125 is four degrees or four thousand."""
    text = "Date;Temp C\n2026-02-13;4,125\n"
    assert read(tmp_path, text).asks == ("decimal mark",)
    assert [day.temperature_c for day in read(tmp_path, text, decimal_mark=",").days] == [4.12]


def test_bad_rows_are_refused_one_by_one(tmp_path: Path):
    """A probe that is off, a word, a day to come and an empty row; the good row is taken."""
    found = read(
        tmp_path,
        "Time,Temp °C,RH %\n2026-02-13 01:00,-4.5,40\n2026-02-13 02:00,850,40\n2026-02-13 03:00,error,40\n"
        "2026-02-13 04:00,4,140\n2027-02-13 05:00,4,40\n2026-02-13 06:00,,\n",
    )
    assert [(each.row, each.column) for each in found.refused] == [
        (3, "Temp °C"), (4, "Temp °C"), (5, "RH %"), (6, "Time"), (7, "Temp °C"),
    ]  # fmt: skip
    assert [(day.temperature_c, day.readings) for day in found.days] == [(-4.5, 1)]


def test_two_probes_are_asked_about(tmp_path: Path):
    """Which of two temperatures is the place's, only the keeper knows."""
    text = "Time,Temp 1 °C,Temp 2 °C\n2026-02-13 01:00,4,21\n"
    with pytest.raises(BadInput, match="several columns of temperature"):
        read(tmp_path, text)
    found = read(tmp_path, text, temperature_column="Temp 2 °C")
    assert [day.temperature_c for day in found.days] == [21.0]


def test_a_file_without_readings_says_so(tmp_path: Path):
    """A list of lots is no logger's file."""
    with pytest.raises(BadInput, match="no row with a date and a figure"):
        read(tmp_path, "crop,variety\nleek,Harrow Blue\n")


@given(st.lists(st.floats(-20, 40), min_size=1, max_size=50))
def test_the_steady_temperature_lies_between_mean_and_highest(warm: list[float]):
    """Ageing grows faster than temperature, so a day counts as warmer than its mean and never as its peak."""
    day = day_reading(date(2026, 1, 1), warm, (), len(warm))
    assert day.temperature_c - 0.02 <= day.ageing_c <= day.highest_c + 0.02
