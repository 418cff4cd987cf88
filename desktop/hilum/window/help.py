"""Help: every key on one page, and what the program is."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QMessageBox, QVBoxLayout, QWidget

from hilum import __version__
from hilum.window.icons import program_picture
from hilum.window.models import Column, RowsTable
from hilum.window.widgets import Quiet, Title

# Keys that no menu shows, because they belong to every table, dialog or field.
EVERYWHERE = (
    ("In a table: open the row under the cursor", "Enter"),
    ("In a table: copy the chosen rows for a spreadsheet", "Ctrl+C"),
    ("In a table: choose all rows", "Ctrl+A"),
    ("In a table: choose several rows", "Shift or Ctrl with the arrow keys or the mouse"),
    ("On the season's list: tick the chosen lots, or not", "Space"),
    ("On the season's list: fill by germinating seeds, or by seeds", "G"),
    ("On the season's list: take the chosen lots off", "Delete"),
    ("On the season's list: paste figures from a spreadsheet", "Ctrl+V"),
    ("From field to field", "Tab, and Shift+Tab back"),
    ("To a field or button with an underlined letter", "Alt and that letter"),
    ("Out of a dialog or list", "Esc"),
)


class KeysDialog(QDialog):
    """Shows what each key does."""

    def __init__(self, keys: tuple[tuple[str, str], ...], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Keys")
        table = RowsTable((Column("What it does", _what), Column("Key", _key)), "Keys", "", self, key=_what)
        table.set_rows((*keys, *EVERYWHERE))
        table.fit_columns()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(Title("Keys"))
        layout.addWidget(
            Quiet("A hand scanner types like a keyboard: scan into the find box from anywhere (F3).")
        )
        layout.addWidget(table, 1)
        layout.addWidget(buttons)
        self.resize(720, 640)


def _what(row: tuple[str, str]) -> str:
    return row[0]


def _key(row: tuple[str, str]) -> str:
    return row[1]


def about(parent: QWidget) -> QMessageBox:
    """Say what the program is, in a box that is left open."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setWindowTitle("About Hilum")
    box.setIconPixmap(program_picture(72))
    box.setText(f"Hilum {__version__}")
    box.setInformativeText(
        "A catalogue and label bench for the keeper of a community seed library. The hilum is the scar by which "
        "every seed shows where it was attached.\n\n"
        "Free software under the MIT licence. Crop facts, testing methods and standards come from published "
        "sources, which are named beside each figure. Label and plant-health law differ by country: check with "
        "your local authority."
    )
    box.addButton(QMessageBox.StandardButton.Close)
    box.open()
    return box
