"""The design table, as a keeper uses it: by mouse, by keys, by typing; the saved file and a printed page are read."""

import tomllib
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QMenu, QWidget

from hilum.benches import printing
from hilum.window.design_table import open_design_table
from tests.support.answers import Answers
from tests.support.keeper import Keeper

STOCK = "a4-2x4-99.1x67.7"
MADE_MS = 20_000
LEFT = Qt.MouseButton.LeftButton


class AtTable(Keeper):
    """A keeper at the design table."""

    def __init__(self, qtbot, work, answers, parent, design="jar", stock=STOCK):
        super().__init__(qtbot, parent)
        self.table = open_design_table(work, answers, parent, design, stock)
        self.table.activateWindow()
        self.waits()

    def waits(self):
        """Wait until the labels show the state of the design."""

        def are_there():
            trials, history = self.table._trials, self.table._history
            assert trials.shown is not None
            assert trials.shown.on == history.now
            assert trials._under_way is None

        self._bot.waitUntil(are_there, timeout=MADE_MS)

    def label(self, place=0):
        """Give the label of one lot."""
        return self.table.lots.lots[place].label

    def grounds(self, place=0):
        """Give where everything stands on one label."""
        return dict(self.label(place).tried.grounds)

    def drags(self, start: QPointF, right_mm: float, down_mm: float, place=0):
        """Press, draw and let go on one label."""
        label = self.label(place)
        px = label._px_per_mm
        end = start + QPointF(right_mm * px, down_mm * px)
        self._bot.mousePress(label, LEFT, pos=start.toPoint())
        for part in (0.3, 0.7, 1.0):
            self._bot.mouseMove(label, (start + (end - start) * part).toPoint())
        self._bot.mouseRelease(label, LEFT, pos=end.toPoint())
        self.waits()

    def middle(self, name, place=0):
        """Give the middle of something on one label."""
        return self.label(place).ground_rect(name).center()

    def clicks(self, name, place=0):
        """Click on something."""
        self._bot.mouseClick(self.label(place), LEFT, pos=self.middle(name, place).toPoint())

    def box(self, name):
        """Give a box as it stands in the design."""
        return self.table._history.now.box(name)

    def lays_on(self, words):
        """Choose from the menu of what can be laid on."""
        menu = self.table.picked.findChild(QMenu)
        menu.aboutToShow.emit()
        [action] = [each for each in menu.actions() if each.text() == words]
        action.trigger()
        self.waits()


@pytest.fixture
def answers():
    """Give someone who says yes, and calls the design “Our jar”."""
    return Answers(texts=("Our jar",))


@pytest.fixture
def keeper(qtbot, work_day, lots, answers):
    """Give a keeper with the jar design on the table."""
    parent = QWidget()
    parent.resize(1100, 720)
    return AtTable(qtbot, work_day, answers, parent)


def own_file(work_day, name):
    """Read a saved design's own file."""
    path = Path(work_day.catalogue.file).with_name("library label designs") / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def text_of(pdf):
    """Give the words of the first page in one line."""
    import pypdf

    return " ".join(pypdf.PdfReader(BytesIO(pdf)).pages[0].extract_text().split())


def page_words(pdf):
    """Give every character of the first page with its place in millimetres from the top left."""
    import pypdfium2

    from hilum.labels.proof import PDFIUM

    with PDFIUM:
        document = pypdfium2.PdfDocument(BytesIO(pdf))
        try:
            page = document[0]
            text = page.get_textpage()
            whole = text.get_text_range()
            found = {}
            for words in ("Candlewick", "2025"):
                at = whole.find(words)
                left, bottom, _, top = text.get_charbox(at)
                found[words] = (left * 25.4 / 72, (page.get_height() - bottom) * 25.4 / 72, top - bottom)
            return found
        finally:
            document.close()


