"""The day sheet as it can be shown at once: the lots due, while the catalogue is still being opened."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hilum.benches.glance import Glance
from hilum.window import day_parts
from hilum.window.day_section import DaySection
from hilum.window.day_words import day_title
from hilum.window.widgets import Quiet, Title


class GlancePage(QWidget):
    """Only to be read, laid out like the day sheet that takes its place; work begins when that is there."""

    def __init__(self, seen: Glance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.seen = seen
        due = DaySection(day_parts.DUE)
        due.show_rows(seen.due, seen.due_total)
        due.wait()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(Title(day_title(seen.on)))
        layout.addWidget(Quiet("Opening the catalogue…"))
        layout.addWidget(due)
        layout.addStretch(1)
