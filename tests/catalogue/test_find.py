"""Find: any words in any order, typed as people type; and one lot by its number."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import insert, select, text, update

from hilum.catalogue import names, numbering
from hilum.catalogue.find import did_you_mean, matching, nearest_lot_numbers, rebuild_index, resolve_lot
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.numbering import NoSuchLot
from hilum.catalogue.opening import Catalogue, new_catalogue
from hilum.catalogue.records import lot, variety
from tests.catalogue.builders import TickingClock, a_lot, write_lot
from tests.support.servers import empty_database

LOTS: dict[str, dict[str, Any]] = {
    "leek": {"crop": "leek", "variety": "Crème de Harrow", "grower": "Ida Fenn", "place": "Upper Fold"},
    "bean": {"crop": "common-bean", "variety": "O'Neil's Black-seeded", "notes": "from a C. cross, 50% true"},
    "radish": {"crop": "radish", "variety": "Straße", "notes": "AND OR NOT near_ the wall"},
    "cabbage": {"crop": "pak-choi", "variety": "上海青", "notes": "上海青菜種子 from the market"},
    "thai": {"crop": "common-bean", "variety": "ถั่วพู", "year": 2024},
    "korean": {"crop": "radish", "variety": "조선무"},
    "russian": {"crop": "carrot", "variety": "Морковь Ёлка", "place": "Östervik"},
}


@pytest.fixture(params=("file", pytest.param("server", marks=pytest.mark.postgresql)), scope="module")
def shelf(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    """Give one catalogue of a few lots that every test of this module reads and none changes."""
    if request.param == "file":
        where: str | Path = tmp_path_factory.mktemp("find") / "library.hilum"
        with new_catalogue(where, clock=TickingClock()) as catalogue:
            _fill(catalogue)
            yield catalogue
        return
    with empty_database() as url, new_catalogue(url, clock=TickingClock()) as catalogue:
        _fill(catalogue)
        yield catalogue


def _fill(catalogue: Catalogue) -> None:
    with catalogue.job("fill") as job:
        for facts in LOTS.values():
            write_lot(job, **facts)


def found(catalogue: Catalogue, words: str) -> list[str]:
    """Give the short names of the lots that words find."""
    by_variety = {facts["variety"]: short for short, facts in LOTS.items()}
    with catalogue.look() as connection:
        condition = matching(connection, words)
        statement = select(variety.c.name).join(lot, lot.c.variety_id == variety.c.id).order_by(lot.c.id)
        if condition is not None:
            statement = statement.where(condition)
        return [by_variety[name] for name in connection.execute(statement).scalars()]


@pytest.mark.parametrize(
    ("words", "lots"),
    [
        ("leek", ["leek"]),
        ("LEEK ida", ["leek"]),
        ("ida leek", ["leek"]),
        ("fenn creme upper", ["leek"]),
        ("Crème", ["leek"]),
        ("CRE HARR", ["leek"]),
        ("h", ["leek", "bean", "thai"]),  # haricot is a bean in French
        ("u f i h", ["leek"]),
        ("rrow", []),
        ("leek radish", []),
        ("allium", ["leek"]),
        ("lauch", ["leek"]),
        ("2025 leek", ["leek"]),
        ("black-seeded", ["bean"]),
        ("black seeded", ["bean"]),
        ("o'neil", ["bean"]),
        ("O’Neil", ["bean"]),
        ("oneil", ["bean"]),
        ('"black" seeded', ["bean"]),
        ("C.", ["leek", "bean", "cabbage", "thai", "russian"]),
        ("C. cross", ["bean"]),
        ("50%", ["bean"]),
        ("AND", ["radish"]),
        ("and or not", ["radish"]),
        ("near_", ["radish"]),
        ("NEAR(wall)", ["radish"]),
        ("strasse", ["radish"]),
        ("STRASSE", ["radish"]),
        ("上海", ["cabbage"]),
        ("菜", ["cabbage"]),
        ("種子 market", ["cabbage"]),
        ("market 青", ["cabbage"]),
        ("海上", []),
        ("ถั่ว", ["thai"]),
        ("조선", ["korean"]),
        ("무", ["korean"]),
        ("морк", ["russian"]),
        ("ЕЛКА", ["russian"]),
        ("ostervik", ["russian"]),
        ("Östervik морковь", ["russian"]),
        ("zebra", []),
        ("", list(LOTS)),
        ("  ' \" * - ", list(LOTS)),
    ],
)  # fmt: skip
def test_words_find_their_lots(shelf: Catalogue, words: str, lots: list[str]) -> None:
    """Words in any order, begun or whole, with or without accents, in scripts with and without spaces."""
    assert found(shelf, words) == lots


@given(words=st.text(max_size=30))
def test_nothing_that_is_typed_breaks_find(shelf: Catalogue, words: str) -> None:
    """Whatever is typed is only words: no syntax of the index or of the query, no error."""
    found(shelf, words)


def test_every_beginning_of_every_word_finds_its_lot(shelf: Catalogue) -> None:
    """The find text of a lot, cut after any letter, leads back to the lot, on both engines alike."""
    with shelf.look() as connection:
        rows = connection.execute(select(lot.c.id, lot.c.find_text)).all()
        for lot_id, find_text in rows:
            for word in find_text.split():
                for end in range(1, len(word) + 1):
                    condition = matching(connection, word[:end])
                    assert condition is not None
                    assert lot_id in connection.execute(select(lot.c.id).where(condition)).scalars().all(), (
                        word[:end]
                    )


@pytest.mark.parametrize("notes", ["12e3a4", "0x1f9", "1e5x 3rd", "½ 25x", "v2.0", "a1b2c3", "١٢٣"])
def test_words_of_digits_and_letters_are_found(catalogue: Catalogue, notes: str) -> None:
    """What a server's parser would read as a number is a word like any other."""
    lot_id = a_lot(catalogue, notes=notes)
    with catalogue.look() as connection:
        for end in range(1, len(notes) + 1):
            condition = matching(connection, notes[:end])
            if condition is not None:
                assert connection.execute(select(lot.c.id).where(condition)).scalars().all() == [lot_id], (
                    notes[:end]
                )