def test_three_lots_lie_side_by_side_at_true_scale(keeper, lots):
    """As large as on paper, each with what it was chosen for, and the engine's words under it."""
    labels = [keeper.label(place) for place in range(3)]
    per_mm = keeper.table.logicalDpiX() / 25.4
    for label in labels:
        assert label._px_per_mm == pytest.approx(per_mm)
        assert label.width() == pytest.approx(99.1 * per_mm + 32, abs=1)
    assert len({label.mapTo(keeper.table, QPoint()).y() for label in labels}) == 1
    for words in ("the shortest words", "the oddest words", "the longest words"):
        assert keeper.sees(words)
    assert keeper.sees("✓ All of it fits.")


def test_what_is_drawn_on_one_label_moves_on_all_three_and_on_the_printed_page(keeper, work_day, lots):
    """Five millimetres right and four down, on the grid; in the file, and read back from a page printed by it."""
    before = printing.lot_labels(
        work_day.catalogue, [lots["Candlewick"]], printing.LabelJob("jar", STOCK), on=work_day.today()
    )
    high = keeper.grounds()["year"].y_mm
    keeper.drags(keeper.middle("year"), 5, 4)
    for place in range(3):
        ground = keeper.grounds(place)["year"]
        # Longer words above it may push it further down.
        assert ground.x_mm == 5
        assert ground.y_mm == round(high + 4) or (place and ground.y_mm > round(high + 4))
    assert keeper.sees("Your changes are not saved yet")
    keeper.presses("Save")
    keeper.waits_to_see("Commands know it as --design our-jar")
    [box] = [each for each in own_file(work_day, "our-jar")["layout"][0]["box"] if each["name"] == "year"]
    assert (box["left_mm"], box["from_edge_mm"]) == (5, round(high + 4))
    after = printing.lot_labels(
        work_day.catalogue, [lots["Candlewick"]], printing.LabelJob("our-jar", STOCK), on=work_day.today()
    )
    old, new = page_words(before.pdf)["2025"], page_words(after.pdf)["2025"]
    assert new[0] - old[0] == pytest.approx(5, abs=0.1)
    assert new[1] - old[1] == pytest.approx(round(high + 4) - high, abs=0.1)


def test_knobs_make_a_box_narrower_and_higher(keeper):
    """The one at its side, the one at its free edge."""
    keeper.clicks("grower")
    across = keeper.grounds()["grower"].width_mm
    keeper.drags(keeper.label().knob("grower", "wider"), -20, 0)
    assert keeper.box("grower").width_mm == round(across - 20)
    keeper.drags(keeper.label().knob("grower", "taller"), 0, 6)
    assert keeper.box("grower").height_mm == keeper.grounds(1)["grower"].height_mm >= 9
    # What stands on the bottom edge grows upwards.
    keeper.clicks("lot")
    low = keeper.grounds()["lot"].bottom_mm
    keeper.drags(keeper.label().knob("lot", "taller"), 0, -3)
    assert keeper.grounds()["lot"].bottom_mm == pytest.approx(low)
    assert keeper.box("lot").height_mm > 0


def test_the_code_is_drawn_into_another_corner(keeper, work_day):
    """And words flow round it there."""
    keeper.drags(keeper.middle("code"), -80, 0)
    assert keeper.table._history.now.layout.code.side == "left"
    assert keeper.grounds()["lot"].x_mm > 15
    assert keeper.field("Side it stands at").currentText() == "left"


def test_keys_pick_move_size_pass_and_take_off(keeper):
    """Tab, arrows, Shift and arrows, Page Down, Delete; each step can be taken back and done again."""
    keeper.label().setFocus()
    keeper.keys("Tab")
    first = keeper.table._name
    keeper.keys("Tab")
    assert keeper.table._name != first
    keeper.keys("Shift+Tab")
    assert keeper.table._name == first
    keeper.clicks("grower")
    name = keeper.table._name
    start = keeper.grounds()[name]
    # Three quick presses are three millimetres, however fast the labels follow.
    keeper.keys("Down", "Down", "Down", "Right", "Right")
    keeper.waits()
    moved = keeper.grounds()[name]
    assert (moved.x_mm, moved.y_mm) == (2, round(start.y_mm + 1) + 2)
    keeper.keys("Shift+Left", "Shift+Down")
    keeper.waits()
    assert keeper.box(name).width_mm > 0
    assert keeper.box(name).height_mm > 0
    for _ in range(2):
        keeper.keys("Ctrl+Z")
    keeper.waits()
    assert keeper.grounds()[name] == moved
    keeper.keys("Ctrl+Y")
    keeper.waits()
    assert keeper.box(name).width_mm > 0
    names = [box.name for box in keeper.table._history.now.layout.boxes]
    keeper.clicks("crop")
    keeper.keys("PgDown")
    keeper.waits()
    assert [box.name for box in keeper.table._history.now.layout.boxes][:2] == names[1::-1]
    keeper.clicks("library")
    keeper.keys("Delete")
    keeper.waits()
    assert "library" not in keeper.grounds()


