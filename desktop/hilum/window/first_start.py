"""Dialogs of the first start: where the catalogue lies, and who is at the bench."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hilum.window.icons import program_picture
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Notice, Quiet, Title, card, form_row, primary, row_of

SUFFIX = ".hilum"
WIDE_PX = 680
FILTERS = f"Catalogues (*{SUFFIX});;All files (*)"


class FirstStart(QDialog):
    """Asks where the catalogue lies: a new one, one that exists, or the demo library first."""

    new_wanted = Signal(str)
    open_wanted = Signal(str)
    demo_wanted = Signal()

    def __init__(self, usual: Path, questions: Questions, parent: QWidget, *, why: str = "") -> None:
        super().__init__(parent)
        self.setWindowTitle("Where the catalogue lies")
        self._questions = questions
        self._place = QLineEdit(str(usual))
        self._elsewhere = QPushButton("Else&where…")
        self._make = primary(QPushButton("&Make a new catalogue"))
        self._choose = QPushButton("&Choose its file…")
        self._server = QPushButton("On a &server…")
        self._demo = QPushButton("Look at the &demo library")
        self.notice = Notice()
        self._lay_out(why)
        self._connect()
        # Wrapped words need the height that goes with the width; Qt asks for it only of a shown layout.
        self.resize(WIDE_PX, self._layout.totalHeightForWidth(WIDE_PX))
        self._make.setFocus()

    def _lay_out(self, why: str) -> None:
        layout = self._layout = QVBoxLayout(self)
        layout.setContentsMargins(24, 20, 24, 20)
        layout.setSpacing(14)
        layout.addLayout(_greeting("Welcome to Hilum", why or "No catalogue has been opened here yet."))
        layout.addWidget(self.notice)
        new = QVBoxLayout()
        new.addWidget(Heading("Begin a new catalogue"))
        new.addWidget(
            Quiet(
                "One file holds it all. On a computer that several people use, choose a folder that all of them "
                "can reach. Safety copies are made beside it whenever Hilum is closed."
            )
        )
        label = form_row(new, "&File of the catalogue", self._place)
        label.setProperty("look", "quiet")
        new.addLayout(row_of(self._make, self._elsewhere))
        layout.addWidget(card(new))
        old = QVBoxLayout()
        old.addWidget(Heading("Open one that exists"))
        old.addWidget(
            Quiet("A catalogue's file ends in .hilum; libraries with several desks keep it on a server.")
        )
        old.addLayout(row_of(self._choose, self._server))
        layout.addWidget(card(old))
        look = QVBoxLayout()
        look.addWidget(Heading("Look round first"))
        look.addWidget(
            Quiet("An invented valley with some 400 lots over twelve years; nothing in it is real.")
        )
        look.addLayout(row_of(self._demo))
        layout.addWidget(card(look))
        self.setMinimumWidth(WIDE_PX)

    def _connect(self) -> None:
        self._make.clicked.connect(self.on_make)
        self._elsewhere.clicked.connect(self.on_elsewhere)
        self._choose.clicked.connect(self.on_choose)
        self._server.clicked.connect(self.on_server)
        self._demo.clicked.connect(self.demo_wanted)

    def on_make(self) -> None:
        """Tell that a new catalogue is wanted at the place shown."""
        place = self._place.text().strip()
        if not place:
            self.notice.show_bad("Say where the file of the new catalogue should lie.")
            return
        self.new_wanted.emit(place)

    def on_elsewhere(self) -> None:
        """Ask for another place for the new file."""
        self._questions.ask_save_file(
            self, "A new catalogue", self._place.text(), FILTERS, self.on_place_chosen
        )

    def on_place_chosen(self, file: Path) -> None:
        """Show the place that was chosen."""
        self._place.setText(str(file if file.suffix else file.with_suffix(SUFFIX)))

    def on_choose(self) -> None:
        """Ask for the file of a catalogue."""
        self._questions.ask_open_file(self, "Open a catalogue", FILTERS, self.on_file_chosen)

    def on_file_chosen(self, file: Path) -> None:
        """Tell which file is wanted."""
        self.open_wanted.emit(str(file))

    def on_server(self) -> None:
        """Ask for the address of a catalogue on a server."""
        words = "Address of the catalogue, as whoever runs the server gave it:"
        self._questions.ask_text(
            self, "A catalogue on a server", words, self.open_wanted.emit, "postgresql://name@host/library"
        )


class WhoIsHere(QDialog):
    """Asks who is at the bench; edits and movements carry that name. It can be left open."""

    person_named = Signal(str)

    def __init__(self, names: tuple[str, ...], parent: QWidget, *, now: str = "") -> None:
        super().__init__(parent)
        self.setWindowTitle("Who is at the bench?")
        self._name = QComboBox()
        self._name.setEditable(True)
        self._name.addItems(list(names))
        self._name.setCurrentText(now)
        line = self._name.lineEdit()
        if line is not None:
            line.setPlaceholderText("your name")
        self._begin = primary(QPushButton("&Begin"))
        self._skip = QPushButton("&Not now")
        self._begin.setDefault(True)
        self._begin.setAutoDefault(True)
        self._skip.setAutoDefault(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(24, 20, 24, 20)
        layout.setSpacing(12)
        words = (
            "What is entered today carries this name, so that the others know whom to ask. It can be left out, "
            "and changed in the line at the bottom."
        )
        layout.addLayout(_greeting("Who is at the bench?", words))
        form_row(layout, "Na&me", self._name)
        layout.addLayout(row_of(self._begin, self._skip))
        self.setMinimumWidth(520)
        self._connect()
        self.on_typed(self._name.currentText())
        self._name.setFocus()

    def _connect(self) -> None:
        self._begin.clicked.connect(self.on_begin)
        self._skip.clicked.connect(self.reject)
        self._name.currentTextChanged.connect(self.on_typed)

    def on_typed(self, text: str) -> None:
        """Let the day begin under a name only when there is one."""
        self._begin.setEnabled(bool(text.strip()))

    def on_begin(self) -> None:
        """Tell who is here."""
        name = self._name.currentText().strip()
        self.accept()
        self.person_named.emit(name)


def _greeting(title: str, words: str) -> QHBoxLayout:
    bean = QLabel()
    bean.setPixmap(program_picture(56))
    texts = QVBoxLayout()
    texts.addWidget(Title(title))
    texts.addWidget(Quiet(words))
    row = QHBoxLayout()
    row.setSpacing(14)
    row.addWidget(bean, 0, Qt.AlignmentFlag.AlignTop)
    row.addLayout(texts, 1)
    return row
