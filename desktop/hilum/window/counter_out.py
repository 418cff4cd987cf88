"""What went out by variety, season and event, and the lists that go along to a swap day or a school."""

from pathlib import Path

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hilum.benches import counter, school_list
from hilum.benches.counter import WentOut
from hilum.errors import BadInput
from hilum.window.counter_tab import CounterTab
from hilum.window.flow import FlowLayout
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, choice_line, row_of
from hilum.window.work import WorkDay

EVERY = "every season"


class WentOutTab(CounterTab):
    """A table of what went out, narrowed to a season, and the lists on paper."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._rows: tuple[WentOut, ...] = ()
        self.season = choice_line(((EVERY, None),), "Season")
        self._total = Quiet("")
        self.table = RowsTable(_COLUMNS, "What went out", "No packet has been handed out yet.")
        self.csv = QPushButton("&Write as CSV…")
        self.take_away = QPushButton("Take-away list, &printed…")
        self.school = QPushButton("&School list, printed…")
        self.school_csv = QPushButton("School list as CS&V…")
        self._school_words = Quiet(
            "The school list leaves out poisonous, hot and treated seed and says how many were left out. No school "
            "is named on anything that is printed or written out."
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        top = row_of(self.season, stretch=False)
        top.addWidget(self._total, 1)
        layout.addLayout(top)
        layout.addWidget(self.table, 1)
        layout.addLayout(FlowLayout(self.csv, self.take_away, self.school, self.school_csv))
        layout.addWidget(self._school_words)
        self._connect()

    def _connect(self) -> None:
        self.season.currentIndexChanged.connect(self.show_season)
        self.csv.clicked.connect(self.on_csv)
        self.take_away.clicked.connect(self.on_take_away)
        self.school.clicked.connect(self.on_school)
        self.school_csv.clicked.connect(self.on_school_csv)

    def refresh(self) -> None:
        self.work.run(counter.went_out, self.work.catalogue, done=self.on_loaded)

    def focus_first(self) -> None:
        self.season.setFocus()

    def on_loaded(self, rows: tuple[WentOut, ...]) -> None:
        """Offer the seasons there are, and show the chosen one."""
        self._rows = rows
        chosen = self.season.currentData()
        self.season.blockSignals(True)
        self.season.clear()
        self.season.addItem(EVERY, None)
        for season in sorted({row.season for row in rows}, reverse=True):
            self.season.addItem(f"season {season}", season)
        self.season.setCurrentIndex(max(0, self.season.findData(chosen)))
        self.season.blockSignals(False)
        self.show_season()

    def shown(self) -> tuple[WentOut, ...]:
        """Give the rows of the chosen season."""
        season = self.season.currentData()
        return tuple(row for row in self._rows if season in (None, row.season))

    def show_season(self) -> None:
        """Show what went out in the chosen season."""
        rows = self.shown()
        self.table.set_rows(rows)
        varieties = len({(row.crop, row.variety) for row in rows})
        packets = sum(row.packets for row in rows)
        self._total.setText(
            f"{counted(packets, 'packet')} of {counted(varieties, 'variety', 'varieties')}" if rows else ""
        )
        self.csv.setEnabled(bool(rows))

    def on_csv(self) -> None:
        """Write the rows that are shown as CSV."""
        rows = self.shown()

        def write(file: Path) -> int:
            return counter.went_out_csv(rows, file)

        self.ask_csv("What went out", write)

    def on_take_away(self) -> None:
        """Print the lots with packets, with boxes to tick."""

        def make() -> bytes:
            today = self.work.today()
            lines = school_list.take_away_list(self.work.catalogue, on=today)
            if not lines:
                raise BadInput("There are no packets on the shelf to list. Pack some first.")
            return school_list.on_paper("Take-away list", self._library(), lines, on=today)

        self.ask_pdf("Take-away list", make)

    def on_school(self) -> None:
        """Print the lots that are fit for schools."""

        def make() -> bytes:
            found = self._school()
            words = f"{found.left_out_words} {school_list.CAUTION}"
            return school_list.on_paper(
                "Seed for schools", self._library(), found.lots, on=self.work.today(), words=words
            )

        self.ask_pdf("School list", make)

    def on_school_csv(self) -> None:
        """Write the lots that are fit for schools as CSV, and say how many were left out."""

        def write(file: Path) -> int:
            found = self._school()
            rows = school_list.as_csv(found.lots, file)
            self._school_words.setText(f"{found.left_out_words} {school_list.CAUTION}")
            return rows

        self.ask_csv("School list", write)

    def _school(self) -> school_list.SchoolList:
        found = school_list.school_list(self.work.catalogue, on=self.work.today())
        if not found.lots:
            raise BadInput(f"No lot with packets is fit for schools. {found.left_out_words}")
        return found

    def _library(self) -> str:
        return self.work.catalogue.settings().library_name


def _crop(row: WentOut) -> str:
    return row.crop


def _variety(row: WentOut) -> str:
    return row.variety


def _season(row: WentOut) -> str:
    return str(row.season)


def _kind(row: WentOut) -> str:
    return row.kind


def _event(row: WentOut) -> str:
    return row.event


def _packets(row: WentOut) -> str:
    return f"{row.packets:,}"


def _packets_sort(row: WentOut) -> int:
    return row.packets


def _seeds(row: WentOut) -> str:
    return f"{row.seeds:,}"


def _loose(row: WentOut) -> str:
    return row.loose_words


def _loose_sort(row: WentOut) -> tuple[int, int]:
    return row.loose_mg, row.loose_seeds


def _seeds_sort(row: WentOut) -> int:
    return row.seeds


_COLUMNS = (
    Column("Crop", _crop),
    Column("Variety", _variety, least_px=150),
    Column("Season", _season, least_px=70),
    Column("Kind", _kind),
    Column("Event", _event, least_px=140),
    Column("Packets", _packets, _packets_sort, right=True),
    Column("Seeds", _seeds, _seeds_sort, right=True),
    Column("Loose seed", _loose, _loose_sort),
)