def test_values_are_typed_over_in_the_sentence(keeper, work_day):
    """Letters, room, words; the file says them."""
    keeper.chooses("Picked", "“variety”")
    keeper.types("Largest letters", "20")
    keeper.types("Room above it", "2.5")
    keeper.chooses("Side of its words", "middle")
    keeper.chooses("Picked", "“year”")
    keeper.types("Piece 1 of its words", "grown in {year}")
    keeper.presses("Save")
    keeper.waits_to_see("Saved as “Our jar”")
    boxes = {each["name"]: each for each in own_file(work_day, "our-jar")["layout"][0]["box"]}
    assert boxes["variety"]["size_pt"] == [10, 20]
    assert (boxes["variety"]["gap_mm"], boxes["variety"]["align"]) == (2.5, "centre")
    assert boxes["year"]["parts"][0] == "grown in {year}"


def test_what_cannot_be_is_said_and_nothing_changes(keeper):
    """An unknown fact, a box the design needs; the field shows again what holds."""
    keeper.chooses("Picked", "“year”")
    keeper.types("Piece 1 of its words", "{yaer}")
    assert keeper.sees("{yaer} is not a field of a label. Did you mean {year}?")
    assert keeper.reads("Piece 1 of its words") == "{year}"
    keeper.presses("Take off")
    assert keeper.sees("no box shows year, which the design requires")
    assert not keeper.sees("Your changes are not saved yet")


def test_a_label_that_is_refused_says_why_under_its_lot(keeper):
    """Type too large for the longest variety; its boxes are still there to be taken hold of."""
    keeper.chooses("Picked", "“variety”")
    keeper.types("Smallest letters", "60")
    keeper.waits()
    assert keeper.sees("does not fit, even at 60 pt")
    assert any(keeper.label(place).tried.pdf is None for place in range(3))
    assert "variety" in keeper.grounds(2)
    keeper.presses("Take back")
    keeper.waits()
    assert not keeper.sees("does not fit, even at 60 pt")


def test_words_a_gauge_and_a_picture_are_laid_on(keeper, work_day, tmp_path, answers, lots):
    """The picture is copied beside the designs; the page has the words."""
    picture = tmp_path / "elsewhere" / "leaf.svg"
    picture.parent.mkdir()
    picture.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>'
    )
    answers.files.append(picture)
    keeper.lays_on("words of your own")
    keeper.types("Piece 1 of its words", "Bring some back")
    keeper.lays_on("the gauge of sowing depth")
    assert keeper.reads("Picked") == "the gauge of sowing depth"
    keeper.lays_on("a picture…")
    assert keeper.sees("The picture leaf.svg")
    keeper.types("Width", "9")
    keeper.waits()
    keeper.presses("Save")
    keeper.waits_to_see("Saved as “Our jar”")
    assert (tmp_path / "library label designs" / "leaf.svg").is_file()
    job = printing.LabelJob("our-jar", STOCK)
    made = printing.lot_labels(work_day.catalogue, [lots["Candlewick"]], job, on=work_day.today())
    assert "Bring some back" in text_of(made.pdf)
    [saved] = own_file(work_day, "our-jar")["layout"][0]["picture"]
    assert (saved["file"], saved["width_mm"]) == ("leaf.svg", 9)


