"""More germinated never lowers a verdict, and no interval leaves the percentages."""

from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.germination import germination_counts, judge, wilson_interval
from hilum.seedlore.intervals import exact_interval
from hilum.seedlore.standards import Standard

ORDER = {"regrow": 0, "too few seeds to say": 1, "keep": 2}


@given(st.integers(1, 400), st.integers(1, 100), st.data())
def test_more_germinated_never_lowers_a_verdict(sown: int, bar: int, data: st.DataObject):
    """One dish, so that no disagreement of dishes comes between: from regrow over too few to keep."""
    fewer = data.draw(st.integers(0, sown - 1))
    standard = Standard("this crop", bar, False, "a standard of one's own")
    less, more = (judge(germination_counts(sown, [one]), standard).word for one in (fewer, fewer + 1))
    assert ORDER[less] <= ORDER[more]


@given(st.integers(1, 400), st.floats(0.5, 0.99), st.data())
def test_more_germinated_never_lowers_a_bound(sown: int, confidence: float, data: st.DataObject):
    """Both bounds of both intervals rise with the count and stay within 0 to 100 %."""
    fewer = data.draw(st.integers(0, sown - 1))
    for interval in (wilson_interval, exact_interval):
        low, high = interval(fewer, sown, confidence)
        more_low, more_high = interval(fewer + 1, sown, confidence)
        assert 0 <= low <= more_low + 1e-9
        assert high <= more_high + 1e-9 <= 100 + 2e-9
