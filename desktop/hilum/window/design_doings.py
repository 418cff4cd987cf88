"""What the keeper does on the design table, turned into edits of the design: by mouse, by keys, by the sentences."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from hilum.benches import design_changes as changes
from hilum.benches.design_changes import OnTable
from hilum.benches.design_table import CODE, TriedLabel
from hilum.window.design_lots import LotsOnTable
from hilum.window.design_picked import Picked
from hilum.window.design_words import called

if TYPE_CHECKING:
    from hilum.window.design_table import DesignTable


class Doings(QObject):
    """Hears the labels and the sentences of one table, and lets the table do an edit for each."""

    def __init__(self, table: "DesignTable") -> None:
        super().__init__(table)
        self._table = table

    def hear(self, lots: LotsOnTable, picked: Picked) -> None:
        """Listen to what is done on the labels and said under them."""
        lots.moved.connect(self.on_moved)
        lots.sized.connect(self.on_sized)
        lots.stepped.connect(self.on_stepped)
        lots.passed.connect(self.on_passed)
        lots.taken_off.connect(self.on_taken_off)
        picked.box_changed.connect(self.on_box_changed)
        picked.box_retyped.connect(self.on_box_retyped)
        picked.box_renamed.connect(self.on_box_renamed)
        picked.corner_changed.connect(self.on_corner_changed)
        picked.taken_off.connect(self.on_taken_off)
        picked.words_wanted.connect(self.on_words_wanted)
        picked.gauge_wanted.connect(self.on_gauge_wanted)
        picked.code_wanted.connect(self.on_code_wanted)

    def on_moved(self, name: str, right_mm: float, down_mm: float, tried: TriedLabel) -> None:
        """Move something by the mouse."""
        self._table.do(
            f"moving {called(name)}",
            lambda on: changes.moved(on, name, right_mm, down_mm, self._table.current(tried)),
        )

    def on_sized(self, name: str, wider_mm: float, taller_mm: float, tried: TriedLabel) -> None:
        """Size something by a knob or by keys."""
        self._table.do(
            f"the size of {called(name)}",
            lambda on: changes.sized(on, name, wider_mm, taller_mm, self._table.current(tried)),
        )

    def on_stepped(self, name: str, right: int, down: int, tried: TriedLabel) -> None:
        """Move something by an arrow key."""
        self._table.do(
            f"moving {called(name)}",
            lambda on: changes.stepped(on, name, right, down, self._table.current(tried)),
        )

    def on_passed(self, name: str, by: int) -> None:
        """Let a box pass its neighbour."""
        self._table.do(f"the place of {called(name)}", lambda on: changes.passed(on, name, by))

    def on_taken_off(self, name: str) -> None:
        """Take something off the label."""
        self._table.do(f"taking off {called(name)}", lambda on: changes.removed(on, name))

    def on_box_changed(self, keys: dict[str, object], words: str) -> None:
        """Change what was typed over."""
        name = self._table.picked_name
        self._table.do(f"{words} of {called(name)}", lambda on: on.with_box(name, **keys))

    def on_box_retyped(self, pieces: list[tuple[str, str]]) -> None:
        """Let a box say something else."""
        name = self._table.picked_name
        self._table.do(f"the words of {called(name)}", lambda on: changes.retyped(on, name, pieces))

    def on_box_renamed(self, new: str) -> None:
        """Call a box something else."""
        name = self._table.picked_name
        if self._table.do(f"the name of {called(name)}", lambda on: changes.renamed(on, name, new)):
            self._table.pick(new.strip())

    def on_corner_changed(self, keys: dict[str, object], words: str) -> None:
        """Change a code, a picture or a gauge."""
        name = self._table.picked_name
        self._table.do(
            f"{words} of {called(name)}",
            lambda on: changes.code_changed(on, **keys) if name == CODE else on.with_block(name, **keys),
        )

    def on_words_wanted(self, field: str, pieces: list[tuple[str, str]]) -> None:
        """Lay words on the label."""
        found: list[str] = []

        def edit(on: OnTable) -> OnTable:
            after, name = changes.words_added(on, pieces, field or "words")
            found.append(name)
            return after

        if self._table.do(f"laying on {field or 'words'}", edit):
            self._table.pick(found[0])

    def on_gauge_wanted(self, kind: str) -> None:
        """Lay a gauge on the label."""
        if self._table.do(f"laying on {called(kind)}", lambda on: changes.gauge_added(on, kind)):
            self._table.pick(kind)

    def on_code_wanted(self) -> None:
        """Give the label a code."""
        if self._table.do("laying on the code", changes.code_added):
            self._table.pick(CODE)
