"""What all pages stand on: tables, grams, work beside the window, questions, colours."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from hilum.errors import BadInput
from hilum.window.models import Column, RowsModel, RowsTable
from hilum.window.questions import Questions
from hilum.window.theme import DARK, LIGHT, Theme, apply_theme, theme
from hilum.window.widgets import GramsEdit, Notice, SuggestLine, grams_text, mass_mg_of
from hilum.window.work import Pool
from tests.support.keeper import Keeper


@dataclass(frozen=True)
class Jar:
    """A row with a name and a weight that may not be known."""

    number: str
    grams: int | None


COLUMNS = (
    Column("Jar", lambda jar: jar.number),
    Column(
        "Grams",
        lambda jar: "" if jar.grams is None else f"{jar.grams}",
        sort=lambda jar: jar.grams,
        right=True,
    ),
)
JARS = (Jar("B", 10), Jar("A", None), Jar("C", 9))


@pytest.mark.parametrize(
    ("typed", "mass_mg"),
    [
        ("12", 12_000), ("12.5", 12_500), ("12,5", 12_500), ("0.250", 250), ("0,001", 1), ("3 kg", 3_000_000),
        ("40 mg", 40), (" 7 g ", 7_000), ("1.2340", 1_234), ("", None), ("1234.567", 1_234_567),
    ],
)  # fmt: skip
def test_grams_are_read_with_point_or_comma(typed: str, mass_mg: int | None):
    """What has one reading is taken; units may stand behind."""
    assert mass_mg_of(typed) == mass_mg


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1.234", "can be read in two ways"),
        ("12,345", "can be read in two ways"),
        ("1.234,5", "is no weight"),
        ("ten", "is no weight"),
        ("-3", "is no weight"),
        ("0.0005", "finer than a thousandth"),
        ("99999999", "more than a tonne"),
    ],
)
def test_grams_with_two_readings_are_refused_in_words(typed: str, words: str):
    """A mark followed by three digits could part thousands: no guess is made."""
    with pytest.raises(BadInput, match=words):
        mass_mg_of(typed)


@pytest.mark.parametrize("mass_mg", [1, 10, 999, 1_000, 1_234, 12_345, 250_000, 1_234_567])
def test_grams_written_are_read_again(mass_mg: int):
    """What the field shows can be typed back into it."""
    assert mass_mg_of(grams_text(mass_mg)) == mass_mg


def test_the_grams_field_says_its_trouble(qtbot: Any):
    """The field keeps no figure while what stands in it is not clear."""
    edit = GramsEdit()
    qtbot.addWidget(edit)
    with qtbot.waitSignal(edit.trouble_changed):
        qtbot.keyClicks(edit, "1.234")
    assert edit.mass_mg() is None
    assert "two ways" in edit.trouble()
    qtbot.keyClicks(edit, "0")
    assert (edit.mass_mg(), edit.trouble()) == (1_234, "")


def test_the_rows_model_is_a_sound_model(qtmodeltester: Any):
    """Qt's own tester finds nothing wrong with it."""
    model = RowsModel(COLUMNS)
    model.set_rows(JARS)
    qtmodeltester.check(model)


def test_what_is_not_known_is_sorted_last_either_way():
    """An empty figure is neither the least nor the most."""
    model = RowsModel(COLUMNS)
    model.set_rows(JARS)
    model.sort(1, Qt.SortOrder.AscendingOrder)
    assert [jar.number for jar in model.rows] == ["C", "B", "A"]
    model.sort(1, Qt.SortOrder.DescendingOrder)
    assert [jar.number for jar in model.rows] == ["B", "C", "A"]


def test_the_choice_survives_new_rows(qtbot: Any):
    """The same jar stays chosen when the list comes anew, in another order."""
    table = RowsTable(COLUMNS, "Jars", "No jars.")
    qtbot.addWidget(table)
    table.set_rows(JARS)
    table.choose(lambda jar: jar.number == "C")
    table.set_rows((Jar("C", 8), Jar("D", 1), Jar("B", 10)))
    assert table.chosen() == (Jar("C", 8),)
    table.set_rows((Jar("D", 1),))
    assert table.chosen() == ()


def test_copied_cells_do_not_run_as_formulas(qtbot: Any):
    """A name that begins with an equals sign arrives in the spreadsheet as text."""
    table = RowsTable(COLUMNS, "Jars", "No jars.")
    qtbot.addWidget(table)
    table.set_rows((Jar("=1+1", 5),))
    table.copy_chosen()
    assert QGuiApplication.clipboard().text() == "Jar\tGrams\n'=1+1\t5"


def test_work_comes_back_into_the_windows_thread(qtbot: Any):
    """The function runs elsewhere; its result is heard here."""
    pool, heard = Pool(), []

    def where() -> bool:
        return threading.current_thread() is threading.main_thread()

    pool.run(where, done=lambda ran_here: heard.append((ran_here, where())))
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [(False, True)]


