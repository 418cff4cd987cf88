"""A dialog that does one piece of work: a title, fields, and a button; what is refused is said within it."""

import itertools

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from hilum.window.widgets import Notice, Quiet, Title, primary
from hilum.window.work import WorkDay


class WorkDialog(QDialog):
    """Subclasses add fields to `form` and do their work in `on_go`; the dialog closes by `accept`."""

    def __init__(self, work: WorkDay, parent: QWidget, title: str, words: str, go: str) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.work = work
        self.setWindowTitle(title)
        self.notice = Notice()
        self.form = QFormLayout()
        self.form.setHorizontalSpacing(14)
        self.form.setVerticalSpacing(8)
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.go = primary(self._buttons.addButton(go, QDialogButtonBox.ButtonRole.AcceptRole))
        layout = self._layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.setSpacing(12)
        heading = Title(title)
        heading.setWordWrap(True)
        layout.addWidget(heading)
        if words:
            layout.addWidget(Quiet(words))
        layout.addWidget(self.notice)
        layout.addLayout(self.form)
        layout.addStretch(1)
        layout.addWidget(self._buttons)
        self.setMinimumWidth(560)
        self._buttons.accepted.connect(self._on_accepted)
        self._buttons.rejected.connect(self.reject)
        work.trouble.connect(self.notice.show_bad)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        # The buttons were made before the fields; the keys go through the fields first.
        fields = [
            self.form.itemAt(row, QFormLayout.ItemRole.FieldRole) for row in range(self.form.rowCount())
        ]
        widgets = [item.widget() for item in fields if item is not None]
        chain: list[QWidget] = [*(widget for widget in widgets if widget is not None), self.go]
        for before, after in itertools.pairwise(chain):
            QWidget.setTabOrder(before, after)
        chain[0].setFocus()

    def _on_accepted(self) -> None:
        self.notice.clear()
        self.on_go()

    def on_go(self) -> None:
        """Do the work; close only when it was done."""
