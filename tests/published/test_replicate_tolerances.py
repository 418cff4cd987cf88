"""Our limits for the range between replicates against the table printed in the regulation.

Source: 7 CFR 201.55(a), table (as amended 65 FR 1707, Jan. 11, 2000; 2015 annual edition). The figures
below were typed apart from the table that the program ships.
"""

import pytest

from hilum.seedlore.germination import published_limit, range_point, replicate_tolerance

KINDS = {
    "test_every_printed_row_is_kept": "published",
    "test_points_of_the_studentized_range": "derived",
    "test_where_nothing_is_printed_nothing_is_looked_up": "published",
    "test_a_range_equal_to_the_limit_passes_and_one_more_does_not": "derived",
    "test_a_mean_the_print_leaves_out_is_read_by_the_mirror_and_said_to_be_doubtful": "derived",
    "test_the_theory_lies_within_one_of_the_printed_limits": "derived",
    "test_the_odd_printed_value_for_99_is_shown_as_doubtful": "of our own",
    "test_the_whole_table_is_here": "of our own",
}

# High mean, low mean, largest range of four and of two replicates of 100 seeds; "-" where none is printed.
PRINTED = """
99 2 5 -
98 3 6 -
97 4 7 6
96 5 8 6
95 6 9 7
94 7 10 8
93 8 10 8
92 9 11 9
91 10 11 9
90 11 12 9
89 12 12 10
88 13 13 10
87 14 13 11
86 15 14 11
85 16 14 11
84 17 14 11
83 18 15 12
82 19 15 12
81 20 15 12
80 21 16 13
79 22 16 13
78 23 16 13
77 24 17 13
76 25 17 13
75 26 17 14
74 27 17 14
73 28 17 14
72 29 18 14
71 30 18 14
70 31 18 14
69 32 18 14
68 33 18 15
67 34 18 15
66 35 19 15
65 36 19 15
64 37 19 15
63 38 19 15
62 38 19 15
61 40 19 15
60 41 19 15
59 42 19 15
58 43 19 15
57 44 19 15
56 45 19 15
55 46 20 15
54 47 20 16
53 48 20 16
52 48 20 16
51 50 20 16
"""
ROWS = [
    tuple(None if cell == "-" else int(cell) for cell in line.split()) for line in PRINTED.split("\n") if line
]
# scipy 1.17.1, scipy.stats.studentized_range.ppf(0.975, k, inf), a general library for statistics.
RANGE_POINTS = {
    2: 3.1698, 3: 3.6823, 4: 3.984, 5: 4.197, 6: 4.3609, 7: 4.4936, 8: 4.6049, 9: 4.7004,
    10: 4.784, 11: 4.8583, 12: 4.925, 13: 4.9855, 14: 5.0408, 15: 5.0917, 16: 5.1389,
}  # fmt: skip


def replicates_with(mean: int, spread: int, replicates: int) -> list[int]:
    """Find hundreds whose mean, a half rounded upward, is `mean` and whose range is `spread`."""
    for low in range(101 - spread):
        ends = [low, low + spread]
        for total in range(replicates * low, replicates * (low + spread) + 1):
            middle = total - sum(ends)
            rest = [middle // 2, middle - middle // 2] if replicates == 4 else []
            fits = all(low <= one <= low + spread for one in rest) and sum(ends) + sum(rest) == total
            if fits and (2 * total + replicates) // (2 * replicates) == mean:
                return ends + rest
    raise AssertionError(f"no {replicates} replicates have a mean of {mean} and a range of {spread}")


def limit_of(mean: int, replicates: int) -> int | None:
    found = published_limit(mean, replicates)
    return found.percent if found else None


@pytest.mark.parametrize(("high", "low", "four", "two"), ROWS)
def test_every_printed_row_is_kept(high: int, low: int, four: int, two: int | None):
    """Both columns of means, for four and for two replicates."""
    assert [limit_of(mean, 4) for mean in (high, low)] == [four, four]
    assert [limit_of(mean, 2) for mean in (high, low)] == [two, two]


def test_the_whole_table_is_here():
    """49 rows, from 99 down to 51."""
    assert [row[0] for row in ROWS] == list(range(99, 50, -1))


@pytest.mark.parametrize(("high", "low", "four", "two"), ROWS)
def test_a_range_equal_to_the_limit_passes_and_one_more_does_not(
    high: int, low: int, four: int, two: int | None
):
    """201.55(a): a new test is required when the spread is larger than the table allows."""
    for replicates, limit in ((4, four), (2, two)):
        if limit is None:
            continue
        for spread, within in ((limit, True), (limit + 1, False)):
            found = replicate_tolerance(replicates_with(high, spread, replicates), 100)
            assert (found.range_percent, found.allowed_percent, found.within) == (spread, limit, within)


@pytest.mark.parametrize("mean", [39, 49])
def test_a_mean_the_print_leaves_out_is_read_by_the_mirror_and_said_to_be_doubtful(mean: int):
    """Rows 62 and 52 print the low mean of their neighbour again; high + low = 101 elsewhere."""
    limit = published_limit(mean, 4)
    assert limit.percent == {row[0]: row[2] for row in ROWS}[101 - mean]
    assert "low column is printed as" in limit.doubt
    assert "doubtful" in replicate_tolerance([mean] * 4, 100).rule


def test_the_odd_printed_value_for_99_is_shown_as_doubtful():
    """5 at a mean of 99 differs from the theory by more than 1."""
    assert "differs by more than 1" in published_limit(99, 4).doubt


@pytest.mark.parametrize(
    ("mean", "replicates"), [(100, 4), (1, 4), (0, 4), (99, 2), (98, 2), (2, 2), (3, 2), (90, 3)]
)
def test_where_nothing_is_printed_nothing_is_looked_up(mean: int, replicates: int):
    """Means of 0, 1 and 100 have no row, two replicates no value at 98 and 99."""
    assert published_limit(mean, replicates) is None


@pytest.mark.parametrize(("replicates", "point"), RANGE_POINTS.items())
def test_points_of_the_studentized_range(replicates: int, point: float):
    """Against a general library for statistics, to its four printed decimals."""
    assert range_point(replicates, 0.975) == pytest.approx(point, abs=6e-5)


@pytest.mark.parametrize(("high", "low", "four", "two"), ROWS[1:])
def test_the_theory_lies_within_one_of_the_printed_limits(high: int, low: int, four: int, two: int | None):
    """So that what is reckoned for other numbers of dishes fits what is printed; 99 is the one exception."""
    for replicates, limit in ((4, four), (2, two)):
        if limit is not None:
            reckoned = range_point(replicates, 0.975) * (high * (100 - high) / 100) ** 0.5
            assert abs(reckoned - limit) <= 1
