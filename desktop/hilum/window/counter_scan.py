"""The scan line of the counter: packets go out scan by scan, each written at once, and come back by one key."""

from dataclasses import dataclass

from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hilum.benches import counter
from hilum.benches.counter import Given, OutToday, ReasonWanted
from hilum.benches.loose_out import LooseGiven, hand_out_loose, take_back_loose
from hilum.errors import KeeperError
from hilum.window.counter_event import EventChoice
from hilum.window.counter_loose import LooseEdit
from hilum.window.counter_tab import CounterTab
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.notice import Notice
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Quiet, SuggestLine, card, primary, row_of
from hilum.window.work import WorkDay

READY = "Scan the first packet."


class LastScan(Notice):
    """What the last scan did, in words large enough to be read from the other side of the table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, stays=True)
        self._words.setProperty("look", "figure")
        self.setAccessibleName(READY)


@dataclass(frozen=True, slots=True)
class Waiting:
    """A scan: what was typed, and how much; one that wants a reason waits for it."""

    typed: str
    packets: int
    # Milligrams or seeds, where it is loose seed.
    loose: tuple[int | None, int | None] | None = None


class HandOutTab(CounterTab):
    """Event and person above, the scan line, what it did, and the day's hand-outs below."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._done: list[Given | LooseGiven] = []
        self._waiting: list[Waiting] = []
        self.event_choice = EventChoice(work)
        self.to = SuggestLine(self._people)
        self.to.setPlaceholderText("optional")
        self.packets = QSpinBox()
        self.packets.setRange(1, counter.MOST_PACKETS)
        self.loose = LooseEdit()
        self.scan = QLineEdit()
        self.scan.setObjectName("scan")
        self.scan.setPlaceholderText("Scan a packet, or type its lot number and press Return")
        self.last = LastScan()
        self.reason = QLineEdit()
        self.reason.setPlaceholderText("why these may go nevertheless")
        self._reason_words = QLabel("&Reason")
        self._reason_words.setBuddy(self.reason)
        self.give_anyway = primary(QPushButton("Hand out &nevertheless"))
        self.leave_it = QPushButton("&Keep it here")
        self.undo = QPushButton("&Take back the last scan (F9)")
        self.undo_chosen = QPushButton("Take &back the chosen")
        self._total = Quiet("")
        self.table = RowsTable(_COLUMNS, "Handed out today", "Nothing has been handed out today.")
        self._lay_out()
        self._connect()
        self._show_waiting()
        self.last.show_words("next", READY)

    def _lay_out(self) -> None:
        top = QGridLayout()
        top.setHorizontalSpacing(12)
        top.addWidget(self.event_choice, 0, 0, 1, 6)
        for column, (words, field) in enumerate(
            (("Given to", self.to), ("Packets, next scan", self.packets), ("or loose seed", self.loose))
        ):
            label = QLabel(words)
            label.setBuddy(field)
            top.addWidget(label, 1, 2 * column)
            top.addWidget(field, 1, 2 * column + 1)
        top.setColumnStretch(1, 1)
        label = QLabel("&Scan")
        label.setBuddy(self.scan)
        asking = row_of(self._reason_words, stretch=False)
        asking.addWidget(self.reason, 1)
        asking.addWidget(self.give_anyway)
        asking.addWidget(self.leave_it)
        inside = QVBoxLayout()
        inside.setSpacing(8)
        inside.addLayout(top)
        scanning = row_of(label, stretch=False)
        scanning.addWidget(self.scan, 1)
        inside.addLayout(scanning)
        inside.addWidget(self.last)
        inside.addLayout(asking)
        foot = row_of(Heading("Handed out today"), stretch=False)
        foot.addWidget(self._total, 1)
        foot.addWidget(self.undo_chosen)
        foot.addWidget(self.undo)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(card(inside))
        layout.addLayout(foot)
        layout.addWidget(self.table, 1)

    def _connect(self) -> None:
        self.scan.returnPressed.connect(self.on_scanned)
        self.reason.returnPressed.connect(self.on_reason_given)
        self.give_anyway.clicked.connect(self.on_reason_given)
        self.leave_it.clicked.connect(self.on_left)
        self.undo.clicked.connect(self.on_undo)
        self.undo_chosen.clicked.connect(self.on_undo_chosen)
        self.table.choice_changed.connect(self.on_choice_changed)
        self.table.row_opened.connect(self.on_row_opened)
        # Once the event is chosen, the next thing is a scan.
        self.event_choice.settled.connect(self.scan.setFocus)

    def _people(self, typed: str) -> tuple[str, ...]:
        return self.work.attempt(counter.people_like, self.work.catalogue, typed) or ()

    # What the page asks.

    def refresh(self) -> None:
        self.event_choice.refresh()
        rows = self.work.attempt(counter.out_today, self.work.catalogue, on=self.work.today()) or ()
        self.table.set_rows(rows)
        # A hand-out may also go back by the history's keys, or at another desk.
        back = {row.id for row in rows if row.taken_back}
        self._done = [given for given in self._done if not set(line_ids(given)) & back]
        out = sum(row.packets for row in rows if not row.taken_back)
        lots = len({row.line.lot for row in rows if not row.taken_back})
        seed = sum(1 for row in rows if row.is_loose and not row.taken_back)
        told = [counted(out, "packet")] * bool(out) + ["loose seed"] * bool(seed)
        self._total.setText(f"{' and '.join(told)} of {counted(lots, 'lot')}" if lots else "")
        self.on_choice_changed()
        self.undo.setEnabled(bool(self._done))

    def focus_first(self) -> None:
        self.scan.setFocus()

    # Scanning.

    def on_scanned(self) -> None:
        """Hand out what was scanned, at once; the line is ready for the next scan."""
        typed, packets = self.scan.text().strip(), self.packets.value()
        if not typed:
            return
        try:
            seed = self.loose.amount()
        except KeeperError as error:
            self.last.show_bad(f"Not handed out. {error}")
            self.loose.setFocus()
            return
        self.scan.clear()
        # A number that was meant for one scan must not multiply the next.
        self.packets.setValue(1)
        self.loose.clear()
        self._hand_out(Waiting(typed, packets, seed), "")
        self.scan.setFocus()

    def _hand_out(self, wanted: Waiting, why: str) -> None:
        on, occasion, to = self.work.today(), self.event_choice.occasion(), self.to.text()
        given: Given | LooseGiven
        try:
            if wanted.loose is None:
                given = counter.hand_out(
                    self.work.catalogue, wanted.typed, on=on, packets=wanted.packets, occasion=occasion, to=to, why=why
                )  # fmt: skip
            else:
                mass_mg, seeds = wanted.loose
                given = hand_out_loose(
                    self.work.catalogue, wanted.typed, on=on, mass_mg=mass_mg, seeds=seeds, occasion=occasion, to=to,
                    why=why,
                )  # fmt: skip
        except ReasonWanted as asked:
            self._waiting.append(wanted)
            self._show_waiting()
            self.last.show_warn(f"Not handed out yet. {asked}")
            return
        except KeeperError as error:
            self.last.show_bad(f"Not handed out. {error}")
            return
        self._done.append(given)
        out, left = out_words(given)
        words = f"{out} out: {given.lot.name}. {left} left. {given.lot.number}"
        if given.caution:
            self.last.show_warn(f"{words}. {given.caution}")
        else:
            self.last.show_good(words)
        self.work.changes.tell(f"handed out {out} of {given.lot.number}")

    # Reasons.

    def _show_waiting(self) -> None:
        asks = bool(self._waiting)
        for widget in (self._reason_words, self.reason, self.give_anyway, self.leave_it):
            widget.setVisible(asks)
        if asks:
            more = f" ({len(self._waiting)} scans wait)" if len(self._waiting) > 1 else ""
            self._reason_words.setText(f"&Reason, {self._waiting[0].typed}{more}")

    def on_reason_given(self) -> None:
        """Hand out the scan that waits, with the reason."""
        why = self.reason.text().strip()
        if not self._waiting or not why:
            self.reason.setFocus()
            return
        first = self._waiting.pop(0)
        self.reason.clear()
        self._show_waiting()
        self._hand_out(first, why)
        self.scan.setFocus()

    def on_left(self) -> None:
        """Leave the scan that waits undone."""
        if self._waiting:
            first = self._waiting.pop(0)
            self.last.show_good(f"Kept here: {first.typed}.")
        self.reason.clear()
        self._show_waiting()
        self.scan.setFocus()

    # Taking back.

    def on_undo(self) -> None:
        """Put the packets of the last scan back on the shelf."""
        if self._done:
            # Off the pile first: the page that hears of the change sorts out what was taken back elsewhere.
            given = self._done.pop()
            if not self._take_back(line_ids(given), given.lot.name):
                self._done.append(given)
            self.undo.setEnabled(bool(self._done))
        self.scan.setFocus()

    def on_undo_chosen(self) -> None:
        """Put the packets of the chosen hand-outs back on the shelf."""
        rows = [row for row in self.table.chosen() if not row.taken_back]
        if rows:
            lines = tuple(row.id for row in rows)
            if self._take_back(lines, ", ".join(dict.fromkeys(row.line.lot for row in rows))):
                self._done = [given for given in self._done if not set(line_ids(given)) & set(lines)]
                self.undo.setEnabled(bool(self._done))
        self.scan.setFocus()

    def _take_back(self, lines: tuple[tuple[bool, int], ...], name: str) -> bool:
        on, packets = self.work.today(), 0
        seed = [line for is_loose, line in lines if is_loose]
        try:
            if len(seed) < len(lines):
                packed = tuple(line for is_loose, line in lines if not is_loose)
                packets = counter.take_back(self.work.catalogue, packed, on=on)
            for line in seed:
                take_back_loose(self.work.catalogue, line, on=on)
        except KeeperError as error:
            self.last.show_bad(f"Not taken back. {error}")
            return False
        back = [counted(packets, "packet")] * bool(packets) + ["loose seed"] * bool(seed)
        where = "On the shelf again." if packets else "In the lot's stock again."
        self.last.show_good(f"Taken back: {' and '.join(back)} of {name}. {where}")
        self.work.changes.tell(f"took back {' and '.join(back)}")
        return True

    def on_choice_changed(self) -> None:
        """Allow taking back what is chosen, or not."""
        self.undo_chosen.setEnabled(any(not row.taken_back for row in self.table.chosen()))

    def on_row_opened(self, row: OutToday) -> None:
        """Open the page of the lot."""
        self.lot_wanted.emit(row.line.lot)


