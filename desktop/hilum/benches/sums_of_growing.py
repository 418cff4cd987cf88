"""Sums of growing: plants that keep a variety whole, seeds to sow, and the check character of a lot number."""

from collections.abc import Mapping
from typing import Any

from hilum.benches.sums import NUMBERS, TEXT, WHOLE, Outcome, Sum, SumError, SumInput, SumOutput
from hilum.catalogue.numbering import check_character
from hilum.seedlore import population


def _share(figure: float) -> float:
    """Read a figure below 1 as a fraction and any other as a percentage."""
    return figure if figure < 1 else figure / 100


def _plants(given: Mapping[str, Any]) -> Outcome:
    frequency, chance = _share(given["frequency"]), _share(given["chance"])
    found = population.plants_for_allele(frequency, chance)
    outputs = {
        "plants_crossing": found.plants_crossing,
        "frequency_percent": 100 * frequency,
        "chance_percent": 100 * chance,
    }
    words = (
        f"A form of a gene with a frequency of {100 * frequency:g} % is among {found.plants} plants of a selfing crop, "
        f"or {found.plants_crossing} of one that crosses freely, with a chance of {100 * chance:g} %."
    )
    return Outcome(found.plants, outputs, words, found.source)


def _seeds(given: Mapping[str, Any]) -> Outcome:
    found = population.seeds_to_sow(given["plants"], given["germination"], given["losses"])
    outputs = {"seeds_to_be_sure": found.seeds_to_be_sure, "share_that_grows": found.share_that_grows}
    words = (
        f"Sow {found.seeds} seeds for {given['plants']} plants on average, {found.seeds_to_be_sure} to have them in "
        f"{100 * found.sureness:.0f} of 100 sowings."
    )
    return Outcome(found.seeds, outputs, words, found.source)


def _effective_size(given: Mapping[str, Any]) -> Outcome:
    plants = given["plants"]
    found, kept = population.effective_size(plants), 100 * population.diversity_kept(plants)
    words = (
        f"Over {len(plants)} generations the variety counts for {found:.1f} plants: the narrowest, of {min(plants):g}, "
        f"weighs most. Of the diversity of a crop that crosses freely {kept:.1f} % are left."
    )
    return Outcome(found, {"diversity_kept_percent": kept}, words, _SIZE_SOURCE)


def _parents_worth(given: Mapping[str, Any]) -> Outcome:
    seed = given["seed"]
    found = population.effective_parents(seed)
    words = (
        f"{len(seed)} plants that gave so unequally count for {found:.1f} that give alike. Taking the same amount from "
        "each plant is what keeps a variety broad."
    )
    return Outcome(
        found, {"plants": len(seed), "share_percent": 100 * found / len(seed)}, words, _PARENTS_SOURCE
    )


def _check_character(given: Mapping[str, Any]) -> Outcome:
    text = given["text"].upper()
    odd = sorted(
        {letter for letter in text if not (letter.isascii() and letter.isalnum()) and letter not in "- "}
    )
    if odd:
        raise SumError(
            f"text={text} holds {' '.join(odd)}. A check character is made from letters A-Z and digits only; hyphens "
            "and spaces do not count."
        )
    if not text.strip("- "):
        raise SumError(
            f"text={text} holds no letter and no digit. Give the lot number without its last character."
        )
    check = check_character(text)
    return Outcome(check, {"text": text}, f"The check character of {text} is {check}.", _CHECK_SOURCE)


_SIZE_SOURCE = "S. Wright 1938, Science 87, 430-431 (harmonic mean); 1931, Genetics 16, 97-159 (loss of 1/2N)"
_PARENTS_SOURCE = (
    "(sum x)^2 / sum x^2; Crow & Kimura 1970, An Introduction to Population Genetics Theory, from memory"
)
_CHECK_SOURCE = "ISO/IEC 7064:2003, pure system MOD 37-2"

GROWING_SUMS = (
    Sum(
        "plants-for-allele", "Plants that keep a variety whole", "How many plants keep what is rare in this variety?",
        (
            SumInput(
                "frequency", "frequency of the rare form, as percent or as a fraction below 1", "",
                low=0, high=100, above_low=True, below_high=True,
            ),
            SumInput(
                "chance", "chance to keep it, as percent or as a fraction below 1", "",
                low=0, high=100, above_low=True, below_high=True,
            ),
        ),
        _plants, SumOutput("result", "plants, one copy counted in each", "plants"),
        (SumOutput("plants_crossing", "plants of a crop that crosses freely, two copies in each", "plants"),),
        "The fewer plants seed is taken from, the more of a variety is lost for good.", population.ALLELE_SOURCE,
    ),
    Sum(
        "seeds-to-sow", "Seeds to sow", "How many seeds do I sow?",
        (
            SumInput("plants", "plants wanted", "plants", WHOLE, 1, 100_000),
            SumInput("germination", "germination", "%", low=0, high=100, above_low=True),
            SumInput("losses", "seedlings lost", "%", low=0, high=100, below_high=True, needed=False, default=0.0),
        ),
        _seeds, SumOutput("result", "seeds, on average enough", "seeds"),
        (SumOutput("seeds_to_be_sure", "seeds to be nearly sure", "seeds"),),
        "On average half of all sowings fall short of the plain figure; the second figure is enough in 95 of 100.",
        "plants / (germination x share not lost); to be sure: binomial chances",
    ),
    Sum(
        "effective-size", "Plants over generations", "What did the narrow years cost this variety?",
        (
            SumInput(
                "plants", "seed parents of each generation, with commas between", "plants", NUMBERS,
                low=1, high=1_000_000,
            ),
        ),
        _effective_size, SumOutput("result", "effective size", "plants"),
        (SumOutput("diversity_kept_percent", "diversity kept, of a crop that crosses freely", "%"),),
        "One generation of three plants is not made good by a hundred in the next.", _SIZE_SOURCE,
    ),
    Sum(
        "parents-worth", "Plants that gave unequally", "How many plants is this seed from, really?",
        (
            SumInput(
                "seed", "seed taken from each plant, in any one unit, with commas between", "", NUMBERS,
                low=0, high=1_000_000,
            ),
        ),
        _parents_worth, SumOutput("result", "plants that give alike", "plants"),
        (
            SumOutput("plants", "plants that gave", "plants"),
            SumOutput("share_percent", "worth, of the plants that gave", "%"),
        ),
        "One plant that gives most of the seed narrows a variety as if the others were not there.", _PARENTS_SOURCE,
    ),
    Sum(
        "check-character", "Check character", "Is this lot number copied right?",
        (SumInput("text", "lot number without its last character", "", TEXT),),
        _check_character, SumOutput("result", "check character"), (SumOutput("text", "what it belongs to"),),
        "Hyphens and spaces do not count.", _CHECK_SOURCE,
    ),
)  # fmt: skip
