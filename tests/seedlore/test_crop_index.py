"""Which crop a name means: nothing is guessed silently, and nothing plain is asked twice."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.crops import LANGUAGES, MATCH_KINDS, UnknownCrop, all_crops, crop_index, crop_name

DATA = Path(__file__).parents[1] / "data"
AUTUMN = list(csv.DictReader((DATA / "autumn_intake.csv").read_text(encoding="utf-8").splitlines()))
INDEX = crop_index()
SQUASHES = ["squash-pepo", "squash-maxima", "squash-moschata", "squash-argyrosperma"]


def keys_of(name: str | None, botanical: str | None = None) -> tuple[str, list[str]]:
    found = INDEX.match(name, botanical)
    return found.kind, [one.key for one in found.crops]


@pytest.mark.parametrize("row", AUTUMN, ids=[f"{row['Crop']} {row['Variety']}" for row in AUTUMN])
def test_every_crop_of_the_autumn_list_is_understood(row: dict[str, str]):
    """Thirty tidy rows with common and botanical name: none may be asked about."""
    kind, keys = keys_of(row["Crop"], row["Botanical name"])
    assert (kind, len(keys)) == ("exact", 1)


@pytest.mark.parametrize(
    ("name", "botanical", "key"),
    [
        ("Squash", "Cucurbita maxima", "squash-maxima"),
        ("Pumpkin", "Cucurbita moschata", "squash-moschata"),
        ("Maize", "Zea mays", "maize"),
        ("Sweetcorn", "Zea mays", "sweetcorn"),
        ("Cabbage", "Brassica oleracea", "cabbage"),
        ("Kale", "Brassica oleracea", "kale"),
        ("Leek", "Allium ampeloprasum", "leek"),
        ("Leek", "Allium porrum L.", "leek"),
        ("Swede", "Brassica napus", "swede"),
        ("Tomato", "Lycopersicon esculentum Mill.", "tomato"),
        ("Pepper", "Capsicum chinense", "habanero"),
        ("Celeriac", "Apium graveolens", "celeriac"),
        ("Triticale", "× Triticosecale", "triticale"),
        ("Onion", "Allium", "onion"),
        ("Onion", "Allium sp.", "onion"),
    ],
)
def test_name_and_botanical_name_settle_a_crop(name: str, botanical: str, key: str):
    """The botanical name chooses among the crops that share a name."""
    assert keys_of(name, botanical) == ("exact", [key])


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("Tomatoes", "tomato"),
        ("LEEKS", "leek"),
        ("Bean, common", "common-bean"),
        ("  beans,  runner ", "runner-bean"),
        ("Dwarf bean", "common-bean"),
        ("Dwarf French beans", "common-bean"),
        ("Sweet corn", "sweetcorn"),
        ("sweet-corn", "sweetcorn"),
        ("Broadbeans", "broad-bean"),
        ("Rutabaga", "swede"),
        ("Eggplant", "aubergine"),
        ("Courgettes", "squash-pepo"),
        ("Lamb's lettuce", "corn-salad"),
        ("lambs lettuce", "corn-salad"),
        ("Frisee", "endive"),
        ("Brussels sprouts", "brussels-sprouts"),
        ("Pepper", "pepper"),
        ("Radishes", "radish"),
        ("Bok choi", "pak-choi"),
    ],
)
def test_case_plural_accents_marks_and_order_do_not_matter(name: str, key: str):
    """British and American names count alike."""
    assert keys_of(name) == ("exact", [key])


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("Pumpkin", SQUASHES),
        ("Squash", SQUASHES),
        ("Bean", ["common-bean", "runner-bean", "lima-bean", "broad-bean"]),
        ("Mustard", ["mustard-greens", "white-mustard"]),
        ("Millet", ["proso-millet", "pearl-millet", "foxtail-millet"]),
        ("Corn", ["sweetcorn", "maize"]),
    ],
)
def test_a_shared_name_alone_is_ambiguous(name: str, keys: list[str]):
    """All crops that bear it are offered."""
    assert keys_of(name) == ("ambiguous", keys)
    assert "Write the botanical name too, or choose one." in INDEX.match(name).words


def test_a_misspelt_name_gets_a_suggestion():
    """Letuce: Lettuce stands first, and somebody has to say yes."""
    found = INDEX.match("Letuce")
    assert (found.kind, found.crops[0].key) == ("misspelt", "lettuce")
    assert found.words == 'No crop is called "Letuce". Is Lettuce meant?'


@pytest.mark.parametrize(
    ("name", "key", "language"),
    [
        ("Tomate", "tomato", "German"),
        ("Möhre", "carrot", "German"),
        ("mohre", "carrot", "German"),
        ("Puerro", "leek", "Spanish"),
        ("Haricot d’Espagne", "runner-bean", "French"),
    ],
)
def test_a_foreign_name_gets_a_suggestion(name: str, key: str, language: str):
    """Never taken without asking; the words say which language it seems to be."""
    found = INDEX.match(name)
    assert (found.kind, found.crops[0].key) == ("foreign", key)
    assert f"is a {language} name" in found.words


def test_a_misspelt_foreign_name_is_foreign_too():
    """Tomaten is nearer to Tomate than to Tomato."""
    assert keys_of("Tomaten") == ("foreign", ["tomato"])


def test_a_foreign_name_is_narrowed_by_the_botanical_name():
    """Kürbis is four crops, Kürbis with Cucurbita maxima one."""
    assert keys_of("Kürbis") == ("foreign", SQUASHES)
    assert keys_of("Kürbis", "Cucurbita maxima") == ("foreign", ["squash-maxima"])


def test_a_name_of_no_crop_is_unknown():
    """Nothing is offered where nothing is near."""
    assert keys_of("Unicorn root") == ("unknown", [])
    assert keys_of(None) == keys_of("", " ") == ("unknown", [])
    assert INDEX.match(None).words == "No crop is named. Write the crop's name."


def test_an_unknown_name_beside_a_known_botanical_name_is_asked():
    """The botanical name gives the suggestion and does not decide alone."""
    assert keys_of("Old Sturdy", "Allium porrum") == ("unknown", ["leek"])


def test_a_longer_name_with_a_crop_in_it_gets_that_crop_offered():
    """Growers write the variety into the crop."""
    assert keys_of("Black Fenland kale") == ("unknown", ["kale"])


def test_a_shared_botanical_name_alone_leaves_the_group_open():
    """Cabbages, maize, beet and onions: the row is not refused."""
    kind, keys = keys_of(None, "Brassica oleracea")
    assert kind == "open_group"
    assert keys == ["broccoli", "brussels-sprouts", "cabbage", "cauliflower", "collards", "kale", "kohlrabi"]
    assert keys_of("", "Zea mays") == ("open_group", ["sweetcorn", "maize"])
    assert keys_of("Corn", "Zea mays") == ("open_group", ["sweetcorn", "maize"])
    assert keys_of("Allium cepa") == ("open_group", ["onion", "shallot"])


@pytest.mark.parametrize(
    ("botanical", "keys"),
    [
        ("Brassica oleracea var. capitata", ["cabbage"]),
        ("Brassica oleracea Acephala Group", ["collards", "kale"]),
        ("Beta vulgaris subsp. cicla", ["chard"]),
        ("Solanum lycopersicum var. cerasiforme", ["tomato"]),
        ("Pisum sativum L.", ["pea"]),
    ],
)
def test_variety_and_group_in_a_botanical_name_narrow_it(botanical: str, keys: list[str]):
    """Authors and unknown varieties do no harm."""
    assert keys_of(None, botanical)[1] == keys


@pytest.mark.parametrize(
    ("name", "botanical"),
    [
        ("Leek", "Allium cepa"),
        ("Tomato", "Solanum tuberosum"),
        ("Petersilie", "Allium cepa"),
        ("Pepper", "Piper nigrum"),
    ],
)
def test_name_and_botanical_name_that_disagree_are_a_conflict(name: str, botanical: str):
    """Neither of the two is believed."""
    found = INDEX.match(name, botanical)
    assert found.kind == "conflict"
    assert "Correct one of the two." in found.words


def test_a_misspelt_botanical_name_gets_a_suggestion():
    """Beside a good common name, or alone."""
    assert keys_of("Tomato", "Solanum lycopersicon") == ("misspelt", ["tomato"])
    assert keys_of(None, "Pisum sativa") == ("misspelt", ["pea"])
    assert keys_of(None, "Planta ignota") == ("unknown", [])


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_first_name_means_its_crop(language: str):
    """A name read back from a label or a list is understood in its own language."""
    index = crop_index((language,))
    wrong = [
        (one.key, found.kind)
        for one in all_crops()
        if (found := index.match(crop_name(one, language))).kind != "exact" or found.crops != (one,)
    ]
    assert wrong == []


def test_every_botanical_name_leads_to_its_crop():
    """Synonyms too; shared ones leave the group open."""
    wrong = [
        name
        for one in all_crops()
        for name in one.botanical_names
        if one not in INDEX.match(None, name).crops
        or INDEX.match(None, name).kind not in ("exact", "open_group")
    ]
    assert wrong == []


def test_a_library_that_writes_german_has_english_as_the_foreign_language():
    """The languages are the library's choice."""
    index = crop_index(("de",))
    assert index.match("Möhre").kind == "exact"
    assert index.match("Carrot").kind == "foreign"
    assert index.match("Lauch").words == "Lauch is Lauch, Allium ampeloprasum Porrum Group."


def test_unknown_languages_are_refused():
    """A mistyped language is not an empty list of names."""
    with pytest.raises(UnknownCrop, match="no crop names in en; there are some in en_gb"):
        crop_index(("en",))


def test_typing_ahead_offers_names_that_go_on():
    """Names that begin so come before names with a later word that does."""
    names = [name for name, _ in INDEX.complete("pea", most=3)]
    assert names[0] == "Pea"
    assert all(name.casefold().startswith("pea") for name in names)
    every = [name for name, _ in INDEX.complete("pea", most=99)]
    assert every.index("Peanut") < every.index("Sweet pea")
    assert [one.key for _, one in INDEX.complete("leek")] == ["leek"]
    assert len(INDEX.complete("b", most=4)) == 4
    assert INDEX.complete("  ") == ()


@given(st.one_of(st.none(), st.text(max_size=30)), st.one_of(st.none(), st.text(max_size=30)))
def test_any_text_gets_an_answer(name: str | None, botanical: str | None):
    """Whatever stands in a grower's table, the index answers in words."""
    found = INDEX.match(name, botanical)
    assert found.kind in MATCH_KINDS
    assert found.words
    assert (len(found.crops) == 1) if found.kind == "exact" else found.kind
