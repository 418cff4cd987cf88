"""My own edits of this session: the newest is taken back, and what was taken back is done once more."""

from typing import TYPE_CHECKING

from hilum.window.work import WorkDay

if TYPE_CHECKING:
    from hilum.benches.past_work import PastLine

# As far back as the two keys look.
MOST_LOOKED_AT = 50


class MyEdits:
    """Remembers where the session began; edits of before, and of other people, are left alone."""

    def __init__(self) -> None:
        self._before_us: str | None = None

    def begin(self, work: WorkDay) -> None:
        """Let the session begin after the newest job there is."""
        newest = self._newest(work, 1)
        self._before_us = newest[0].id if newest else None

    def take_back(self, work: WorkDay) -> tuple[str, str] | None:
        """Take back the newest edit that is in force; gives how it went and its words, None where it was refused."""
        for line in self._mine(work):
            if not line.taken_back and line.takes_back is None:
                what = self._turn(work, line)
                return (
                    None if what is None else ("good", f"Taken back: {what}. Ctrl+Shift+Z does it once more.")
                )
        return "warn", "There is no edit of today's work left to take back."

    def again(self, work: WorkDay) -> tuple[str, str] | None:
        """Do once more what was taken back last, unless something else was done since."""
        mine = self._mine(work)
        takings_back = {line.id for line in mine if line.takes_back is not None}
        for line in mine:
            if line.taken_back or line.takes_back in takings_back:
                # Done once more already, or the doing of that.
                continue
            if line.takes_back is None:
                break
            what = self._turn(work, line)
            return None if what is None else ("good", f"Done once more: {what}.")
        return "warn", "Nothing was taken back last, so there is nothing to do once more."

    def _turn(self, work: WorkDay, line: "PastLine") -> str | None:
        from hilum.benches.lots import take_back

        what: str | None = work.attempt(take_back, work.catalogue, line.id)
        if what is not None:
            work.changes.tell(
                f"Taken back: {what}." if line.takes_back is None else f"Done once more: {what}."
            )
        return what

    def _mine(self, work: WorkDay) -> "tuple[PastLine, ...]":
        found = []
        for line in self._newest(work, MOST_LOOKED_AT):
            if line.id == self._before_us:
                break
            if line.person_id == work.catalogue.person_id:
                found.append(line)
        return tuple(found)

    def _newest(self, work: WorkDay, limit: int) -> "tuple[PastLine, ...]":
        from hilum.benches.past_work import whole_history

        return work.attempt(whole_history, work.catalogue, limit=limit) or ()