def line_ids(given: Given | LooseGiven) -> tuple[tuple[bool, int], ...]:
    """Give what one scan wrote, as the rows of the day are known by."""
    if isinstance(given, LooseGiven):
        return ((True, given.movement_id),)
    return tuple((False, line) for line in given.lines)


def out_words(given: Given | LooseGiven) -> tuple[str, str]:
    """Give what one scan handed out, and what is left of it."""
    if isinstance(given, LooseGiven):
        return f"{given.words} loose", given.lot.stock_words
    return counted(given.packets, "packet"), str(given.packets_left)


def _time(row: OutToday) -> str:
    return row.line.entered_at.strftime("%H:%M")


def _lot(row: OutToday) -> str:
    return row.line.lot


def _name(row: OutToday) -> str:
    return f"{row.line.crop} “{row.line.variety}”"


def _amount(row: OutToday) -> str:
    return row.amount


def _amount_sort(row: OutToday) -> tuple[int, str]:
    return row.packets, row.amount


def _event(row: OutToday) -> str:
    # Rows can be copied out, and no school is named on anything that goes out.
    return counter.event_words(row.line.event, row.line.event_kind)


def _to(row: OutToday) -> str:
    return row.to


def _note(row: OutToday) -> str:
    return "taken back" if row.taken_back else row.line.why


def _note_tone(row: OutToday) -> str:
    return "warn" if row.taken_back else ""


_COLUMNS = (
    Column("Time", _time, least_px=60),
    Column("Lot", _lot, least_px=130),
    Column("Crop and variety", _name, least_px=230),
    Column("Packets", _amount, _amount_sort, right=True, least_px=76),
    Column("Event", _event),
    Column("Given to", _to),
    Column("Note", _note, tone=_note_tone),
)
