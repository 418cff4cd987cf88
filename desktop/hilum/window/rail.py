"""The rail on the left: the benches by name, each with its sign and its key."""

from typing import NamedTuple

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QColor, QIcon, QPixmap
from PySide6.QtWidgets import QButtonGroup, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

SIGN_PX, BEAN_PX = 22, 28


class Bench(NamedTuple):
    """One bench: its name on the rail, and the module and class of its page, loaded when first shown."""

    title: str
    module: str
    page: str


BENCHES = (
    Bench("Day sheet", "day_sheet_page", "DaySheetPage"),
    Bench("Intake", "intake_page", "IntakePage"),
    Bench("Preparing", "preparing_page", "PreparingPage"),
    Bench("Catalogue", "catalogue_page", "CataloguePage"),
    Bench("Testing", "germination_page", "GerminationPage"),
    Bench("Packing", "packing_page", "PackingPage"),
    Bench("Counter", "counter_page", "CounterPage"),
    Bench("Store", "store_page", "StorePage"),
    Bench("Regrowing", "regrowing_page", "RegrowingPage"),
    Bench("Reckoner", "reckoner_page", "ReckonerPage"),
)


def bench_key(place: int) -> int:
    """Give the figure whose key leads to a bench: the tenth has the 0, as on the keyboard."""
    return place % 10


class Rail(QFrame):
    """Buttons with the names of the benches; the one at work is pressed in."""

    bench_wanted = Signal(str)

    def __init__(self, benches: tuple[Bench, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rail")
        self.setAccessibleName("Benches")
        self._buttons: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 10)
        layout.setSpacing(2)
        layout.addLayout(self._name_of_program())
        layout.addSpacing(10)
        for place, bench in enumerate(benches, start=1):
            layout.addWidget(self._button(bench.title, place))
        layout.addStretch(1)
        self.setFixedWidth(172)
        self._connect()

    def _button(self, title: str, place: int) -> QPushButton:
        button = QPushButton(title)
        button.setCheckable(True)
        # The signs are drawn after the first paint; until then their place is kept.
        button.setIcon(QIcon(_nothing(SIGN_PX)))
        button.setIconSize(QSize(SIGN_PX, SIGN_PX))
        key = bench_key(place)
        button.setToolTip(f"{title} (Ctrl+{key} or Alt+{key})")
        button.setEnabled(False)
        self._group.addButton(button)
        self._buttons[title] = button
        return button

    def _connect(self) -> None:
        self._group.buttonClicked.connect(self.on_clicked)

    def on_clicked(self, button: QPushButton) -> None:
        """Tell which bench is wanted."""
        self.bench_wanted.emit(button.text())

    def set_open(self, is_open: bool) -> None:
        """Let benches be chosen, or not while there is no catalogue."""
        for button in self._buttons.values():
            button.setEnabled(is_open)

    def show_bench(self, title: str) -> None:
        """Mark the bench at work."""
        if title in self._buttons:
            self._buttons[title].setChecked(True)

    def draw_anew(self) -> None:
        """Draw the signs in the colours now in force."""
        from hilum.window.icons import bench_icon, program_picture

        self._bean.setPixmap(program_picture(BEAN_PX))
        for title, button in self._buttons.items():
            button.setIcon(bench_icon(title))

    def _name_of_program(self) -> QHBoxLayout:
        self._bean, name = QLabel(), QLabel("Hilum")
        self._bean.setPixmap(_nothing(BEAN_PX))
        name.setProperty("look", "title")
        row = QHBoxLayout()
        row.setContentsMargins(18, 0, 8, 0)
        row.setSpacing(8)
        row.addWidget(self._bean)
        row.addWidget(name)
        row.addStretch(1)
        return row


def _nothing(side: int) -> QPixmap:
    """Give a picture with nothing on it."""
    picture = QPixmap(side, side)
    picture.fill(QColor(0, 0, 0, 0))
    return picture
