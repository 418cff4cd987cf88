"""Trials of a design in the pool: the newest state is tried as soon as the one before it is done."""

from datetime import date
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from hilum.benches import design_table as bench
from hilum.benches.design_table import Chosen, OnTable
from hilum.benches.keeping import Catalogue
from hilum.benches.printing import LabelStock
from hilum.window.design_lots import Laid
from hilum.window.work import WorkDay


class Wish(NamedTuple):
    """What is to be tried: a state of the design on a stock, drawn so large."""

    on: OnTable
    stock: LabelStock
    px_per_mm: float
    # None, where the three lots have to be chosen first.
    chosen: tuple[Chosen, ...] | None


def tried(wish: Wish, catalogue: Catalogue, today: date) -> tuple[Wish, tuple[Laid, ...]]:
    """Try a design on three lots; a function of plain arguments, for the pool."""
    chosen = wish.chosen
    if chosen is None:
        chosen = bench.choose_lots(catalogue, wish.on, today=today)
    labels = bench.try_lots(chosen, wish.on, wish.stock)
    laid = tuple(
        Laid(one, label, bench.label_picture(label, wish.px_per_mm))
        for one, label in zip(chosen, labels, strict=True)
    )
    return wish._replace(chosen=chosen), laid


class Trials(QObject):
    """Keeps one trial under way and only the newest wish waiting."""

    made = Signal(object)
    failed = Signal(str)

    def __init__(self, work: WorkDay, parent: QObject) -> None:
        super().__init__(parent)
        self._work = work
        self._under_way: Wish | None = None
        self._waiting: Wish | None = None
        self._is_over = False
        self.chosen: tuple[Chosen, ...] | None = None
        # How often lots were to be chosen anew, now and when the trial under way began.
        self._choice = self._choice_under_way = 0
        self.laid: tuple[Laid, ...] = ()
        # The state that the labels on the table were made by.
        self.shown: Wish | None = None

    def wish(self, on: OnTable, stock: LabelStock, px_per_mm: float) -> None:
        """Try a state; one that was waiting is passed over."""
        self._waiting = Wish(on, stock, px_per_mm, self.chosen)
        self._begin()

    def choose_anew(self) -> None:
        """Let the lots be chosen with the next wish."""
        self.chosen = None
        self._choice += 1

    def finish(self) -> None:
        """Let what is under way go by."""
        self._is_over = True
        self._waiting = None

    def _begin(self) -> None:
        if self._under_way is not None or self._waiting is None or self._is_over:
            return
        self._under_way, self._waiting = self._waiting, None
        self._choice_under_way = self._choice
        self._work.run(
            tried, self._under_way, self._work.catalogue, self._work.today(), done=self._on_done,
            failed=self._on_failed,
        )  # fmt: skip

    def _on_done(self, answer: tuple[Wish, tuple[Laid, ...]]) -> None:
        self._end()
        if self._is_over:
            return
        self.shown, self.laid = answer
        # The lots stay for the next wishes, unless others were asked for meanwhile.
        if self._choice_under_way == self._choice:
            self.chosen = self.shown.chosen
            if self._waiting is not None:
                self._waiting = self._waiting._replace(chosen=self.chosen)
        self.made.emit(self.shown)
        self._begin()

    def _on_failed(self, words: str) -> None:
        self._end()
        if not self._is_over:
            self.failed.emit(words)
            self._begin()

    def _end(self) -> None:
        self._under_way = None
