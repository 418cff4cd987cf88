"""The history of a design on the table: every state it had, to be taken back and done again."""

from dataclasses import replace

from hilum.benches.design_changes import OnTable


class DesignHistory:
    """States one after the other, and which of them is saved."""

    def __init__(self, first: OnTable) -> None:
        self._states: list[tuple[OnTable, str]] = [(first, "")]
        self._place = 0
        self._saved = 0

    @property
    def now(self) -> OnTable:
        """The state on the table."""
        return self._states[self._place][0]

    @property
    def is_saved(self) -> bool:
        """Whether the state on the table is the one that was opened or saved last."""
        return self._place == self._saved

    @property
    def back_words(self) -> str:
        """What the last step did; empty at the beginning."""
        return self._states[self._place][1]

    @property
    def again_words(self) -> str:
        """What the step that was taken back did; empty where there is none."""
        return self._states[self._place + 1][1] if self._place + 1 < len(self._states) else ""

    def add(self, state: OnTable, words: str) -> None:
        """Take a step; what was taken back before it is gone."""
        del self._states[self._place + 1 :]
        if self._saved > self._place:
            self._saved = -1
        self._states.append((state, words))
        self._place += 1

    def back(self) -> bool:
        """Take the last step back; says whether there was one."""
        if self._place == 0:
            return False
        self._place -= 1
        return True

    def again(self) -> bool:
        """Do a step again that was taken back; says whether there was one."""
        if not self.again_words:
            return False
        self._place += 1
        return True

    def turn_to(self, number: int) -> None:
        """Let another layout of the design lie on the table, in every state."""
        self._states = [(replace(state, number=number), words) for state, words in self._states]

    def mark_saved(self, state: OnTable) -> None:
        """Note that the state on the table is saved, as it reads now."""
        self._states[self._place] = (state, self._states[self._place][1])
        self._saved = self._place
