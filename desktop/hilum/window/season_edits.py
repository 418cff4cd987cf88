"""What the keeper changes on the season's list: one bench call each, then the list is shown anew."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from hilum.benches import season
from hilum.benches.season import AddedLots, PlannedRow
from hilum.errors import KeeperError
from hilum.window import season_paste
from hilum.window.lot_words import counted
from hilum.window.print_files import write_whole

if TYPE_CHECKING:
    from hilum.window.season_tab import SeasonTab


class SeasonEdits(QObject):
    """Does the edits of one tab."""

    def __init__(self, tab: "SeasonTab") -> None:
        super().__init__(tab)
        self._tab = tab
        # The lot to put the cursor on when the list is shown next.
        self.go_to = ""

    def _done(self, words: str) -> None:
        self._tab.work.changes.tell(words)
        self._tab.refresh()

    def _row(self) -> PlannedRow | None:
        return self._tab.table.current()

    def on_added(self, added: AddedLots) -> None:
        """Show lots that were put on the list, the cursor on the last of them."""
        numbers = added.added or added.there
        self.go_to = numbers[-1] if numbers else ""
        there = f" {counted(len(added.there), 'lot')} stood there already." if added.there else ""
        words = f"{counted(len(added.added), 'lot')} put on the list.{there}"
        if added.there or len(added.added) != 1:
            self._tab.said.emit("good" if added.added else "warn", words)
        self._done(words)

    def on_figure(self, row_id: int, name: str, figure: int) -> None:
        """Keep a figure that was typed."""
        work = self._tab.work
        if work.did(season.change_rows, work.catalogue, [row_id], {name: figure}):
            self._done("Figure kept.")

    def on_pasted(self, text: str, row: int, column: int) -> None:
        """Take over figures from a spreadsheet, all or none."""
        tab, plan = self._tab, self._tab.plan
        if plan is None:
            return
        try:
            wanted = season_paste.understood(text, tab.table.rows(), row, column)
            done = season.put_figures(tab.work.catalogue, plan.list.id, wanted)
        except KeeperError as error:
            tab.said.emit("bad", str(error))
            return
        new = f", {counted(len(done.added), 'lot')} of them new" if done.added else ""
        tab.said.emit("good", f"Figures of {counted(len(wanted), 'lot')} pasted{new}.")
        self._done("Figures pasted.")

    def on_germination_key(self) -> None:
        """Change the chosen rows over to germinating seeds, or back."""
        row = self._row()
        if row is not None:
            self.on_germination(not row.by_germination)

    def on_germination(self, is_wanted: bool) -> None:
        """Fill the chosen rows by germinating seeds, or by seeds."""
        work = self._tab.work
        rows = self._tab.table.chosen() or tuple(row for row in (self._row(),) if row is not None)
        ids = [row.id for row in rows]
        if work.did(season.change_rows, work.catalogue, ids, {"by_germination": is_wanted}):
            self._done("Fill by germinating seeds." if is_wanted else "Fill by seeds.")

    def on_usual(self) -> None:
        """Keep the seeds of this row as what the library puts into packets of the crop."""
        row, work = self._row(), self._tab.work
        if row is None:
            return
        crop = work.attempt(season.keep_usual_seeds, work.catalogue, row.number, row.seeds_per_packet)
        if crop is not None:
            self._tab.said.emit(
                "good", f"Packets of {crop} get {counted(row.seeds_per_packet, 'seed')} from now on."
            )
            self._done(f"Usual packet of {crop} kept.")

    def on_ten(self, empty_mg: int, filled_mg: int) -> None:
        """Record the weight of ten packets and say what it means."""
        row, plan, work = self._row(), self._tab.plan, self._tab.work
        if row is None or plan is None:
            return
        found = work.attempt(
            season.weigh_ten, work.catalogue, plan.list.id, row.id, empty_mg=empty_mg, filled_mg=filled_mg,
            on=work.today(),
        )  # fmt: skip
        if found is not None:
            self._tab.said.emit("good" if found.verdict == "right" else "bad", f"{row.number}: {found.words}")
            self._done("Ten packets weighed.")

    def on_spoon(self, spoon: str, seeds_in_five: int) -> None:
        """Record what five spoons hold."""
        row, work = self._row(), self._tab.work
        if row is not None and work.did(
            season.count_spoon, work.catalogue, row.number, spoon, seeds_in_five, on=work.today()
        ):
            self._done(f"Spoon counted for {row.number}.")

    def on_remove(self) -> None:
        """Take the chosen lots off the list."""
        rows, work = self._tab.table.chosen(), self._tab.work
        if rows and work.did(season.remove_rows, work.catalogue, [row.id for row in rows]):
            words = f"{counted(len(rows), 'lot')} taken off the list. Ctrl+Z brings them back."
            self._tab.said.emit("good", words)
            self._done(words)

    def keep_paper(self, file: Path) -> None:
        """Write the list to fill by, in the order shown."""
        plan, work = self._tab.plan, self._tab.work
        if plan is None:
            return
        rows = [row.id for row in self._tab.table.rows()]
        pdf = work.attempt(season.filling_list, work.catalogue, plan.list.id, rows, on=work.today())
        if pdf is not None and work.did(write_whole, file, pdf):
            self._tab.said.emit("good", f"The list is kept in {file}. Print it at 100 %.")
