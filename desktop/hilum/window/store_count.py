"""A stocktake at the window: scan, weigh, photograph; what differs from the book, and how it is settled."""

from pathlib import Path

from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QSpinBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.stocktake import (
    CAUTION,
    UNKNOWN,
    Counted,
    PhotoNoted,
    begin_stocktake,
    drop_stocktake,
    forget_seen,
    note_photo,
    note_seen,
    stocktake_now,
    stocktakes_open,
    write_stocktake,
)
from hilum.benches.store_view import PlaceHeld
from hilum.errors import KeeperError
from hilum.window.flow import FlowLayout
from hilum.window.lot_words import counted
from hilum.window.questions import Questions
from hilum.window.store_findings import FindingsTable
from hilum.window.widgets import GramsEdit, Notice, Quiet, form_row, primary, row_of
from hilum.window.work import Task, WorkDay

PICTURES = "Pictures (*.jpg *.jpeg *.png *.webp *.bmp);;All files (*)"


class StocktakeTab(QWidget):
    """Begins a stocktake of the chosen place, or goes on with the one that is under way."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work, self.questions = work, questions
        self._held: PlaceHeld | None = None
        self._now: Counted | None = None
        self._photos: list[Path] = []
        self._reading: Task | None = None
        self.setAcceptDrops(True)
        self.begin = primary(QPushButton("&Begin to count"))
        self._before = Quiet("")
        self.scan = QLineEdit()
        self.scan.setPlaceholderText("scan or type a lot number")
        self.at = QComboBox()
        self.gross, self.empty, self.seeds = GramsEdit(), GramsEdit(), QSpinBox()
        for line in (self.gross, self.empty):
            line.setMinimumWidth(88)
        self.seeds.setRange(-1, 10_000_000)
        self.seeds.setSpecialValueText("—")
        self.seeds.setMinimumWidth(96)
        self.seeds.setValue(-1)
        self.note = QPushButton("&Note it")
        self.photo = QPushButton("&Photo…")
        self.bar, self.stop = QProgressBar(), QPushButton("S&top")
        self.how_far = Quiet("")
        self.notice = Notice(stays=True)
        self.findings = FindingsTable()
        self.all = QPushButton("Settle &all as proposed")
        self.strike = QPushButton("Stri&ke this code")
        self.write = primary(QPushButton("&Write the corrections"))
        self.drop = QPushButton("&Drop the count")
        self._pages = QStackedWidget()
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        first, under_way = QWidget(), QWidget()
        begin = QVBoxLayout(first)
        begin.setContentsMargins(0, 10, 0, 0)
        begin.addWidget(self._before)
        begin.addWidget(Quiet(CAUTION))
        begin.addLayout(row_of(self.begin))
        begin.addStretch(1)
        counting = QVBoxLayout(under_way)
        counting.setContentsMargins(0, 10, 0, 0)
        counting.setSpacing(8)
        top, where, below = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        form_row(top, "&Lot", self.scan)
        top.addWidget(self.note)
        top.addWidget(self.photo)
        form_row(where, "L&ies in", self.at)
        where.setStretch(1, 1)
        form_row(below, "&With container", self.gross)
        form_row(below, "&Empty", self.empty)
        form_row(below, "&Seeds", self.seeds)
        below.addStretch(1)
        for row in (top, where, below):
            counting.addLayout(row)
        counting.addLayout(row_of(self.bar, self.stop))
        counting.addWidget(self.notice)
        counting.addWidget(self.how_far)
        counting.addWidget(self.findings, 1)
        counting.addLayout(FlowLayout(self.write, self.all, self.strike, self.drop))
        self._pages.addWidget(first)
        self._pages.addWidget(under_way)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._pages)
        self.bar.hide()
        self.stop.hide()

    def _connect(self) -> None:
        self.begin.clicked.connect(self.on_begin)
        self.scan.returnPressed.connect(self.on_note)
        self.gross.returnPressed.connect(self.on_note)
        self.empty.returnPressed.connect(self.on_note)
        self.note.clicked.connect(self.on_note)
        self.photo.clicked.connect(self.on_photo)
        self.stop.clicked.connect(self.on_stop)
        self.all.clicked.connect(self.findings.settle_all)
        self.strike.clicked.connect(self.on_strike)
        self.write.clicked.connect(self.on_write)
        self.drop.clicked.connect(self.on_drop)
        self.findings.itemSelectionChanged.connect(self.on_choice)

    # What is shown.

    def show_place(self, held: PlaceHeld | None, inner: tuple[PlaceHeld, ...] = ()) -> None:
        """Show the stocktake of another place, `inner` being the places within it."""
        same = self._held is not None and held is not None and held.place.id == self._held.place.id
        self._held = held
        under_way = None
        if held is not None:
            lines = self.work.attempt(stocktakes_open, self.work.catalogue) or ()
            under_way = next((each.id for each in lines if each.store_place_id == held.place.id), None)
            self._before.setText(
                f"{held.place.path} holds {counted(held.lots_within, 'lot')} by the book. A count may be broken off "
                "and taken up again on another day; nothing is written to the book before you say so."
            )
        self.begin.setEnabled(held is not None and held.place.closed_on is None)
        if not same:
            self.notice.clear()
            self.at.clear()
            for each in (held, *inner) if held is not None else ():
                self.at.addItem(each.place.path, each.place.id)
        found = None
        if under_way is not None:
            found = self.work.attempt(stocktake_now, self.work.catalogue, under_way)
        self._show(found)

    def _show(self, found: Counted | None) -> None:
        self._now = found
        self._pages.setCurrentIndex(0 if found is None else 1)
        if found is not None:
            self.how_far.setText(found.words)
            self.findings.set_findings(found.findings)
        self.on_choice()

    def focus_first(self) -> None:
        """Put the cursor where scanning goes on."""
        (self.begin if self._now is None else self.scan).setFocus()

    def on_choice(self) -> None:
        """Allow what can be done with the finding under the cursor."""
        finding = self.findings.chosen()
        self.strike.setEnabled(finding is not None and finding.kind == UNKNOWN)

    # What is done.

    def on_begin(self) -> None:
        """Begin to count the chosen place."""
        if self._held is not None:
            begun = self.work.attempt(
                begin_stocktake, self.work.catalogue, self._held.place.id, on=self.work.today()
            )
            if begun is not None:
                self._show(begun)
                self.focus_first()

    def on_note(self) -> None:
        """Note the lot in the scan line, with what was weighed or counted."""
        now, typed = self._now, self.scan.text().strip()
        if now is None or not typed:
            self.scan.setFocus()
            return
        for field in (self.gross, self.empty):
            if field.trouble():
                self.notice.show_bad(field.trouble())
                field.setFocus()
                return
        seeds = self.seeds.value() if self.seeds.value() >= 0 else None
        self.notice.clear()
        try:
            seen = note_seen(
                self.work.catalogue, now.id, typed, store_place_id=self.at.currentData(),
                gross_mg=self.gross.mass_mg(), tare_mg=self.empty.mass_mg(), seeds=seeds,
            )  # fmt: skip
        except KeeperError as error:
            # Said beside the scan line, where the keeper looks.
            self.notice.show_bad(str(error))
        else:
            self.notice.show_good(seen.words)
            for line in (self.scan, self.gross, self.empty):
                line.clear()
            self.seeds.setValue(-1)
            self._look_again()
        self.scan.setFocus()
        self.scan.selectAll()

    def _look_again(self) -> None:
        if self._now is not None:
            self._show(self.work.attempt(stocktake_now, self.work.catalogue, self._now.id))

    def on_photo(self) -> None:
        """Ask for a picture of the tray or shelf."""
        self.questions.ask_open_file(self, "A picture of the tray or shelf", PICTURES, self.on_picture)

    def on_picture(self, file: Path) -> None:
        """Read all codes of a picture beside the window; pictures that come meanwhile wait."""
        self._photos.append(file)
        if self._reading is None:
            self._next_photo()

    def _next_photo(self) -> None:
        now = self._now
        if now is None or not self._photos:
            return
        file = self._photos.pop(0)
        place_id = self.at.currentData()
        catalogue = self.work.catalogue

        def read(path: Path, **more: object) -> PhotoNoted:
            return note_photo(catalogue, now.id, path, store_place_id=place_id, **more)  # type: ignore[arg-type]

        self.bar.setRange(0, 0)
        self.bar.show()
        self.stop.show()
        self.photo.setEnabled(False)
        self._reading = self.work.run(
            read, file, done=self.on_read, failed=self.on_unread, progress=self.on_progress
        )

    def on_progress(self, reached: int, of: int) -> None:
        """Show how far the picture is read."""
        self.bar.setRange(0, of)
        self.bar.setValue(reached)

    def on_stop(self) -> None:
        """Stop reading; nothing of the picture is noted."""
        self._photos.clear()
        if self._reading is not None:
            self._reading.cancel()

    def on_read(self, noted: PhotoNoted) -> None:
        """Say what the picture brought."""
        self._end_reading()
        tone = "warn" if noted.unknown or not (noted.new or noted.before) else "good"
        self.notice.show_words(tone, noted.words)
        self._look_again()
        self._next_photo()

    def on_unread(self, why: str) -> None:
        """Say why a picture could not be read."""
        self._end_reading()
        self.notice.show_bad(why)
        self._next_photo()

    def _end_reading(self) -> None:
        self._reading = None
        self.bar.hide()
        self.stop.hide()
        self.photo.setEnabled(True)

    def on_strike(self) -> None:
        """Strike the code under the cursor."""
        finding, now = self.findings.chosen(), self._now
        if finding is not None and now is not None:
            code = finding.key.split(" ", 1)[1]
            if self.work.did(forget_seen, self.work.catalogue, now.id, code):
                self._look_again()

    def on_write(self) -> None:
        """Write what is settled; ask first where findings are left."""
        now = self._now
        if now is None:
            return
        ways = self.findings.ways()
        left = len(now.findings) - len(ways)

        def go() -> None:
            done = self.work.attempt(write_stocktake, self.work.catalogue, now.id, ways, on=self.work.today())
            if done is not None:
                self.work.changes.tell(done.words)

        if left:
            words = f"{counted(left, 'finding')} will be left as they are. End the count all the same?"
            self.questions.confirm(self, "End the count", words, "&End the count", go)
        else:
            go()

    def on_drop(self) -> None:
        """Ask, then end the count without writing anything."""
        now = self._now
        if now is None:
            return

        def go() -> None:
            if self.work.did(drop_stocktake, self.work.catalogue, now.id, on=self.work.today()):
                self.work.changes.tell("The count was dropped; the book is as it was.")

        words = f"{counted(len(now.seen), 'code')} seen so far will not be used. The book stays as it is."
        self.questions.confirm(self, "Drop the count", words, "&Drop it", go)

    # Pictures dropped onto the page.

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self._now is not None and event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        for url in event.mimeData().urls():
            if url.isLocalFile():
                self.on_picture(Path(url.toLocalFile()))
