"""Placing: each different label fitted once, every copy put in its place, every code onto the dots."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from hilum.labels.art import Art
from hilum.labels.blocks import placed_block
from hilum.labels.codes import ModuleSize, Symbol
from hilum.labels.corrections import Correction
from hilum.labels.errors import LabelWarning, UnfitLabels, joined_unfit
from hilum.labels.fitting import FittedWords, fit_words
from hilum.labels.geometry import Box
from hilum.labels.ink import InkedLabel, PlacedCode, on_dots
from hilum.labels.lines import Room
from hilum.labels.orders import Order
from hilum.labels.sheets import Place
from hilum.labels.sweeping import put_off
from hilum.labels.words import cleaned_fields


class Placing:
    """Puts the labels of one order in their places, one after another."""

    def __init__(
        self,
        asked: Order,
        language: str,
        correction: Correction | None = None,
        turned: Callable[[Box], Box] = lambda area: area,
        shown: frozenset[str] = frozenset(),
    ) -> None:
        self._asked, self._language, self._correction, self._turned = asked, language, correction, turned
        area = asked.stock.ink_area(1, asked.design.padding_mm)
        whole = Box(0, 0, area.width_mm, area.height_mm)
        self._rooms = Room(whole, asked.code_room), Room(whole, None)
        self._hidden = [
            name for name in asked.design.fields if name not in asked.layout.fields and name not in shown
        ]
        # All that the words of a label hang on; a block reads the sowing depth from the words that say it, too.
        drawn = ("sow",) if asked.layout.blocks else ()
        self._names = tuple(dict.fromkeys((*asked.layout.fields, *self._hidden, *drawn)))
        self._areas: dict[int, Box] = {}
        self._corners: dict[tuple[int, int], Box] = {}
        self._done: dict[tuple[str, ...], FittedWords] = {}
        self._with_blocks: dict[tuple[bool, tuple[Box, ...]], Room] = {}
        self.warnings: dict[LabelWarning, None] = {}

    def labels(self, spots: Sequence[Place], reached: Callable[[int], None]) -> list[InkedLabel]:
        """Place every label of the order; `reached` hears how many are done.

        Raises UnfitLabels, naming all whose words do not fit.
        """
        with put_off():
            return self._placed(spots, reached)

    def _placed(self, spots: Sequence[Place], reached: Callable[[int], None]) -> list[InkedLabel]:
        inked, unfit = [], list[UnfitLabels]()
        for number, spot in enumerate(spots):
            area, code = self._area(spot.position), None
            symbol, label = self._asked.symbols[number], self._asked.labels[number]
            if symbol and self._asked.module:
                box = self._code_box(symbol, self._asked.module, spot.position)
                code = PlacedCode(label.key, spot.page, symbol, self._asked.module, box)
            try:
                inked.append(InkedLabel(spot.page, area, self._words(number), code))
            except UnfitLabels as fault:
                unfit.append(fault)
            reached(number + 1)
        if unfit:
            raise joined_unfit(unfit)
        return inked

    def _area(self, position: int) -> Box:
        if position not in self._areas:
            area = self._asked.stock.ink_area(position, self._asked.design.padding_mm)
            self._areas[position] = self._turned(area)
        return self._areas[position]

    def _words(self, number: int) -> FittedWords:
        label, symbol = self._asked.labels[number], self._asked.symbols[number]
        fields = cleaned_fields(label.fields, self._names)
        same = (label.key, "" if symbol is None else "yes", *fields.values())
        if same not in self._done:
            room, art, lacking = self._room(symbol is not None, fields)
            words, found = fit_words(label.key, self._asked.layout, fields, room, self._language)
            self._done[same] = replace(words, art=(*words.art, *art)) if art else words
            undrawn = (LabelWarning(label.key, kind, why) for kind, why in lacking)
            self.warnings.update(dict.fromkeys(undrawn))
            unseen = (name for name in self._hidden if fields.get(name))
            too_small = (
                LabelWarning(label.key, name, "this label is too small to show it") for name in unseen
            )
            self.warnings.update(dict.fromkeys((*found, *too_small)))
        return self._done[same]

    def _room(self, coded: bool, fields: dict[str, str]) -> tuple[Room, list[Art], list[tuple[str, str]]]:
        """Give the room that code and blocks leave, what the blocks draw, and why one is not drawn."""
        plain = self._rooms[0] if coded else self._rooms[1]
        if not self._asked.layout.blocks:
            return plain, [], []
        boxes, art, lacking = [], list[Art](), list[tuple[str, str]]()
        for block in self._asked.layout.blocks:
            height_mm = block.needs(fields)
            if height_mm is None:
                if why := block.why_not(fields):
                    lacking.append((block.kind, why))
                continue
            boxes.append(placed_block(block, plain.area, height_mm))
            art += block.art(boxes[-1], fields)
        key = coded, tuple(boxes)
        if key not in self._with_blocks:
            self._with_blocks[key] = Room(plain.area, plain.code, tuple(boxes))
        return self._with_blocks[key], art, lacking

    def _code_box(self, symbol: Symbol, module: ModuleSize, position: int) -> Box:
        """Put a code in the middle of its room, then where the printer needs it, then onto the dots."""
        corner = position, symbol.side_modules
        if corner not in self._corners and self._asked.code_room:
            area = self._area(position)
            room = self._asked.code_room.moved(area.x_mm, area.y_mm)
            side_mm = module.side_mm(symbol)
            spare_mm = (room.width_mm - side_mm) / 2
            wanted = Box(room.x_mm + spare_mm, room.y_mm + spare_mm, side_mm, side_mm)
            if self._correction:
                wanted = self._correction.moved(wanted)
            self._corners[corner] = on_dots(wanted, self._asked.stock.page_h_mm, module.step_mm)
        return self._corners[corner]
