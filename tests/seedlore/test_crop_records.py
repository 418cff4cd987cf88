"""The table of names and links: every crop is whole, and no link dangles."""

import csv
import re
from collections import Counter

import pytest

from hilum.resources import resource
from hilum.seedlore.crops import LANGUAGES, Crop, UnknownCrop, all_crops, crop, crop_name
from hilum.seedlore.methods import method
from hilum.seedlore.standards import standard
from hilum.seedlore.tables import table

CROPS = all_crops()
every_crop = pytest.mark.parametrize("one", CROPS, ids=[one.key for one in CROPS])


def genus_of(name: str) -> str:
    return name.removeprefix("× ").split()[0]


def genera(one: Crop) -> set[str]:
    return {genus_of(name) for name in one.botanical_names}


def test_there_are_166_crops_with_keys_and_codes_of_their_own():
    """A lot number begins with the code, so no two crops may share one."""
    assert len(CROPS) == 166
    assert len({one.key for one in CROPS}) == 166
    assert len({one.code for one in CROPS}) == 166


def test_codes_are_three_capitals_without_i_and_o():
    """I and O are taken for 1 and 0."""
    assert [one.code for one in CROPS if not re.fullmatch("[A-HJ-NP-Z]{3}", one.code)] == []


def test_keys_are_plain_words():
    """Keys stand in files and commands."""
    assert [one.key for one in CROPS if not re.fullmatch("[a-z]+(-[a-z]+)*", one.key)] == []


@every_crop
def test_every_crop_has_a_name_in_every_language(one: Crop):
    """English (British, American), German, Spanish, French."""
    assert set(one.names) == set(LANGUAGES) == set(one.aliases)
    assert all(name == name.strip() and name for name in one.names.values())
    for language, aliases in one.aliases.items():
        assert one.names[language] not in aliases
        assert len(set(aliases)) == len(aliases)


def test_no_two_crops_have_one_first_name():
    """What stands on a label says which crop it is."""
    for language in LANGUAGES:
        names = Counter(crop_name(one, language) for one in CROPS)
        assert [name for name, times in names.items() if times > 1] == []


@every_crop
def test_no_link_of_a_crop_dangles(one: Crop):
    """A linked method and standard exist; a method is for a plant of the same genus."""
    if one.standard_kind is not None:
        assert standard(one.standard_kind).percent > 0
    if one.method_key is not None:
        found = method(one.method_key)
        assert found.botanical_name is not None
        assert genera(one) & {genus_of(name) for name in found.botanical_name.split("; ")}
    if one.constants_species is not None:
        species = {" ".join(name.split()[:2]) for name in one.botanical_names}
        assert one.constants_species in species


def test_every_link_is_said_even_when_there_is_none():
    """An empty cell would be a forgotten one."""
    for line in table("crop_names"):
        for column in ("method", "standard", "constants_species", "oily", "oily_source"):
            assert line.text(column)


def test_crops_are_linked_where_the_regulation_has_something_for_them():
    """Counted, so that a link lost by accident is noticed."""
    assert sum(one.method_key is not None for one in CROPS) == 91
    assert sum(one.standard_kind is not None for one in CROPS) == 62
    assert sum(one.constants_species is not None for one in CROPS) == 46


def test_no_standard_and_no_vegetable_method_is_forgotten():
    """What no crop is linked to is not among our crops."""
    kinds = {line.text("kind") for line in table("germination_standard_vegetable")}
    assert kinds - {one.standard_kind for one in CROPS} == {
        "Burdock, great",
        "Cabbage, tronchuda",
        "Citron",
        "Cress, upland",
        "Dandelion",
        "Kale, Chinese",
        "Kale, Siberian",
        "Mustard, spinach",
        "Pumpkin",  # the squashes are linked to Squash, which has the same figure
    }


@every_crop
def test_a_poisonous_crop_has_short_words_for_its_label(one: Crop):
    """At most 60 letters, and only where they are needed."""
    assert one.poisonous == (one.label_caution is not None)
    if one.label_caution is not None:
        assert len(one.label_caution) <= 60
        assert "POISONOUS" in one.label_caution
        assert one.unfit_for_children
        assert one.cautions  # the long words stand on the crop's page


