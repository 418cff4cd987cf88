"""Our standards of germination against the table printed in the regulation.

Source: 7 CFR 201.31, table (59 FR 64491, Dec. 14, 1994; 2015 annual edition). The figures below were
typed apart from the table that the program ships.
"""

import pytest

from hilum.seedlore.standards import all_standards, standard

KINDS = {
    "test_every_printed_standard_is_kept": "published",
    "test_there_is_no_standard_that_is_not_printed": "of our own",
}

PRINTED = {
    "Artichoke": 60,
    "Asparagus": 70,
    "Asparagusbean": 75,
    "Bean, garden": 70,
    "Bean, lima": 70,
    "Bean, runner": 75,
    "Beet": 65,
    "Broadbean": 75,
    "Broccoli": 75,
    "Brussels sprouts": 70,
    "Burdock, great": 60,
    "Cabbage": 75,
    "Cabbage, tronchuda": 70,
    "Cardoon": 60,
    "Carrot": 55,
    "Cauliflower": 75,
    "Celeriac": 55,
    "Celery": 55,
    "Chard, Swiss": 65,
    "Chicory": 65,
    "Chinese cabbage": 75,
    "Chives": 50,
    "Citron": 65,
    "Collards": 80,
    "Corn, sweet": 75,
    "Cornsalad": 70,
    "Cowpea": 75,
    "Cress, garden": 75,
    "Cress, upland": 60,
    "Cress, water": 40,
    "Cucumber": 80,
    "Dandelion": 60,
    "Dill": 60,
    "Eggplant": 60,
    "Endive": 70,
    "Kale": 75,
    "Kale, Chinese": 75,
    "Kale, Siberian": 75,
    "Kohlrabi": 75,
    "Leek": 60,
    "Lettuce": 80,
    "Melon": 75,
    "Mustard, India": 75,
    "Mustard, spinach": 75,
    "Okra": 50,
    "Onion": 70,
    "Onion, Welsh": 70,
    "Pak-choi": 75,
    "Parsley": 60,
    "Parsnip": 60,
    "Pea": 80,
    "Pepper": 55,
    "Pumpkin": 75,
    "Radish": 75,
    "Rhubarb": 60,
    "Rutabaga": 75,
    "Sage": 60,
    "Salsify": 75,
    "Savory, summer": 55,
    "Sorrel": 65,
    "Soybean": 75,
    "Spinach": 60,
    "Spinach, New Zealand": 40,
    "Squash": 75,
    "Tomato": 75,
    "Tomato, husk": 50,
    "Turnip": 80,
    "Watermelon": 70,
}


@pytest.mark.parametrize(("kind", "percent"), PRINTED.items())
def test_every_printed_standard_is_kept(kind: str, percent: int):
    """Percent, and that hard seed counts towards it (201.31)."""
    found = standard(kind)
    assert (found.percent, found.counts_hard_seed) == (percent, True)
    assert "7 CFR 201.31" in found.source


def test_there_is_no_standard_that_is_not_printed():
    """The two lists hold the same kinds."""
    assert {one.kind for one in all_standards()} == set(PRINTED)
