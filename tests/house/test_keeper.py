"""The person at the window, and the fresh databases, do what tests rely on."""

import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from tests.support.keeper import Keeper


class JarPage(QWidget):
    """A small page with one of each thing a keeper meets."""

    def __init__(self) -> None:
        super().__init__()
        form = QFormLayout(self)
        self.name, self.crop, self.shelves, self.dry = (
            QLineEdit(),
            QComboBox(),
            QListWidget(),
            QCheckBox("&Dry"),
        )
        self.crop.addItems(["Leek", "Pea", "Broad bean"])
        self.shelves.addItems(["North", "South"])
        self.lots = QTableWidget(1, 2)
        self.lots.setItem(0, 0, QTableWidgetItem("Grey Ferryman"))
        self.button, self.said = QPushButton("&Record"), QLabel()
        for caption, field in (("&Name:", self.name), ("&Crop:", self.crop), ("&Shelf:", self.shelves)):
            form.addRow(caption, field)
        self.scan = QLineEdit()
        self.scan.setAccessibleName("Find or scan")
        for widget in (self.dry, self.lots, self.scan, self.button, self.said):
            form.addRow(widget)
        self.chosen: list[str] = []
        self._connect_signals()

    def _connect_signals(self) -> None:
        self.crop.textActivated.connect(self.chosen.append)
        self.button.clicked.connect(self.on_record)
        self.scan.returnPressed.connect(self.on_scan)
        QShortcut(QKeySequence("Ctrl+F"), self).activated.connect(self.scan.setFocus)

    def on_record(self) -> None:
        """Ask once more in a dialog."""
        dialog = QDialog(self)
        layout = QVBoxLayout(dialog)
        sure = QPushButton("&Record")
        sure.clicked.connect(dialog.accept)
        layout.addWidget(QLabel("Sure?"))
        layout.addWidget(sure)
        dialog.accepted.connect(lambda: self.said.setText(f"Recorded {self.name.text()}"))
        dialog.open()

    def on_scan(self) -> None:
        """Say what was scanned."""
        self.said.setText(f"Scanned {self.scan.text()}")


@pytest.fixture
def page(qtbot) -> JarPage:
    """Give the page, not yet shown."""
    return JarPage()


def test_the_keeper_types_into_a_labelled_field(qtbot, page):
    """What stood there is replaced."""
    page.name.setText("old")
    Keeper(qtbot, page).types("Name", "Old Toll Climber")
    assert page.name.text() == "Old Toll Climber"


def test_the_keeper_chooses_from_lists(qtbot, page):
    """A combo box says it was chosen by hand; a list and a table select."""
    keeper = Keeper(qtbot, page)
    keeper.chooses("Crop", "Pea")
    assert page.chosen == ["Pea"]
    assert keeper.reads("Crop") == "Pea"
    keeper.chooses("Shelf", "South")
    assert page.shelves.currentItem().text() == "South"
    keeper.picks("Grey Ferryman")
    assert page.lots.currentItem().text() == "Grey Ferryman"
    with pytest.raises(AssertionError, match="no entry 'Rye'; there are"):
        keeper.chooses("Crop", "Rye")


def test_the_keeper_presses_what_is_in_front(qtbot, page):
    """An open dialog is in front of the page, and only its buttons can be reached."""
    keeper = Keeper(qtbot, page)
    keeper.types("Name", "Hay Week")
    keeper.presses("Dry")
    assert page.dry.checkState() == Qt.CheckState.Checked
    keeper.presses("Record")
    assert keeper.sees("Sure?")
    assert not keeper.sees("Grey Ferryman")
    keeper.presses("Record")
    keeper.waits_to_see("Recorded Hay Week")


def test_greyed_out_and_missing_things_are_told(qtbot, page):
    """A miss says what is on the screen instead."""
    keeper = Keeper(qtbot, page)
    page.button.setEnabled(False)
    assert not keeper.can_press("Record")
    with pytest.raises(AssertionError, match="'Record' is greyed out"):
        keeper.presses("Record")
    with pytest.raises(
        AssertionError, match=r"0 of QAbstractButton 'Delete' on the screen; there are \['Dry', 'Record'\]"
    ):
        keeper.presses("Delete")


def test_keys_and_scanner_go_where_the_cursor_is(qtbot, page):
    """A shortcut moves the cursor, and the scanner types there."""
    keeper = Keeper(qtbot, page)
    keeper.keys("Ctrl+F")
    keeper.scans("LEK-25-0001-X")
    assert keeper.sees("Scanned LEK-25-0001-X")
    assert keeper.reads("Find or scan") == "LEK-25-0001-X"


def test_a_picture_is_taken(qtbot, page, tmp_path: Path):
    """The picture is a PNG of the window's size."""
    picture = QImage(str(Keeper(qtbot, page).takes_picture(tmp_path / "pictures" / "jar.png")))
    assert (picture.width(), picture.height()) == (page.width(), page.height())


@pytest.mark.postgresql
@pytest.mark.parametrize("turn", [1, 2])
def test_every_test_has_an_empty_database_of_its_own(postgresql_url: str, turn: int):
    """A table made in one turn is not there in the next; reached as the program reaches it."""
    from sqlalchemy import create_engine, text

    engine = create_engine(postgresql_url)
    with engine.begin() as connection:
        assert connection.scalar(text("select count(*) from pg_tables where schemaname = 'public'")) == 0
        connection.execute(text("create table jars (lid text)"))
        assert connection.scalar(text("show server_encoding")) == "UTF8"
    engine.dispose()


def test_no_test_sees_the_real_home(keeper_home: Path, tmp_path: Path):
    """The user's folders lie in the test's own place."""
    import platformdirs

    # Windows answers from its own registry, whatever the settings say.
    if sys.platform != "win32":
        assert Path(platformdirs.user_data_dir("hilum")).is_relative_to(tmp_path)
    assert keeper_home.is_relative_to(tmp_path)
