"""Populations and crossing: plants, seeds to sow, effective size, who crosses whom."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.crops import all_crops, crop
from hilum.seedlore.crossing import CrossingError, crossing_pairs, isolation, would_cross
from hilum.seedlore.population import (
    PopulationError,
    chance_of_keeping,
    diversity_kept,
    effective_parents,
    effective_size,
    plants_for_allele,
    seeds_to_sow,
)
from hilum.seedlore.tables import table

sizes = st.lists(st.floats(1, 1e5), min_size=1, max_size=20)


@given(st.floats(0.001, 0.5), st.floats(0.5, 0.999))
def test_the_plants_are_enough_and_one_fewer_is_not(frequency: float, chance: float):
    """The number found reaches the chance; one plant fewer does not."""
    found = plants_for_allele(frequency, chance)
    assert chance_of_keeping(frequency, found.plants, selfing=True) >= chance - 1e-9
    assert found.plants == 1 or chance_of_keeping(frequency, found.plants - 1, selfing=True) < chance + 1e-9
    assert chance_of_keeping(frequency, found.plants_crossing, selfing=False) >= chance - 1e-9


@given(st.integers(1, 60), st.floats(5, 100), st.floats(0, 80))
def test_seeds_to_be_sure_are_just_enough(plants: int, germination: float, losses: float):
    """Counted out with the binomial: enough in 95 of 100 sowings, and one seed fewer is not."""
    found = seeds_to_sow(plants, germination, losses)
    share = germination / 100 * (1 - losses / 100)
    assert found.seeds == math.ceil(round(plants / share, 6))
    assert found.seeds_to_be_sure >= found.seeds
    if share < 1:
        assert at_least(plants, found.seeds_to_be_sure, share) >= 0.95 - 1e-9
        fewer = found.seeds_to_be_sure - 1
        assert fewer < max(found.seeds, plants) or at_least(plants, fewer, share) < 0.95 + 1e-9


def at_least(plants: int, sown: int, share: float) -> float:
    fewer = math.fsum(math.comb(sown, n) * share**n * (1 - share) ** (sown - n) for n in range(plants))
    return 1 - fewer


def test_all_that_is_sown_may_grow():
    """At 100 % without losses the plants are the seeds."""
    assert seeds_to_sow(20, 100).seeds_to_be_sure == 20


@given(sizes)
def test_the_effective_size_lies_between_fewest_and_mean(plants: list[float]):
    """And nearer to the fewest: never above the plain mean."""
    found = effective_size(plants)
    assert min(plants) * (1 - 1e-9) <= found <= sum(plants) / len(plants) * (1 + 1e-9)


@given(sizes)
def test_unequal_parents_are_never_worth_more_than_they_are(seed: list[float]):
    """At most as many as there are, at least one."""
    assert 1 - 1e-9 <= effective_parents(seed) <= len(seed) * (1 + 1e-9)


def test_diversity_only_shrinks():
    """A generation more never adds to it; hundred plants keep nearly all."""
    assert diversity_kept([100]) > 0.99
    assert diversity_kept([100, 3]) < diversity_kept([100])
    assert diversity_kept([]) == 1


@pytest.mark.parametrize(
    ("words", "call"),
    [
        ("frequency of 0", lambda: plants_for_allele(0, 0.95)),
        ("chance of 1", lambda: plants_for_allele(0.05, 1)),
        ("Give 1 to 100,000", lambda: seeds_to_sow(0, 80)),
        ("germination of 0 %", lambda: seeds_to_sow(5, 0)),
        ("Losses of 100 %", lambda: seeds_to_sow(5, 80, 100)),
        ("each above 0", lambda: effective_size([10, 0])),
        ("from one at least", lambda: effective_parents([0, 0])),
        ("0.5 or more", lambda: diversity_kept([0.2])),
        ("0 or more plants", lambda: chance_of_keeping(0.5, -1, selfing=True)),
        ("More than 10,000,000 seeds", lambda: seeds_to_sow(100_000, 0.01)),
    ],
)
def test_what_cannot_be_is_refused(words: str, call):
    """With what to give."""
    with pytest.raises(PopulationError, match=words):
        call()


@pytest.mark.parametrize(
    ("first", "second", "answer"),
    [
        ("cabbage", "kale", "yes"),
        ("beetroot", "chard", "yes"),
        ("maize", "sweetcorn", "yes"),
        ("chinese-cabbage", "turnip", "yes"),
        ("turnip", "swede", "yes"),
        ("cabbage", "turnip", "no"),
        ("cabbage", "swede", "rarely"),
        ("squash-pepo", "squash-pepo", "yes"),
        ("squash-pepo", "squash-maxima", "no"),
        ("squash-moschata", "squash-argyrosperma", "yes"),
        ("melon", "cucumber", "no"),
        ("tomato", "tomato", "rarely"),
        ("pepper", "pepper", "yes"),
        ("onion", "leek", "rarely"),
        ("carrot", "leek", "no"),
    ],
)
def test_who_crosses_whom(first: str, second: str, answer: str):
    """Species, squash species, the cabbage triangle; the answer names both crops and is the same both ways."""
    one, other = crop(first), crop(second)
    found = would_cross(one, other)
    assert (found.answer, would_cross(other, one).answer) == (answer, answer)
    assert one.names["en_gb"] in found.why
    assert found.source


def test_every_line_of_the_crossing_table_names_species_that_there_are():
    """No pair stands twice, and at least one crop of each pair is known."""
    known = {one.binomial for one in all_crops()}
    pairs = [frozenset((line.text("first"), line.text("second"))) for line in table("crossing")]
    assert len(set(pairs)) == len(pairs)
    assert all(pair & known and len(pair) == 2 for pair in pairs)


def test_every_crop_can_be_asked_how_it_is_kept_true():
    """A distance or a plain word that none is known, and a way without distance for all that mate in a known way."""
    for one in all_crops():
        found = isolation(one)
        assert found.words.startswith(("Keep", "No distance"))
        assert found.ways or one.mating is None or one.pollination is None, one.key


def test_a_garden_is_looked_through_for_pairs():
    """The surest crossing comes first; a garden of one lot is no question."""
    garden = tuple(crop(key) for key in ("tomato", "cabbage", "tomato", "kale"))
    found = crossing_pairs(garden)
    assert [(one, other) for one, other, _ in found] == [(1, 3), (0, 2)]
    with pytest.raises(CrossingError, match="two lots or more"):
        crossing_pairs(garden[:1])
