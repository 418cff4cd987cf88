"""Reckoning: every seed sum by its name, for the command line and for the bench that asks plain questions."""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache

from hilum.benches.sums import Outcome, Sum, SumError, SumInput, SumOutput

__all__ = ["Outcome", "Sum", "SumError", "SumInput", "SumOutput", "all_sums", "reckon", "seed_sum"]


@cache
def all_sums() -> tuple[Sum, ...]:
    """Give every sum, in the order in which work on a lot needs them."""
    from hilum.benches.sums_of_growing import GROWING_SUMS
    from hilum.benches.sums_of_keeping import KEEPING_SUMS
    from hilum.benches.sums_of_storing import STORING_SUMS
    from hilum.benches.sums_of_testing import TESTING_SUMS
    from hilum.benches.sums_of_weighing import WEIGHING_SUMS

    return (*TESTING_SUMS, *WEIGHING_SUMS, *STORING_SUMS, *KEEPING_SUMS, *GROWING_SUMS)


def seed_sum(name: str) -> Sum:
    """Give one sum by its name, or say which are there."""
    by_name = {one.name: one for one in all_sums()}
    if name in by_name:
        return by_name[name]
    near = get_close_matches(name, by_name, n=1)
    hint = f"Is {near[0]} meant?" if near else f"There are: {', '.join(by_name)}."
    raise SumError(f"There is no sum “{name}”. {hint}")


def reckon(name: str, typed: Mapping[str, str]) -> Outcome:
    """Reckon one sum from what was typed for each input."""
    return seed_sum(name).reckon_typed(typed)
