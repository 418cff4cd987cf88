"""A list from a file: how it was understood is shown and settled before anything is written."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from hilum.benches.lots import LotFilter, find_lots
from hilum.window.intake_page import IntakePage
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper

DATA = Path(__file__).resolve().parents[1] / "data"


class AtTheDoor:
    """A keeper at the Intake bench with the list in hand."""

    def __init__(self, qtbot, work: WorkDay) -> None:
        self.answers = Answers()
        self.work = work
        self.page = IntakePage(work, self.answers)
        self.page.resize(1100, 720)
        self.keeper = Keeper(qtbot, self.page)

    def opens(self, file: Path) -> None:
        """Open a list by the button."""
        self.answers.files.append(file)
        self.keeper.presses("Open a list…")
        self.waits_for(file.name)

    def waits_for(self, words: str) -> None:
        """Wait until a list has been read."""
        self.keeper.waits_to_see(words)

    def lots(self, words: str = "") -> tuple:
        """Give the lots of the catalogue."""
        return find_lots(self.work.catalogue, LotFilter(words=words), on=self.work.today()).lots


@pytest.fixture
def door(qtbot, empty_day: WorkDay) -> AtTheDoor:
    """Give a keeper before an empty catalogue."""
    return AtTheDoor(qtbot, empty_day)


def write(path: Path, *lines: str) -> Path:
    """Write a small list."""
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_the_tidy_list_becomes_lots(door: AtTheDoor):
    """Everything in it is understood; nothing is written before the button is pressed."""
    door.opens(DATA / "autumn_intake.csv")
    door.waits_for("Refused (0)")
    assert door.lots() == ()
    [button] = [text for text in door.keeper.words() if text.startswith("Take in ")]
    door.keeper.presses(button)
    door.waits_for("lots taken in")
    assert len(door.lots()) == int(button.split()[2])
    assert any(lot.line.variety == "Fenlock Grey" and lot.stock_mg == 38_500 for lot in door.lots())


def test_how_the_list_was_read_stands_beside_it_with_its_proof(door: AtTheDoor):
    """Encoding, separator, decimal mark, date order and unit each say what proves them."""
    door.opens(DATA / "swap_table_cp1252.csv")
    for words in (
        "Windows-1252",
        "Separator: semicolon",
        "comma is a decimal mark",
        "day first",
        "each cell's own",
    ):
        door.waits_for(words)
    assert door.keeper.sees("Refused (8)")
    assert door.keeper.sees("Skipped (2)")


def test_accepting_a_suggestion_reads_the_list_anew(door: AtTheDoor):
    """The crop meant is settled for the name, and the row moves over to the good ones."""
    door.opens(DATA / "swap_table_cp1252.csv")
    door.waits_for("Will become lots (6)")
    door.page.review._tabs.setCurrentIndex(2)
    door.keeper.picks("Lettuce")
    assert door.keeper.sees("Is Lettuce meant?")
    door.keeper.presses("Accept suggestion")
    door.waits_for("Will become lots (7)")
    assert door.keeper.sees("Refused (7)")
    assert door.lots() == ()


def test_a_crop_that_can_be_several_is_chosen_by_name(door: AtTheDoor):
    """Where no single crop can be suggested the keeper names it."""
    door.opens(DATA / "swap_table_cp1252.csv")
    door.waits_for("Will become lots (6)")
    door.page.review._tabs.setCurrentIndex(2)
    door.page.review.refused.choose(lambda refusal: refusal.row == 7)
    door.keeper.types("Crop meant", "Glowroot")
    door.keeper.presses("Use for this name")
    door.waits_for("is no crop here")
    [first, *_] = door.page.review.suggest_crop("pumpkin")
    door.page.review._meant.clear()
    door.page.review._meant.setFocus()
    door.keeper.writes("pumpkin")
    door.keeper.picks(first)
    door.keeper.presses("Use for this name")
    door.waits_for("Will become lots (7)")


def test_changing_the_decimal_mark_reads_the_list_at_once(door: AtTheDoor, tmp_path: Path):
    """1.200 g is refused until the keeper says what the dot means."""
    file = write(tmp_path / "two_ways.csv", "Crop,Variety,Year,Weight", "Beetroot,Dusk Globe,2021,1.200 g")
    door.opens(file)
    door.waits_for("Refused (1)")
    door.keeper.chooses("Decimal mark", "Point, as in 38.5")
    door.waits_for("Will become lots (1)")
    assert door.keeper.sees("1.2 g")
    door.keeper.chooses("Decimal mark", "Comma, as in 38,5")
    door.waits_for("1200 g, received")


def test_a_column_nobody_knows_is_named_by_the_keeper(door: AtTheDoor, tmp_path: Path):
    """A list without a heading for the variety is shown with its trouble, and mended by one choice."""
    file = write(tmp_path / "odd.csv", "Crop,Nickname,Year,Weight", "Leek,Fenlock Grey,2025,20 g")
    door.opens(file)
    door.waits_for("No column with anything in it is headed as the variety")
    assert door.keeper.can_press("Take in 0 lots") is False
    door.keeper.chooses("Nickname", "variety")
    door.waits_for("Leek “Fenlock Grey”, 2025, 20 g")
    door.keeper.presses("Take in 1 lot")
    door.waits_for("1 lot taken in")
    assert [lot.line.variety for lot in door.lots()] == ["Fenlock Grey"]


def test_a_second_reading_of_the_same_list_doubles_nothing(door: AtTheDoor):
    """What is here already is refused, naming the lot."""
    for expected in ("lots taken in", "Nothing"):
        door.opens(DATA / "autumn_intake.csv")
        if expected == "Nothing":
            break
        door.waits_for("Refused (0)")
        [button] = [text for text in door.keeper.words() if text.startswith("Take in ")]
        door.keeper.presses(button)
        door.waits_for(expected)
        door.keeper.presses("Take in more")
    number = len(door.lots())
    door.waits_for("Will become lots (0)")
    assert door.keeper.sees(f"Refused ({number})")
    assert door.keeper.can_press("Take in 0 lots") is False


def test_a_row_asked_about_is_taken_in_when_ticked(door: AtTheDoor, tmp_path: Path):
    """The same but for its weight: the difference is shown, the tick decides."""
    head = "Crop,Variety,Year,Weight,Received"
    door.opens(write(tmp_path / "first.csv", head, "Leek,Fenlock Grey,2025,20 g,2025-10-04"))
    door.waits_for("Will become lots (1)")
    door.keeper.presses("Take in 1 lot")
    door.waits_for("1 lot taken in")
    door.keeper.presses("Take in more")
    door.opens(write(tmp_path / "second.csv", head, "Leek,Fenlock Grey,2025,25 g,2025-10-04"))
    door.waits_for("Asked (1)")
    door.page.review._tabs.setCurrentIndex(1)
    assert door.keeper.sees("25 g, 2025-10-04 here; 20 g, 2025-10-04 there")
    door.page.review.asked.setFocus()
    door.keeper.keys("Home", "Space")
    door.keeper.presses("Take in 1 lot")
    door.waits_for("1 lot taken in")
    assert sorted(lot.stock_mg for lot in door.lots()) == [20_000, 25_000]


def test_a_file_that_is_no_list_is_refused_in_words(door: AtTheDoor, tmp_path: Path):
    """A picture named like a table changes nothing."""
    file = tmp_path / "pods.csv"
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + b"\0" * 40)
    door.answers.files.append(file)
    door.keeper.presses("Open a list…")
    door.waits_for("is a picture, not a table")
    door.keeper.presses("Put the list away")
    assert door.keeper.sees("Type a lot in each row")


def test_a_list_can_be_dropped_on_the_page(door: AtTheDoor, tmp_path: Path):
    """Drag and drop does what the button does."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(DATA / "autumn_intake.csv"))])
    event = QDropEvent(
        QPointF(200, 200),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    door.page.dropEvent(event)
    door.waits_for("Refused (0)")
    assert door.keeper.sees("autumn_intake.csv")


def test_the_new_lots_go_on_to_preparing(door: AtTheDoor, qtbot):
    """The result hands the lot numbers to the next bench."""
    door.opens(DATA / "autumn_intake.csv")
    door.waits_for("Refused (0)")
    [button] = [text for text in door.keeper.words() if text.startswith("Take in ")]
    door.keeper.presses(button)
    door.waits_for("lots taken in")
    with qtbot.waitSignal(door.page.send_lots) as sent:
        door.keeper.presses("Go on to Preparing")
    assert sent.args[0] == "Preparing"
    assert set(sent.args[1]) == {lot.number for lot in door.lots()}
