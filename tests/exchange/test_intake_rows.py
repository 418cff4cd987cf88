"""Rows understood: columns in four languages, crops, notes, choices, and what a table must have."""

from datetime import date

import pytest

from hilum.errors import BadInput
from hilum.exchange import crop_cells
from hilum.exchange.choices import Choices
from hilum.exchange.columns import MEANINGS, heading_at
from hilum.exchange.tables import read_table, table_from_cells
from hilum.seedlore.crops import UnknownCrop, all_crops
from tests.exchange.builders import SWAP, a_table, read_rows, the_refusal, the_row, understood


@pytest.mark.parametrize(
    "header",
    [
        "crop;botanical name;VARIETY;harvest year;where grown;grown by;donor;date received;weight;plants;"
        "remarks",
        "Kultur;Botanischer Name;Sorte;Erntejahr;Anbauort;Gärtnerin;Spender;Eingang;Gewicht;"
        "Anzahl Pflanzen;Bemerkung",
        "Cultivo;Nombre botánico;Variedad;Año de cosecha;Lugar de cultivo;Agricultor;Donante;Recibido el;"
        "Peso;Número de plantas;Observaciones",
        "Culture;Nom botanique;Variété;Année de récolte;Lieu de culture;Jardinière;Donateur;Reçu le;Poids;"
        "Nombre de plantes;Remarques",
    ],
    ids=["English", "German", "Spanish", "French"],
)
def test_headings_are_understood_in_four_languages(header):
    """Case, accents and punctuation aside."""
    cells = ["Leek", "Allium ampeloprasum", "Blue", "2024", "Plot 3", "Marit", "Oduya", "2024-10-05", "20 g"]
    row = the_row(understood(table_from_cells(header.split(";"), [[*cells, "42", "tall"]])))
    assert (row.crop_key, row.variety, row.year) == ("leek", "Blue", 2024)
    assert (row.place_grown, row.grower, row.donor) == ("Plot 3", "Marit", "Oduya")
    assert (row.received_on, row.amount, row.plants, row.notes) == (date(2024, 10, 5), 20_000, 42, "tall")
    assert row.came_from == "Marit"


@pytest.mark.parametrize(
    ("heading", "amount"),
    [
        ("Weight (g)", 5_000),
        ("weight in kg", 5_000_000),
        ("Gewicht [mg]", 5),
        ("Peso en gramos", 5_000),
        ("Grams", 5_000),
        ("Seeds", 5),
        ("Anzahl Samen", 5),
    ],
)
def test_a_heading_can_name_the_unit(heading, amount):
    """For the bare figures below it."""
    assert the_row(read_rows({"Weight": "", heading: "5"})).amount == amount


@pytest.mark.parametrize(
    ("heading", "words"),
    [
        ("Weight (with unit)", '"Weight (with unit)" is the weight or number of seeds'),
        ("Date (sown)", '"Date (sown)" is not known here: kept in the notes'),
        ("Weight (pods)", '"Weight (pods)" is not known here: kept in the notes'),
    ],
)
def test_words_in_brackets_may_change_what_a_heading_means(heading, words):
    """So a heading is taken without them only where they say nothing more."""
    reading = read_rows({"Weight": "", "Received": "", heading: "5 g"})
    assert reading.columns[-1].words == words


def test_an_unknown_column_goes_to_the_notes_with_its_heading():
    """Nothing a grower wrote is lost."""
    reading = read_rows({"Notes": "tall", "Colour": "blue", "Row": ""}, {"Colour": ""})
    assert reading.understood[0].notes == "tall\nColour: blue"
    assert reading.understood[1].notes is None
    words = [column.words for column in reading.columns]
    assert '"Colour" is not known here: kept in the notes' in words
    assert '"Row" is empty: not used' in words


def test_of_two_columns_with_one_meaning_the_second_goes_to_the_notes():
    """And the keeper is told."""
    reading = read_rows({"Cultivar": "Ashmere"})
    assert the_row(reading).notes == "Cultivar: Ashmere"
    assert reading.columns[-1].words == '"Cultivar" looks like "Variety", which is used: kept in the notes'


