"""Our germination methods against rows of the regulation's table, typed apart from the one we ship.

Source: 7 CFR 201.58, Table 2 (2015 annual edition).
"""

import pytest

from hilum.seedlore.methods import method

KIND = "published"

# Kind: substrata, temperature, alternate temperatures, first count, final count, hard seed may be there.
PRINTED = {
    "bean-garden": ("B T S TC", "20-30", "25", None, 8, True),
    "bean-runner": ("B T S", "20-30", "", 5, 9, True),
    "beet": ("B T S", "20-30", "", 3, 14, False),
    "broadbean": ("S C", "20", "", 4, 14, True),
    "cabbage": ("B P T", "20-30", "", 3, 10, False),
    "carrot": ("B T", "20-30", "", 6, 14, False),
    "celery": ("P", "15-25", "20", 10, 21, False),
    "corn-sweet": ("B T S TC", "20-30", "25", 4, 7, False),
    "cucumber": ("B T S", "20-30", "", 3, 7, False),
    "leek": ("B T", "20", "", 6, 14, False),
    "lettuce": ("P", "20", "", None, 7, False),
    "onion": ("B T", "20", "", 6, 10, False),
    "parsnip": ("B T TS", "20-30", "", 6, 28, False),
    "pea": ("B T S", "20", "", 5, 8, True),
    "pepper": ("TB RB T", "20-30", "", 6, 14, False),
    "radish": ("B T", "20", "", 4, 6, False),
    "spinach": ("TB T", "15", "10", 7, 21, False),
    "squash": ("B T S", "20-30", "", 4, 7, False),
    "tomato": ("B P RB T", "20-30", "", 5, 14, False),
    "wheat-common": ("B T S", "20", "15", 4, 7, False),
}


@pytest.mark.parametrize(("key", "printed"), PRINTED.items())
def test_a_printed_method_is_kept(key: str, printed: tuple[str, str, str, int | None, int, bool]):
    """Substrata in the printed order, temperatures, counting days, hard seed."""
    found = method(key)
    alternates = "; ".join(
        str(one.long_c) if one.is_constant else f"{one.long_c}-{one.short_c}" for one in found.alternates
    )
    codes = " ".join(one.code for one in found.substrates)
    days = (found.first_count_days, found.final_count_days)
    assert (codes, found.temperature_c, alternates, *days, found.hard_seed_possible) == printed
