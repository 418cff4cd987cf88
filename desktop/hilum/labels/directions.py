"""Directions: lines in which some letters run from the right, brought into the order they are drawn in."""

from functools import lru_cache
from typing import Any

from hilum.labels.fonts import Run


@lru_cache(maxsize=5_000)
def levels(text: str, begins_right: bool) -> tuple[int, ...]:
    """Give the embedding level of each character of a line (Unicode Standard Annex 9); odd runs backwards."""
    from bidi import algorithm

    storage: Any = algorithm.get_empty_storage()
    storage["base_level"], storage["base_dir"] = int(begins_right), ("L", "R")[begins_right]
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    found = [each["level"] for each in storage["chars"]]
    if len(found) == len(text):
        return tuple(found)
    # Joiners and other marks without a width are dropped there; each goes with the letter before it.
    kept, given = iter(found), list[int]()
    dropped = {"BN", *algorithm.X2_X5_MAPPINGS, "PDF"}
    for each in text:
        gone = algorithm.bidirectional(each) in dropped
        given.append((given[-1] if given else int(begins_right)) if gone else next(kept))
    return tuple(given)


def in_order(runs: tuple[Run, ...], begins_right: bool) -> tuple[Run, ...]:
    """Give the runs of one line from left to right, each of one direction."""
    text = "".join(run.text for run in runs)
    level_of = levels(text, begins_right)
    parts: list[tuple[int, Run]] = []
    place = 0
    for run in runs:
        start = place
        for place in range(start, start + len(run.text)):
            if place > start and level_of[place] == level_of[place - 1]:
                level, last = parts[-1]
                parts[-1] = (level, last._replace(text=last.text + text[place]))
            else:
                parts.append((level_of[place], Run(run.face, text[place], level_of[place] % 2 == 1)))
        place = start + len(run.text)
    highest = max((level for level, _ in parts), default=0)
    for level in range(highest, 0, -1):
        parts = _turned(parts, level)
    return tuple(run for _, run in parts)


def _turned(parts: list[tuple[int, Run]], level: int) -> list[tuple[int, Run]]:
    """Reverse every stretch of runs at a level or above (rule L2)."""
    turned: list[tuple[int, Run]] = []
    stretch: list[tuple[int, Run]] = []
    for each in parts:
        if each[0] >= level:
            stretch.append(each)
            continue
        turned += [*reversed(stretch), each]
        stretch = []
    return turned + stretch[::-1]