def test_the_keeper_can_say_what_a_column_is():
    """What was chosen goes before what was recognised."""
    reading = read_rows(
        {"Sort of name": "Ashmere", "Colour": "blue"},
        choices=Choices(columns={"Sort of name": "variety", "Colour": "not used"}),
    )
    row = the_row(reading)
    assert (row.variety, row.notes) == ("Ashmere", "Variety: Fenlock Grey")
    with pytest.raises(BadInput, match='No column of the file is headed "Size"'):
        read_rows({}, choices=Choices(columns={"Size": "variety"}))
    with pytest.raises(BadInput, match=r'A column cannot be "girth"\. It can be crop, botanical name'):
        read_rows({}, choices=Choices(columns={"Crop": "girth"}))
    assert "not used" in MEANINGS


def test_a_table_without_a_column_that_every_lot_needs_is_refused_once():
    """Rather than row by row."""
    table = table_from_cells(["Name", "Colour"], [["Leek", "blue"]] * 50)
    with pytest.raises(BadInput) as error:
        understood(table)
    assert (
        "headed as the crop (or the botanical name), the variety and the year; the headings are "
        '"Name" and "Colour"' in str(error.value)
    )
    with pytest.raises(BadInput, match="no row below it says anything"):
        understood(table_from_cells(["Crop", "Variety", "Year"], [["", "", ""]]))


def test_a_botanical_name_alone_names_a_crop():
    """And one that several crops share leaves the group open, which is no refusal."""
    reading = read_rows(
        {"Crop": "", "Botanical name": "Vicia faba"},
        {"Crop": "", "Botanical name": "Beta vulgaris"},
        {"Crop": "Leek", "Botanical name": "Allium ampeloprasum"},
    )
    bean, beet, leek = reading.understood
    assert (bean.crop_key, bean.taken_for) == ("broad-bean", ("Vicia faba taken as Broad bean",))
    assert (beet.crop_key, beet.open_group, beet.crop_written) == (None, "Beta vulgaris", "Beta vulgaris")
    assert {"beetroot", "chard"} <= set(beet.open_crops)
    assert beet.taken_for[0].startswith("crop left open: Beta vulgaris is shared by several crops")
    assert (leek.crop_key, leek.open_group, leek.taken_for) == ("leek", None, ())


def test_a_refused_crop_comes_with_the_crops_it_may_be():
    """As keys, so that a list of choices can be offered."""
    reading = read_rows({"Crop": "Pumpkin"}, {"Crop": "Letuce"})
    pumpkin, letuce = reading.refused
    assert (pumpkin.suggestion, letuce.suggestion) == (None, "Lettuce")
    assert len(pumpkin.problems[0].options) > 2
    assert letuce.problems[0].options == ("lettuce",)
    assert reading.asks == ("crop",)


def test_a_list_with_hundreds_of_unknown_crops_is_no_list_of_crops(monkeypatch):
    """One error, before minutes are spent on spellings."""
    monkeypatch.setattr(crop_cells, "_MOST_UNKNOWN", 3)
    names = [{"Crop": name} for name in ("Qwertz", "Zxcvb", "Poiuyt", "Lkjhgf")]
    assert len(read_rows(*names[:3], *names[:3]).refused) == 6
    with pytest.raises(BadInput, match='no crop known here, such as "Lkjhgf"'):
        read_rows(*names)


def test_names_that_disagree_are_refused():
    """The grower meant one of the two."""
    refusal = the_refusal(read_rows({"Crop": "Leek", "Botanical name": "Vicia faba"}))
    assert (refusal.column, refusal.suggestion) == ("Crop", None)
    assert "do not go together" in refusal.why


def test_the_keeper_can_say_which_crop_a_name_means():
    """For every row with that name, and the row says so."""
    key = next(crop.key for crop in all_crops() if crop.names["en_gb"] == "Tomato")
    reading = understood(read_table(SWAP), Choices(crops={"Tomate": key, "letuce": "lettuce"}, unit="g"))
    rows = {row.row: row for row in reading.understood}
    assert (rows[3].crop_key, rows[3].crop_written, rows[3].amount) == (key, "Tomate", 4_750)
    assert rows[3].taken_for[0] == "Tomate taken as Tomato, as you chose"
    assert rows[2].crop_key == "lettuce"
    with pytest.raises(UnknownCrop, match="There is no crop with the key 'unicorn'"):
        understood(read_table(SWAP), Choices(crops={"Tomate": "unicorn"}))


