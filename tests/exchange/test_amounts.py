"""Amounts: units, marks, and never a factor of a thousand guessed."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.exchange.amounts import Amount, UnitOfColumn, WrittenAmount, amount_words, read_amount, take_apart
from hilum.exchange.choices import Choices
from hilum.exchange.numerals import Marks, Numeral, marks_of, read_numeral
from hilum.exchange.trouble import Trouble
from hilum.exchange.units import MG_PER_UNIT
from tests.exchange.builders import read_rows, the_refusal, the_row

NO_UNIT = UnitOfColumn(None, "nothing names one")


def amount_of(text: str, marks: Marks | None = None) -> Amount | Trouble | None:
    """Read one cell as if it stood alone in its file."""
    written = take_apart(text)
    if not isinstance(written, WrittenAmount):
        return written
    return read_amount(written, marks or marks_of([("row 2", written.figure)]), NO_UNIT)


@pytest.mark.parametrize(
    ("text", "amount", "unit", "estimate"),
    [
        ("38.5 g", 38_500, "mg", False),
        ("1.2 kg", 1_200_000, "mg", False),
        ("0,35 kg", 350_000, "mg", False),
        ("450mg", 450, "mg", False),
        ("45\u00a0g", 45_000, "mg", False),
        ("45g", 45_000, "mg", False),
        ("12.5 Gramm", 12_500, "mg", False),
        ("5 gramos", 5_000, "mg", False),
        ("5 grammes", 5_000, "mg", False),
        # International avoirdupois pound 0.45359237 kg and its sixteenth: NIST Handbook 44, Appendix C.
        ("2 oz", 56_699, "mg", False),
        ("1 lb", 453_592, "mg", False),
        ("40 seeds", 40, "seeds", False),
        ("1 seed", 1, "seeds", False),
        ("ca. 40 seeds", 40, "seeds", True),
        ("~40 Samen", 40, "seeds", True),
        ("about 12 g", 12_000, "mg", True),
        ("etwa 12 g", 12_000, "mg", True),
        ("12 g (approx.)", 12_000, "mg", True),
        ("0.350 kg", 350_000, "mg", False),
        (".5 g", 500, "mg", False),
        ("1 200 g", 1_200_000, "mg", False),
        ("1'200 g", 1_200_000, "mg", False),
        ("1.234,5 g", 1_234_500, "mg", False),
        ("1,234.5 g", 1_234_500, "mg", False),
        ("12.345.678 mg", 12_345_678, "mg", False),
        ("1234.567 g", 1_234_567, "mg", False),
        ("٣٨٫٥ g", 38_500, "mg", False),
        ("３８.５ g", 38_500, "mg", False),
        ("0.0005 g", 1, "mg", False),
    ],
)
def test_amounts_that_can_be_read_in_one_way(text, amount, unit, estimate):
    """Whatever the words of the unit and the marks."""
    read = amount_of(text)
    assert isinstance(read, Amount)
    assert (read.amount, read.unit, read.is_estimate) == (amount, unit, estimate)


@pytest.mark.parametrize("text", ["", "  ", "?", "-", "unknown", "n/a", "unbekannt"])
def test_what_is_not_known_is_never_nought(text):
    """Nothing written is None."""
    assert take_apart(text) is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("-3 g", "is less than nothing"),
        ("−3 g", "is less than nothing"),
        ("0 g", "says that there is no seed. Write nothing if the amount is not known"),
        ("0 seeds", "says that there is no seed"),
        ("0.0001 g", "is less than a milligram"),
        ("1/2 oz", "is written as a fraction. Write it with decimals"),
        ("½ oz", "is written as a fraction"),
        ("5-10 g", "is a range"),
        ("5 to 10 g", "is a range"),
        ("40.5 seeds", "is not a whole number of seeds"),
        ("3 cups", '"cups" is not a unit known here. Use mg, g, kg, oz, lb or seeds'),
        ("a handful", "is not an amount. Write a figure and a unit"),
        ("2 x 50 g", "is not an amount"),
        ("1 lb 4 oz", "is not an amount"),
        ("=2+3", "is a spreadsheet formula, which is never calculated"),
        ("1200 kg", "is more than 1,000 kg"),
        ("4,75", "has no unit, and nothing names one"),
        ("1.200 g", "can be read in two ways, 1200 g or 1.2 g"),
        ("1,200 kg", "can be read in two ways, 1200 kg or 1.2 kg"),
        ("1.200 seeds", "can be read in two ways"),
        ("1.2.3 g", "has more than one dot"),
        ("1.234,567,8 g", "mixes dots and commas"),
        ("1,2.3,4 g", "mixes dots and commas"),
        ("0350 g", "begins with a nought: is a decimal mark missing?"),
        ("12. g", "is not a figure"),
        ("1.5 200 g", "is not a figure"),
        ("9" * 30 + " g", "has too many digits"),
    ],
)
def test_amounts_that_are_refused(text, words):
    """Each with what is wrong and what to do."""
    read = amount_of(text)
    assert isinstance(read, Trouble)
    assert words in read.why


@pytest.mark.parametrize(
    ("elsewhere", "amount"),
    [
        ("3.75 g", 1_200),  # the dot begins decimals
        ("0.350 kg", 1_200),
        ("1.234,5 g", 1_200_000),  # the dot groups
        ("1.234.567 mg", 1_200_000),
        ("12,5 g", None),  # a comma proves the comma only
        ("20 g", None),
    ],
)
def test_what_the_same_mark_means_elsewhere_settles_it(elsewhere, amount):
    """The other mark settles nothing."""
    reading = read_rows({"Weight": "1.200 g"}, {"Weight": elsewhere})
    if amount is None:
        assert "can be read in two ways, 1200 g or 1.2 g" in the_refusal(reading).why
        assert reading.asks == ("decimal mark",)
    else:
        assert [row.amount for row in reading.understood if row.row == 2] == [amount]


def test_a_file_with_two_habits_proves_nothing():
    """A dot and a comma both used for decimals: two people wrote it."""
    reading = read_rows({"Weight": "1.200 g"}, {"Weight": "3.75 g"}, {"Weight": "12,5 g"})
    assert the_refusal(reading).row == 2
    assert reading.fact("decimal mark").taken == "dot and comma, by cell"


def test_a_mark_used_both_ways_proves_nothing():
    """3.75 and 1.234.567 in one file contradict each other."""
    for grouped in ("1.234,5 g", "1.234.567 mg"):
        reading = read_rows({"Weight": "1.200 g"}, {"Weight": "3.75 g"}, {"Weight": grouped})
        assert the_refusal(reading).row == 2
    assert reading.fact("decimal mark").taken == "not settled"


def test_the_keeper_can_settle_the_mark():
    """The choice is named as what settled it."""
    reading = read_rows({"Weight": "1.200 g"}, choices=Choices(decimal_mark=","))
    assert the_row(reading).amount == 1_200_000
    assert the_row(read_rows({"Weight": "1.200 g"}, choices=Choices(decimal_mark="."))).amount == 1_200
    assert reading.fact("decimal mark").proof == "chosen by you"


def test_a_bare_figure_takes_the_unit_of_the_heading():
    """And the row says so."""
    row = the_row(read_rows({"Weight": "", "Gewicht in Gramm": "4,75"}))
    assert row.amount == 4_750
    assert row.taken_for[-1] == '"4,75" taken as 4.75 g: the heading "Gewicht in Gramm" says so'


def test_a_bare_figure_takes_the_unit_that_all_other_cells_are_in():
    """Two cells at least, and all in the same one."""
    reading = read_rows({"Weight": "4.75"}, {"Weight": "5 g"}, {"Weight": "7.5 g"})
    assert [row.amount for row in reading.understood] == [4_750, 5_000, 7_500]
    assert reading.understood[0].taken_for == (
        '"4.75" taken as 4.75 g: all 2 figures that name a unit are in g',
    )


@pytest.mark.parametrize(
    "others",
    [["5 g", "1 kg"], ["5 g"], ["5 g", "5 g", "6", "7", "8"], []],
    ids=["mixed", "one", "few", "none"],
)
def test_a_bare_figure_without_a_proven_unit_is_refused(others):
    """Never guessed."""
    reading = read_rows({"Weight": "4.75"}, *({"Weight": other} for other in others))
    assert "has no unit" in reading.refused[0].why
    assert reading.asks == ("unit",)


def test_the_keeper_can_settle_the_unit():
    """For cells that name none."""
    reading = read_rows({"Weight": "4.75"}, {"Weight": "1 kg"}, choices=Choices(unit="g"))
    assert [row.amount for row in reading.understood] == [4_750, 1_000_000]


def test_a_unit_column_serves_its_rows_and_must_not_contradict():
    """Each row its own unit."""
    reading = read_rows(
        {"Weight": "5", "Unit": "g"},
        {"Weight": "40", "Unit": "seeds"},
        {"Weight": "5 kg", "Unit": "g"},
        {"Weight": "5", "Unit": "cups"},
        {"Weight": "", "Unit": "seeds"},
    )
    assert [(row.amount, row.unit) for row in reading.understood] == [
        (5_000, "mg"),
        (40, "seeds"),
        (None, "seeds"),
    ]
    assert [refusal.column for refusal in reading.refused] == ["Weight", "Unit"]
    assert 'is in kg, but the column "Unit" says g' in reading.refused[0].why


def test_a_count_beside_a_weight_is_kept_as_a_note():
    """Stock is in one unit; where there is no weight the count is the stock."""
    reading = read_rows({"Seed count": "120"}, {"Weight": "", "Seed count": "40"})
    assert [(row.amount, row.unit, row.notes) for row in reading.understood] == [
        (20_000, "mg", "Seed count: 120"),
        (40, "seeds", None),
    ]


def printed(value: Decimal, decimal_mark: str, grouped: bool) -> str:
    """Print a figure as people of one habit do."""
    text = f"{value:,f}" if grouped else f"{value:f}"
    return text.translate(str.maketrans(",.", ".,")) if decimal_mark == "," else text


figures = st.decimals(
    min_value=Decimal("0.001"), max_value=Decimal(900_000), places=None, allow_nan=False
).flatmap(
    lambda value: st.integers(0, 5).map(
        lambda places: value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    )
)
alike = st.lists(st.tuples(figures, st.booleans()), min_size=1, max_size=6)


@given(alike, st.sampled_from(".,"), st.sampled_from(["mg", "g"]))
def test_a_printed_amount_is_read_as_itself_or_refused(values, mark, unit):
    """Any file printed with one habit: no cell is ever read as another amount."""
    cells = [f"{printed(value, mark, grouped)} {unit}" for value, grouped in values]
    taken = [take_apart(cell) for cell in cells]
    marks = marks_of([("row", cell.figure) for cell in taken if isinstance(cell, WrittenAmount)])
    for (value, _), cell in zip(values, taken, strict=True):
        assert isinstance(cell, WrittenAmount)
        read = read_amount(cell, marks, NO_UNIT)
        exact = value * MG_PER_UNIT[unit]
        if isinstance(read, Amount):
            assert read.amount == int(exact.quantize(Decimal(1), ROUND_HALF_UP))


@given(figures, st.booleans(), st.sampled_from(".,"))
def test_knowing_the_mark_every_printed_figure_is_read(value, grouped, mark):
    """With the mark settled nothing is left to refuse."""
    numeral = read_numeral(printed(value, mark, grouped))
    assert isinstance(numeral, Numeral)
    assert numeral.under(marks_of([], mark)) == value


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_refused(text):
    """Nothing else can come out."""
    read = amount_of(text)
    assert read is None or isinstance(read, (Amount, Trouble))
    if isinstance(read, Amount):
        assert read.amount is not None
        assert read.amount > 0


def test_amounts_in_words():
    """As a keeper says them."""
    assert [amount_words(*pair) for pair in [(56_699, "mg"), (350, "mg"), (1, "seeds"), (40, "seeds")]] == [
        "56.699 g",
        "350 mg",
        "1 seed",
        "40 seeds",
    ]
