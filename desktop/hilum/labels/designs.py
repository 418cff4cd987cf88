"""Label designs: small readable files that say which words stand where on a label.

A design holds one or more layouts, the roomiest first; the first whose smallest label fits is used. A
layout may have a code in one corner, and has boxes. Boxes are anchored to the top or to the bottom of
the label and stand on each other in the order of the file; each stretches over the width of the label,
makes room for the code, and grows with its words. A box may instead keep to a column (`left_mm`, `width_mm`),
to a height and to a least distance from its edge, all on the millimetre: it stands there unless the words
before it need the room. Boxes of different columns stand side by side.

The words of a box are parts: small templates such as "harvest {year}". A part with an empty field is
left out whole; what is left is joined by the box's `between`; a box without parts takes no room. So
nothing empty leaves a comma or a dot behind.
"""

from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from hilum.labels.design_files import read_design
from hilum.labels.design_folder import own_folder
from hilum.labels.design_values import (
    FACES,
    FIELDS,
    PAYLOADS,
    PROTECTED,
    CodeCorner,
    LabelDesign,
    Layout,
    Part,
    TextBox,
)
from hilum.labels.errors import DesignError, LabelError
from hilum.resources import resource

__all__ = [
    "FACES", "FIELDS", "PAYLOADS", "PROTECTED", "CodeCorner", "FaultyDesign", "LabelDesign", "Layout", "Part",
    "TextBox", "design", "designs", "is_shipped", "own_designs", "read_design",
]  # fmt: skip

# What is printed most stands first in a list.
_FIRST = ("dish", "jar", "packet")


@dataclass(frozen=True, slots=True)
class FaultyDesign:
    """A file among the keeper's own designs that cannot be used, and why: file, line, what is allowed."""

    path: Path
    why: str


@cache
def _shipped() -> dict[str, LabelDesign]:
    paths = sorted(resource("designs").glob("*.toml"), key=lambda path: (path.stem not in _FIRST, path.stem))
    return {path.stem: read_design(path) for path in paths}


def is_shipped(name: str) -> bool:
    """Tell whether a design of this name came with the program."""
    return name.strip().lower() in _shipped()


@lru_cache(maxsize=200)
def _read_once(path: Path, _changed_ns: int, _size: int) -> LabelDesign | FaultyDesign:
    try:
        return read_design(path)
    except DesignError as fault:
        return FaultyDesign(path, str(fault))


def own_designs(own: Path | None = None) -> tuple[tuple[LabelDesign, ...], tuple[FaultyDesign, ...]]:
    """Read the keeper's own designs (beside the open catalogue, or in a folder); a faulty one does not stop the others.

    A shipped design is never replaced by a file of its name: such a file is among the faulty ones.
    """
    folder = own or own_folder()
    found: list[LabelDesign] = []
    faulty: list[FaultyDesign] = []
    for path in sorted(folder.glob("*.toml")) if folder is not None and folder.is_dir() else []:
        if is_shipped(path.stem):
            why = f"{path.name}: a design called “{path.stem}” came with the program; give this file another name."
            faulty.append(FaultyDesign(path, why))
            continue
        state = path.stat()
        each = _read_once(path, state.st_mtime_ns, state.st_size)
        if isinstance(each, LabelDesign):
            found.append(each)
        else:
            faulty.append(each)
    return tuple(found), tuple(faulty)


def designs(own: Path | None = None) -> tuple[LabelDesign, ...]:
    """Give every label design: those that came with the program, then the keeper's own good ones."""
    return (*_shipped().values(), *own_designs(own)[0])


def design(name: str, own: Path | None = None) -> LabelDesign:
    """Find a label design by its name, among the shipped ones and the keeper's own."""
    wanted = name.strip().lower()
    if wanted in _shipped():
        return _shipped()[wanted]
    mine, faulty = own_designs(own)
    for each in mine:
        if each.name.lower() == wanted:
            return each
    for bad in faulty:
        if bad.path.stem.lower() == wanted:
            raise LabelError(f"The label design “{name}” cannot be used. {bad.why}")
    raise LabelError(
        f"There is no label design “{name}”. There are {', '.join(each.name for each in designs(own))}."
    )