def test_every_choice_together_takes_in_all_of_the_swap_table_that_can_be_meant():
    """What is left is wrong in itself."""
    choices = Choices(
        decimal_mark=",",
        unit="g",
        crops={"Letuce": "lettuce", "Tomate": "tomato", "Pumpkin": "squash-maxima"},
    )
    reading = understood(read_table(SWAP), choices)
    assert [refusal.row for refusal in reading.refused] == [5, 10, 12, 14]
    [beetroot] = [row for row in reading.understood if row.row == 17]
    assert beetroot.amount == 1_200_000
    [pumpkin] = [row for row in reading.understood if row.row == 7]
    assert (pumpkin.amount, pumpkin.unit, pumpkin.amount_is_estimate) == (40, "seeds", True)


def test_a_row_that_goes_on_behind_the_last_heading_is_refused():
    """Its cells may all stand one column too far to the right."""
    table = table_from_cells(
        ["Crop", "Variety", "Year"], [["Leek", "Tall", "2024", "blue"], ["Leek", "Tall", "2024", " "]]
    )
    reading = understood(table)
    assert [row.row for row in reading.understood] == [3]
    refusal = the_refusal(reading)
    assert (refusal.row, refusal.column) == (2, "column D")
    assert 'goes on behind the last heading with "blue"' in refusal.why


def test_a_short_row_is_one_with_empty_cells_at_its_end():
    """Many programs write them so."""
    header = ["Crop", "Variety", "Year", "Weight", "Notes"]
    row = the_row(understood(table_from_cells(header, [["Leek", "Tall", "2024"]])))
    assert (row.amount, row.notes) == (None, None)


def test_a_variety_must_be_named_and_can_be_unknown():
    """An empty cell may be a slip; a word is not."""
    refusal = the_refusal(read_rows({"Variety": " "}, {"Variety": "unknown"}))
    assert (refusal.row, refusal.column) == (2, "Variety")
    assert 'Write its name, or "unknown"' in refusal.why


def test_numbers_of_plants_that_are_no_plain_number_are_kept_as_notes():
    """Thirty or more is no number to reckon with, but worth keeping."""
    reading = read_rows({"Plants": "42"}, {"Plants": "30+"}, {"Plants": "0"})
    assert [(row.plants, row.notes) for row in reading.understood] == [
        (42, None),
        (None, "Plants: 30+"),
        (None, "Plants: 0"),
    ]
    assert 'Plants "30+" is not a plain number: kept in the notes' in reading.understood[1].taken_for


def test_texts_too_long_for_a_lot_are_refused():
    """Rather than cut."""
    reading = read_rows({"Variety": "x" * 201}, {"Notes": "x" * 10_001})
    assert [refusal.column for refusal in reading.refused] == ["Variety", "Notes"]
    assert "has 201 letters; at most 200 fit" in reading.refused[0].why


def test_columns_without_a_heading_are_called_by_their_letter():
    """As a spreadsheet shows it."""
    assert [heading_at((), position) for position in (0, 25, 26, 701)] == [
        "column A",
        "column Z",
        "column AA",
        "column ZZ",
    ]
    reading = understood(
        table_from_cells(["Crop", "Variety", "Year", ""], [["Leek", "Tall", "2024", "blue"]])
    )
    assert the_row(reading).notes == "column D: blue"


def test_a_title_above_the_header_is_reported(tmp_path):
    """As a row that was skipped."""
    path = tmp_path / "list.csv"
    path.write_text("Seeds of our valley,,\nCrop,Variety,Year\nLeek,Tall,2024\n")
    reading = understood(read_table(path))
    assert [(skipped.row, skipped.why) for skipped in reading.skipped] == [
        (1, 'above the header: "Seeds of our valley"')
    ]


def test_a_typed_in_table_has_no_encoding_to_tell():
    """Only what was taken of its figures."""
    reading = understood(a_table({}))
    assert [fact.about for fact in reading.facts] == ["decimal mark", "date order", "unit"]
