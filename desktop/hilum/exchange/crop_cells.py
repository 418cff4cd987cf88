"""Crop cells: which crop a name and a botanical name mean, or why nobody can tell."""

from collections.abc import Mapping
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.exchange.trouble import ASKS_CROP, Trouble
from hilum.exchange.words import folded, shown
from hilum.seedlore.crops import Crop, CropIndex, CropMatch, crop, crop_name
from hilum.seedlore.spelling import name_keys

# A list of more is no list of crops: looking for near spellings of every one would take minutes.
_MOST_UNKNOWN = 300
_SUGGESTED = {"misspelt", "foreign"}


@dataclass(frozen=True, slots=True)
class CropReading:
    """The crop of a row, or the botanical name that leaves it open."""

    key: str | None
    said: tuple[str, ...] = ()
    open_group: str | None = None
    open_crops: tuple[str, ...] = ()


class CropCells:
    """Reads crop cells; the same name stands in many rows and is looked up once."""

    def __init__(self, index: CropIndex, chosen: Mapping[str, str], language: str) -> None:
        self._index = index
        self._chosen = {folded(written): crop(key) for written, key in chosen.items()}
        self._language = language
        self._refused = 0
        self._known: dict[tuple[str, str], CropReading | Trouble] = {}

    def read(self, name: str, botanical: str) -> CropReading | Trouble:
        """Give the crop, or what is wrong and which one is meant perhaps."""
        asked = name, botanical
        if asked not in self._known:
            self._known[asked] = self._look_up(name, botanical)
        return self._known[asked]

    def _look_up(self, name: str, botanical: str) -> CropReading | Trouble:
        written = name or botanical
        if not written:
            return Trouble("No crop is named. Write the crop's name or its botanical name.")
        chosen = self._chosen.get(folded(written))
        if chosen is not None:
            return CropReading(
                chosen.key, (f"{written} taken as {crop_name(chosen, self._language)}, as you chose",)
            )
        found = self._index.match(name or None, botanical or None)
        if found.kind == "exact":
            return CropReading(found.crops[0].key, self._said(written, found.crops[0]))
        if found.kind == "open_group":
            keys = tuple(each.key for each in found.crops)
            group = found.crops[0].binomial
            return CropReading(None, (f"crop left open: {found.words}",), group, keys)
        self._refused += 1
        if self._refused > _MOST_UNKNOWN:
            raise BadInput(
                f"More than {_MOST_UNKNOWN} different names in the list are no crop known here, such as "
                f"{shown(written)}. Is the right column taken for the crop?"
            )
        todo = " Write that name, or choose the crop that is meant." if found.kind in _SUGGESTED else ""
        return Trouble(
            found.words + todo, self._suggestion(found), ASKS_CROP, tuple(each.key for each in found.crops)
        )

    def _said(self, written: str, one: Crop) -> tuple[str, ...]:
        """Say so where the crop's name here is not the one written, plural and order of words aside."""
        name = crop_name(one, self._language)
        if set(name_keys(written)) & set(name_keys(name)):
            return ()
        return (f"{written} taken as {name}",)

    def _suggestion(self, found: CropMatch) -> str | None:
        """Suggest the nearest crop; never one of several that bear the name equally."""
        offered = found.crops if found.kind in {*_SUGGESTED, "unknown"} else ()
        if not offered or (found.kind == "unknown" and len(offered) > 1):
            return None
        return crop_name(offered[0], self._language)
