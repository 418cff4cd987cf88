"""What a stocktake found, one row a finding, each with a choice of how it is settled."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from hilum.benches.stocktake import Finding
from hilum.window.theme import ROW_PX

LEAVE = "leave it as it is"
_FOUND, _SETTLE = 0, 1


class FindingsTable(QTableWidget):
    """One row a finding: what was found, and a choice of how it is settled."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, 2, parent)
        self.setAccessibleName("What differs from the book")
        self.setHorizontalHeaderLabels(["What was found", "What becomes of it"])
        self.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(_FOUND, QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setSectionResizeMode(_SETTLE, QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().resizeSection(_SETTLE, 260)
        self._findings: tuple[Finding, ...] = ()

    def set_findings(self, findings: tuple[Finding, ...]) -> None:
        """Show findings anew; what was chosen for one of them stays chosen."""
        chosen = self.ways()
        self._findings = findings
        self.setRowCount(len(findings))
        for row, finding in enumerate(findings):
            item = QTableWidgetItem(finding.words)
            item.setToolTip(finding.words)
            self.setItem(row, _FOUND, item)
            self.setCellWidget(row, _SETTLE, self._choice(finding, chosen.get(finding.key)))
        self.resizeRowsToContents()
        for row in range(self.rowCount()):
            self.setRowHeight(row, max(ROW_PX, self.rowHeight(row) + 4))

    def _choice(self, finding: Finding, chosen: str | None) -> QComboBox:
        box = QComboBox()
        who = finding.lot.number if finding.lot else "the code"
        box.setAccessibleName(f"What becomes of {who}, {finding.kind}")
        box.addItem(LEAVE, None)
        for way in finding.ways:
            box.addItem(way.words, way.key)
            box.setItemData(box.count() - 1, way.words, Qt.ItemDataRole.ToolTipRole)
        box.setEnabled(bool(finding.ways))
        box.setCurrentIndex(max(0, box.findData(chosen)))
        box.view().setMinimumWidth(460)
        return box

    def ways(self) -> dict[str, str]:
        """Give how each finding is settled that is settled, by its key."""
        found = {}
        for row, finding in enumerate(self._findings):
            box = self.cellWidget(row, _SETTLE)
            if isinstance(box, QComboBox) and box.currentData() is not None:
                found[finding.key] = box.currentData()
        return found

    def settle_all(self) -> None:
        """Take the first way for every finding that has one."""
        for row in range(self.rowCount()):
            box = self.cellWidget(row, _SETTLE)
            if isinstance(box, QComboBox) and box.count() > 1 and box.currentIndex() == 0:
                box.setCurrentIndex(1)

    def chosen(self) -> Finding | None:
        """Give the finding under the cursor."""
        row = self.currentRow()
        return self._findings[row] if 0 <= row < len(self._findings) else None