def test_find_follows_every_change(catalogue: Catalogue) -> None:
    """A renamed lot is found by its new words and no longer by the old ones."""
    lot_id = a_lot(catalogue)
    with catalogue.job("rename") as job:
        job.run(update(variety).values(name="Winter Giant", folded="winter giant"))
        refresh_find_text(job, [lot_id])
    with catalogue.look() as connection:
        for words, expected in (("harrow", []), ("giant winter", [lot_id])):
            condition = matching(connection, words)
            assert condition is not None
            assert connection.execute(select(lot.c.id).where(condition)).scalars().all() == expected


def test_a_lost_index_can_be_made_anew(file_catalogue: Catalogue) -> None:
    """The index follows from the lots, so losing it loses nothing."""
    lot_id = a_lot(file_catalogue)
    with file_catalogue.job("lose") as job:
        job.run(text("INSERT INTO lot_find (lot_find) VALUES ('delete-all')"))
        condition = matching(job.connection, "harrow")
        assert condition is not None
        assert job.run(select(lot.c.id).where(condition)).scalars().all() == []
        rebuild_index(job)
        assert job.run(select(lot.c.id).where(condition)).scalars().all() == [lot_id]


@pytest.mark.postgresql
def test_the_server_uses_its_index(postgresql_url: str) -> None:
    """The condition is written as the index is, so that a large library does not read every lot."""
    with new_catalogue(postgresql_url, clock=TickingClock()) as catalogue:
        a_lot(catalogue)
        with catalogue.look() as connection:
            connection.execute(text("SET LOCAL enable_seqscan = off"))
            condition = matching(connection, "harrow blue")
            assert condition is not None
            statement = select(lot.c.id).where(condition)
            shown = str(statement.compile(connection, compile_kwargs={"literal_binds": True}))
            plan = " ".join(connection.execute(text("EXPLAIN " + shown.replace(":", r"\:"))).scalars())
    assert "ix_lot_find" in plan


@pytest.mark.parametrize(
    "typed",
    [
        "{number}", "{bare}", "{lower}", "  {number}  ", "{spaced}", "{number}\n", "{german}",
        "{lookalike}",
    ],
)  # fmt: skip
def test_a_number_is_known_however_it_is_typed(catalogue: Catalogue, typed: str) -> None:
    """Hyphens, blanks, case, a scanner's line end and a keyboard of another layout make no difference."""
    wanted = a_lot(catalogue, crop="leek")
    a_lot(catalogue, crop="leek")
    with catalogue.look() as connection:
        number = connection.execute(select(lot.c.number).where(lot.c.id == wanted)).scalar_one()
        readings = {
            "number": number, "bare": number.replace("-", ""), "lower": number.lower(),
            "spaced": number.replace("-", " "), "german": number.replace("-", "ß"),
            "lookalike": f"{number[:4]}{number[4:-2].replace('0', 'O').replace('1', 'l')}{number[-2:]}",
        }  # fmt: skip
        assert resolve_lot(connection, typed.format(**readings)) == wanted
        condition = matching(connection, typed.format(**readings))
        assert condition is not None
        assert connection.execute(select(lot.c.id).where(condition)).scalars().all() == [wanted]