@pytest.mark.parametrize(
    "key",
    [
        "foxglove",
        "castor-bean",
        "thorn-apple",
        "sweet-pea",
        "morning-glory",
        "four-oclock",
        "columbine",
        "butterfly-milkweed",
        "swamp-milkweed",
        "flowering-tobacco",
        "jute-mallow",
        "white-lupin",
        "potato-true-seed",
    ],
)
def test_crops_known_to_be_poisonous_are_marked(key: str):
    """The seeds or plants named as poisonous in the cautions of the crop table."""
    assert crop(key).poisonous


@pytest.mark.parametrize("key", ["habanero", "pepper", "peanut", "sesame", "foxglove"])
def test_seed_unfit_for_children_says_why(key: str):
    """Poisonous, hot, or a severe allergen."""
    assert crop(key).unfit_for_children
    assert crop(key).unfit_why


@pytest.mark.parametrize("key", ["leek", "pea", "tomato", "sunflower", "common-bean"])
def test_ordinary_crops_are_fit_for_a_school_garden(key: str):
    """The lists for schools would be empty otherwise."""
    assert not crop(key).unfit_for_children


@pytest.mark.parametrize(
    ("key", "grams", "source"),
    [
        ("leek", 1000 / 388, "from 388 seeds per gram, OLDS"),
        ("tomato", 2000 / (282 + 423), "middle of 282-423 seeds per gram, SPERRY"),
        ("broad-bean", 1200, "published weight, GSE"),
        ("basil", 1.6, "from memory, a round figure"),
        ("wild-rice", None, None),
    ],
)
def test_a_thousand_seed_weight_says_how_it_was_got(key: str, grams: float | None, source: str | None):
    """An estimate is never shown as a weighing."""
    found = crop(key)
    assert found.thousand_seed_weight_g == (None if grams is None else pytest.approx(grams))
    assert found.thousand_seed_weight_source == source


@every_crop
def test_a_weight_and_its_source_go_together(one: Crop):
    """Either both or neither."""
    assert (one.thousand_seed_weight_g is None) == (one.thousand_seed_weight_source is None)
    assert one.sources


def test_a_figure_from_memory_never_stands_before_a_published_one():
    """crop_weights.csv holds only crops for which the crop table has no figure."""
    published = {
        line.text("crop")
        for line in table("crops")
        if line.optional_number("thousand_seed_weight_g") or line.optional_number("seeds_per_gram_low")
    }
    assert {line.text("crop") for line in table("crop_weights")} & published == set()


def test_recalcitrant_and_intermediate_seed_is_known():
    """These must not be dried or frozen."""
    behaviours = {one.key: one.seed_behaviour for one in CROPS if one.seed_behaviour != "orthodox"}
    assert behaviours == {
        "chayote": "recalcitrant",
        "wild-rice": "recalcitrant",
        "pawpaw": "recalcitrant",
        "papaya": "intermediate",
    }


def test_botanical_names_are_put_together():
    """Genus, species and group; a hybrid of genera has no species."""
    assert crop("leek").botanical_name == "Allium ampeloprasum Porrum Group"
    assert crop("triticale").botanical_name == "× Triticosecale"
    assert "Lycopersicon esculentum" in crop("tomato").botanical_names


def test_an_unknown_crop_or_language_is_refused_in_words():
    """Keys come from files and scripts."""
    with pytest.raises(UnknownCrop, match="no crop with the key 'unicorn'"):
        crop("unicorn")
    with pytest.raises(UnknownCrop, match="no crop names in 'tlh'; there are some in en_gb"):
        crop_name(crop("leek"), "tlh")


def test_the_names_table_is_plain_utf8_csv():
    """Anybody can open and correct it in a spreadsheet."""
    with resource("seedlore", "crop_names.csv").open(encoding="utf-8", newline="") as file:
        assert len(list(csv.DictReader(file))) == 166
