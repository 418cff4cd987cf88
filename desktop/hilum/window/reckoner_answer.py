"""The answer to a question: the figure, what it says, its picture or table, and on whose word."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hilum.benches.reckoning import Sum
from hilum.window.models import Column, RowsTable
from hilum.window.reckoner_pictures import Answer
from hilum.window.reckoner_plot import Plot, SumPicture
from hilum.window.reckoner_words import output_lines, result_words
from hilum.window.theme import ROW_PX
from hilum.window.widgets import Notice, Quiet, row_of

AS_TABLE, AS_PICTURE = "As a &table", "As a pic&ture"
MOST_ROWS_SHOWN = 11


def _column(place: int, heading: str) -> Column:
    def text(row: tuple[str, ...]) -> str:
        return row[place]

    return Column(heading, text, right=True)


class SumAnswer(QWidget):
    """Shows one answer, or what is still needed for one."""

    def __init__(self) -> None:
        super().__init__()
        self._plot: Plot | None = None
        self._table: RowsTable | None = None
        self.result = QLabel()
        self.result.setProperty("look", "number")
        self.result.setWordWrap(True)
        self.result.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.refused = Notice(stays=True)
        self.picture = SumPicture()
        self.switch = QPushButton(AS_TABLE)
        self._outputs = QWidget()
        self._caption = Quiet("")
        self._notes, self._explained = Quiet(""), Quiet("")
        self._source = Quiet("")
        self._below_picture = QVBoxLayout()
        self._lay_out()
        self.switch.clicked.connect(self.on_switch)
        self.show_needed(())

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        for widget in (self.refused, self.result, self.words):
            layout.addWidget(widget)
        layout.addLayout(self._below_picture)
        self._below_picture.addWidget(self.picture)
        self._below_picture.addWidget(self._caption)
        self._outputs.setLayout(QGridLayout())
        layout.addLayout(row_of(self.switch))
        layout.addWidget(self._outputs)
        for words in (self._notes, self._explained, self._source):
            layout.addWidget(words)

    # What can stand here.

    def explain(self, words: str) -> None:
        """Say shortly what the answer to this question rests on."""
        self._explained.setText(words)

    def show_needed(self, labels: tuple[str, ...]) -> None:
        """Say what is still to be typed, or that a field must be put right: it says itself what is wrong."""
        self._empty()
        put_right = "The answer comes when the field marked ✕ is put right."
        self.words.setText(f"Still needed: {'; '.join(labels)}." if labels else put_right)
        self.words.show()

    def show_refused(self, words: str) -> None:
        """Say why there is no answer."""
        self._empty()
        self.refused.show_warn(words)

    def show_answer(self, wanted: Sum, answer: Answer) -> None:
        """Show what a sum gave."""
        self._empty()
        outcome = answer.outcome
        self.result.setText(result_words(wanted, outcome))
        self.result.setAccessibleName(f"Result: {result_words(wanted, outcome)}")
        self.result.show()
        self.words.setText(outcome.words)
        self.words.show()
        self._show_plot(answer.plot)
        self._show_outputs(output_lines(wanted, outcome))
        notes = [note for note in outcome.notes if note not in self._explained.text()]
        self._notes.setText("\n".join(notes))
        self._notes.setVisible(bool(notes))
        self._source.setText(f"Source: {outcome.source}")
        self._source.show()

    def _empty(self) -> None:
        self.refused.clear()
        for widget in (self.result, self.words, self._notes, self._source, self._outputs):
            widget.hide()
        self._show_plot(None)

    def _show_plot(self, plot: Plot | None) -> None:
        as_table = self._table is not None and plot is not None and self._plot is not None
        if self._plot is not None and plot is not None and plot.title != self._plot.title:
            as_table = False
        if plot is not None or self._table is not None:
            self._drop_table()
        self._plot = plot
        self.picture.show_plot(plot)
        self.picture.setVisible(plot is not None)
        self._caption.setText("" if plot is None else plot.caption)
        self._caption.setVisible(bool(self._caption.text()))
        self.switch.setVisible(plot is not None and bool(plot.rows))
        self.switch.setText(AS_TABLE)
        if as_table:
            self.on_switch()

    def _drop_table(self) -> None:
        if self._table is not None:
            self._below_picture.removeWidget(self._table)
            self._table.hide()
            self._table.deleteLater()
            self._table = None

    def on_switch(self) -> None:
        """Show the picture's figures as a table, or the picture again."""
        plot = self._plot
        if plot is None:
            return
        if self._table is not None:
            self._drop_table()
            self.picture.show()
            self.switch.setText(AS_TABLE)
            return
        columns = [_column(place, words) for place, words in enumerate(plot.headings)]
        self._table = RowsTable(columns, plot.title, "")
        self._table.setSortingEnabled(False)
        self._table.set_rows(plot.rows)
        rows = min(len(plot.rows), MOST_ROWS_SHOWN)
        self._table.setFixedHeight(self._table.horizontalHeader().sizeHint().height() + rows * ROW_PX + 6)
        self._below_picture.insertWidget(0, self._table)
        self.picture.hide()
        self.switch.setText(AS_PICTURE)

    def _show_outputs(self, lines: tuple[tuple[str, str], ...]) -> None:
        # A layout cannot be exchanged; the widget that holds it can.
        fresh = QWidget()
        grid = QGridLayout(fresh)
        grid.setContentsMargins(0, 4, 0, 4)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 3)
        grid.setColumnStretch(1, 2)
        for row, (name, value) in enumerate(lines):
            caption, figure = Quiet(name), QLabel(value)
            figure.setWordWrap(True)
            figure.setTextFormat(Qt.TextFormat.PlainText)
            figure.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            figure.setAccessibleName(f"{name}: {value}")
            grid.addWidget(caption, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(figure, row, 1, Qt.AlignmentFlag.AlignTop)
        old = self._outputs
        layout = self.layout()
        assert layout is not None
        layout.replaceWidget(old, fresh)
        old.hide()
        old.deleteLater()
        self._outputs = fresh
        fresh.setVisible(bool(lines))