def wrong_check(number: str) -> str:
    """Give the number with another last character."""
    return number[:-1] + ("A" if number[-1] != "A" else "B")


def test_a_mistyped_number_is_refused_with_the_nearest(catalogue: Catalogue) -> None:
    """The refusal says what is wrong and which number was probably meant."""
    wanted = a_lot(catalogue, crop="leek")
    a_lot(catalogue, crop="radish", year=2011)
    with catalogue.look() as connection:
        number = connection.execute(select(lot.c.number).where(lot.c.id == wanted)).scalar_one()
        with pytest.raises(NoSuchLot) as refused:
            resolve_lot(connection, wrong_check(number))
        assert str(refused.value) == (
            f"{wrong_check(number)} is not a lot number (its last character should be {number[-1]}). "
            f"Nearest: {number}."
        )
        swapped = number[:4] + number[5] + number[4] + number[6:]
        with pytest.raises(NoSuchLot, match=f"{swapped} is not a lot number .*Nearest: {number}"):
            resolve_lot(connection, swapped)


def test_a_number_that_nothing_has_is_said_so(catalogue: Catalogue) -> None:
    """A right number of no lot, a word, and nothing at all each get their own words."""
    a_lot(catalogue, crop="leek")
    absent = numbering.compose("RAD", 1999, 777)
    with catalogue.look() as connection:
        for typed, words in (
            (str(absent), f"There is no lot {absent} in this catalogue. No lot has a number near it."),
            ("leek", "LEEK is not a lot number; one looks like LEK-25-001-S. No lot has a number near it."),
            (" ", "Type or scan a lot number, for example LEK-25-001-S."),
            (
                "x" * 90,
                f"{'X' * 40}… is not a lot number; one looks like LEK-25-001-S. No lot has a number near it.",
            ),
        ):
            with pytest.raises(NoSuchLot) as refused:
                resolve_lot(connection, typed)
            assert str(refused.value) == words


def test_the_nearest_numbers_come_quickly_among_many(file_catalogue: Catalogue) -> None:
    """Among six thousand lots every single slip still leads back to its lot."""
    with file_catalogue.job("fill") as job:
        first, _ = write_lot(job)
        row = job.run(select(lot).where(lot.c.id == first)).one()._asdict()
        numbers = [
            number
            for code in ("ABC", "BRC", "CAB", "RAD", "TRN", "SWD", "KAL", "PEA", "SPN", "LET", "CAR", "BET")
            for year in range(2014, 2024)
            for serial in range(1, 52)
            if (number := numbering.compose(code, year, serial))
        ]
        job.run(insert(lot), [row | {"id": 100 + at, "number": number} for at, number in enumerate(numbers)])
    assert len(numbers) > 5_500
    with file_catalogue.look() as connection:
        wanted = numbers[::400]
        for number in wanted:
            assert number in nearest_lot_numbers(connection, number[:-3] + number[-2:])
            assert nearest_lot_numbers(connection, wrong_check(number))[0] == number


def test_a_mistyped_name_gets_a_suggestion(catalogue: Catalogue) -> None:
    """When words find nothing, near names of crops, varieties and synonyms that have lots are offered."""
    lot_id = a_lot(catalogue, crop="leek", variety="Crème de Harrow")
    with catalogue.job("name") as job:
        crop_id = job.run(select(variety.c.crop_id)).scalar_one()
        names.add_synonym(job, names.variety_id(job, crop_id, "Crème de Harrow"), "Fenland Long")
        refresh_find_text(job, [lot_id])
    with catalogue.look() as connection:
        assert did_you_mean(connection, "crene de harow") == ("Crème de Harrow",)
        assert did_you_mean(connection, "lek") == ("Leek",)
        assert did_you_mean(connection, "fenlnad") == ("Fenland",)
        assert did_you_mean(connection, "xylophone") == ()
        assert did_you_mean(connection, "radish") == (), "a crop without a lot is no help"
        assert did_you_mean(connection, "'") == ()