def test_closing_with_changes_is_asked_and_loses_nothing(qtbot, work_day, lots):
    """No: the table stays with its changes. Yes: it goes."""
    answers = Answers(yes=False)
    keeper = AtTable(qtbot, work_day, answers, QWidget())
    table = keeper.table
    keeper.clicks("year")
    keeper.keys("Right")
    keeper.keys("Escape")
    assert table.isVisible()
    assert answers.asked[-1].title == "Changes are not saved"
    table.close()
    assert table.isVisible()
    # Another design on the table would lose them as well.
    keeper.chooses("Design", "Packet")
    assert keeper.reads("Design") == "Jar"
    assert keeper.box("year").left_mm == 1
    answers.yes = True
    keeper.presses("Close")
    assert not table.isVisible()


def test_a_shipped_title_is_not_taken_and_an_own_design_saves_itself(qtbot, work_day, lots):
    """Saved again after more changes and after steps taken back across the saving."""
    answers = Answers(texts=("Jar", "Our jar"))
    keeper = AtTable(qtbot, work_day, answers, QWidget())
    keeper.clicks("year")
    keeper.keys("Right")
    keeper.presses("Save")
    assert keeper.sees("“Jar” came with the program and stays as it is")
    keeper.presses("Save")
    keeper.waits_to_see("Saved as “Our jar”")
    assert not keeper.can_press("Save")
    assert keeper.reads("Design") == "Our jar (our own)"
    keeper.label().setFocus()
    keeper.keys("Ctrl+Z")
    assert keeper.can_press("Save")
    keeper.presses("Save")
    keeper.waits_to_see("Saved as “Our jar”")
    [box] = [each for each in own_file(work_day, "our-jar")["layout"][0]["box"] if each["name"] == "year"]
    assert "left_mm" not in box
    assert len(answers.asked) == 2


def test_a_faulty_own_file_is_told_and_stops_nothing(qtbot, work_day, lots):
    """File, line and what is allowed."""
    folder = Path(work_day.catalogue.file).with_name("library label designs")
    folder.mkdir()
    (folder / "bad.toml").write_text('title = "Bad"\npurpose = 3\n', encoding="utf-8")
    keeper = AtTable(qtbot, work_day, Answers(), QWidget())
    assert keeper.sees("Left out: bad.toml, line 2: purpose is 3; allowed: a text in quotes.")


def test_a_screen_reader_hears_what_is_picked_and_where_it_is(keeper, lots):
    """In millimetres, and again after it was moved."""
    keeper.clicks("year")
    said = keeper.label().accessibleName()
    assert said.startswith("Label of ")
    assert "“year”, " in said
    keeper.keys("Right")
    keeper.waits()
    assert "1.0 mm from the left" in keeper.label().accessibleName()


def test_the_table_is_reached_from_printing_and_its_design_chosen_there(qtbot, work_day, lots):
    """Saved on the table, printed at once."""
    from hilum.window.print_dialog import open_print_dialog

    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    dialog = open_print_dialog(work_day, Answers(texts=("For the swap day",)), parent, (lots["Candlewick"],))
    keeper.presses("Change the design…")
    keeper.waits_to_see("the longest words", MADE_MS)
    keeper.chooses("Picked", "“origin”")
    keeper.types("Piece 1 of its words", "grown in {year}")
    keeper.presses("Save")
    keeper.waits_to_see("Saved as “For the swap day”")
    keeper.presses("Close")
    assert keeper.reads("Design") == "For the swap day"
    keeper.presses("Make pages")
    qtbot.waitUntil(lambda: dialog.sheets.has_pages, timeout=MADE_MS)


def test_a_back_laid_down_while_the_front_is_still_tried_is_tried_as_a_back(keeper):
    """Three lots for the back are chosen anew; it says that it is a back, and all of it fits."""
    keeper.table.do("padding", lambda on: replace(on, design=replace(on.design, padding_mm=2.0)))
    keeper.table.lay("packet-back", "fold-c7-a4")
    keeper.waits()
    assert keeper.sees("a back, for it has no code")
    assert {each.refusal for each in (lot.label.tried for lot in keeper.table.lots.lots)} == {""}
    assert "code" not in keeper.grounds()