def test_what_the_keeper_can_mend_comes_as_words(qtbot: Any):
    """A KeeperError becomes `trouble`, or goes to whoever asked for it."""
    pool, heard = Pool(), []

    def refuse() -> None:
        raise BadInput("The jar is empty.")

    pool.trouble.connect(heard.append)
    pool.run(refuse, done=heard.append)
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == ["The jar is empty."]


def test_long_work_tells_how_far_it_is_and_can_be_stopped(qtbot: Any):
    """Stopping is asked for by a flag that the work looks at."""
    pool, heard, steps = Pool(), [], []
    going = threading.Event()

    def long(progress: Callable[[int, int], None], stop: Callable[[], bool]) -> None:
        progress(1, 2)
        going.set()
        while not stop():
            going.wait(0.01)
        raise BadInput("It was stopped. Nothing was done.")

    task = pool.run(
        long, done=heard.append, failed=heard.append, progress=lambda at, of: steps.append((at, of))
    )
    assert pool.is_busy
    qtbot.waitUntil(lambda: bool(steps))
    task.cancel()
    qtbot.waitUntil(lambda: bool(heard))
    assert (steps, heard) == ([(1, 2)], ["It was stopped. Nothing was done."])


def test_a_closed_page_hears_no_result(qtbot: Any):
    """Work outlives the page that asked; its result is then nobody's."""
    pool, heard, go = Pool(), [], threading.Event()

    class Asker(QObject):
        def hear(self, result: object) -> None:
            heard.append(result)

    asker = Asker()
    pool.run(go.wait, 5, done=asker.hear)
    asker.deleteLater()
    qtbot.wait(20)
    go.set()
    pool.finish()
    qtbot.wait(50)
    assert heard == []


def test_a_question_needs_words_to_be_answered(qtbot: Any):
    """OK is greyed out until something is written; Cancel does nothing."""
    page, heard = QWidget(), []
    keeper = Keeper(qtbot, page)
    Questions().ask_text(page, "Why?", "Say why:", heard.append)
    assert not keeper.can_press("OK")
    keeper.types("Say why", "moths")
    keeper.presses("OK")
    assert heard == ["moths"]


def test_a_confirmation_does_nothing_unless_confirmed(qtbot: Any):
    """Cancel is the way out."""
    page, heard = QWidget(), []
    keeper = Keeper(qtbot, page)
    Questions().confirm(page, "Discard?", "The jar is emptied.", "Discard it", lambda: heard.append("done"))
    keeper.presses("Cancel")
    Questions().confirm(page, "Discard?", "The jar is emptied.", "Discard it", lambda: heard.append("done"))
    keeper.presses("Discard it")
    assert heard == ["done"]


def test_a_notice_says_its_kind_without_colour(qtbot: Any):
    """A sign and words for the eye, a name for the screen reader."""
    notice = Notice()
    qtbot.addWidget(notice)
    notice.show_bad("Not enough seed.")
    assert notice.accessibleName() == "Not done: Not enough seed."
    assert notice.words() == "Not enough seed."
    notice.clear()
    assert notice.words() == ""


def test_names_are_suggested_and_new_ones_allowed(qtbot: Any):
    """The list comes from the function handed in."""
    line = SuggestLine(lambda text: ("Leek", "Leek, summer") if text.lower().startswith("le") else ())
    qtbot.addWidget(line)
    line.show()
    qtbot.keyClicks(line, "le")
    assert line.completer().popup().isVisible()
    qtbot.keyClicks(line, "mon tree")
    assert line.text() == "lemon tree"


def contrast(one: str, other: str) -> float:
    """Give the contrast of two colours as WCAG 2.2 defines it (W3C, "relative luminance")."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_words_keep_their_contrast(colours: Theme):
    """4.5 to 1 for every ink on every ground it stands on (WCAG 2.2, success criterion 1.4.3)."""
    grounds = (colours.paper, colours.sheet, colours.band)
    pairs = [(ink, ground) for ink in (colours.ink, colours.quiet, colours.coat) for ground in grounds]
    pairs += [(ink, ground) for ink in (colours.good, colours.warn, colours.bad) for ground in grounds]
    pairs += [(colours.accent_ink, colours.accent), (colours.chosen_ink, colours.chosen)]
    pairs += [
        (colours.ink, ground) for ground in (colours.good_ground, colours.warn_ground, colours.bad_ground)
    ]
    too_faint = [
        (ink, ground, round(contrast(ink, ground), 2)) for ink, ground in pairs if contrast(ink, ground) < 4.5
    ]
    assert too_faint == []


def test_the_look_can_be_chosen(qapp: QApplication):
    """Dark and light are the keeper's own choice."""
    assert apply_theme(qapp, "dark") is theme() is DARK
    assert apply_theme(qapp, "light") is theme() is LIGHT
