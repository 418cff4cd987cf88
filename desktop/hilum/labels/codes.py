"""Codes: QR symbols (ISO/IEC 18004) as whole modules, and the size at which a printer can draw them."""

import threading
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from hilum.labels.codewords import ALPHANUMERIC, codewords
from hilum.labels.dots import dot_mm
from hilum.labels.errors import LabelError
from hilum.labels.geometry import MM_PER_INCH
from hilum.labels.masks import masked
from hilum.labels.sweeping import put_off

if TYPE_CHECKING:
    from hilum.labels.masks import Cells

# GS1 UK, "How big should a QR code powered by GS1 be": four modules of white on every side.
QUIET_MODULES = 4
# What version 6 holds at level M (ISO/IEC 18004); a label has no room for more.
_MOST_CHARACTERS = 154
# 1/60 inch is a whole number of dots at 300, 360, 600, 720 and 1200 dpi, and above the 0.396 mm that
# GS1 General Specifications, 5.12.3.1, ask for. A 203 dpi head draws it as 4 dots of 0.125 mm.
_OFFICE_MODULE_MM = MM_PER_INCH / 60
_OFFICE_DPI = (300, 360, 600, 720, 1200)
_HEAD_DPI = 203
# Denso Wave, qrcode.com/en/howto/cell: at least four dots a module for stable work.
_HEAD_DOTS = 4
# Three dots are read with one dot of ink growth (measured; see the bench), not with two.
_HEAD_LEAST_DOTS = 3
# GS1 General Specifications, 5.12.3.1: smallest module at a point of sale. Denso Wave, qrcode.com/en/howto/cell:
# what a standard hand scanner resolves.
PHONE_MODULE_MM, SCANNER_MODULE_MM = 0.396, 0.25
DPI = (_HEAD_DPI, *_OFFICE_DPI)

# qrcode 8.2 looks up its smallest version in shared tables that are filled on first use.
_MAKING = threading.Lock()
_made: dict[str, "Symbol"] = {}
_MOST_KEPT = 2_000
_AT_ONCE = 256


@dataclass(frozen=True, slots=True)
class Symbol:
    """One QR symbol: its side in modules and its dark runs, as rectangles of the PDF.

    Rectangles are one module a unit, from the lower left corner: "column row length 1 re".
    """

    payload: str
    version: int
    level: str
    mask: int
    side_modules: int
    rectangles: str

    @property
    def runs(self) -> tuple[tuple[int, int, int], ...]:
        """The dark runs as (column, row, length), rows downwards."""
        top, found = self.side_modules - 1, []
        for each in self.rectangles.split(" re"):
            if each:
                column, up, length, _ = map(int, each.split())
                found.append((column, top - up, length))
        return tuple(found)

    @property
    def quiet_side_modules(self) -> int:
        """Side with the white border that belongs to it."""
        return self.side_modules + 2 * QUIET_MODULES


@dataclass(frozen=True, slots=True)
class ModuleSize:
    """How large a module is drawn, and the step its position keeps from the page's corner."""

    module_mm: float
    step_mm: float

    def side_mm(self, symbol: Symbol) -> float:
        """Give the side of a symbol with its quiet zone."""
        return symbol.quiet_side_modules * self.module_mm


def _level(letter: str) -> int:
    from qrcode import constants

    levels = {"M": constants.ERROR_CORRECT_M, "Q": constants.ERROR_CORRECT_Q, "H": constants.ERROR_CORRECT_H}
    return int(levels[letter])


def _shaped(payload: str, level: str) -> Any:
    """Give a new encoder object; a used one keeps its largest version (qrcode 8.2)."""
    from qrcode import QRCode, util

    encoder = QRCode(error_correction=_level(level), border=0)
    encoder.add_data(util.QRData(payload, mode=util.MODE_ALPHA_NUM))
    return encoder


_ALLOWED = frozenset(ALPHANUMERIC)


def _check_payload(payload: str) -> None:
    if not payload or not _ALLOWED.issuperset(payload):
        odd = [each for each in payload if each not in _ALLOWED]
        what = f"has “{odd[0]}”" if odd else "is empty"
        raise LabelError(
            f"The code “{payload}” {what}; a code may hold capital letters, digits and $ % * + - . / : only."
        )
    if len(payload) > _MOST_CHARACTERS:
        raise LabelError(
            f"The code “{payload[:20]}…” has {len(payload)} characters; a label's code may have {_MOST_CHARACTERS}."
        )


def _size_and_level(payload: str) -> tuple[int, str]:
    """Choose the smallest version at level M, then the highest level at which it stays as small."""
    return _size_for(len(payload))


@cache
def _size_for(length: int) -> tuple[int, str]:
    """Room depends on the length alone: all payloads are of one mode."""
    payload = "A" * length
    version, level = _shaped(payload, "M").best_fit(), "M"
    for higher in ("Q", "H"):
        if _shaped(payload, higher).best_fit() > version:
            break
        level = higher
    return version, level


def symbols(payloads: Sequence[str]) -> list[Symbol]:
    """Make the symbols of many payloads, each different one once a process.

    Each is the smallest that holds its payload at level M, at the highest level that stays as small.
    Raises LabelError for what is not upper-case alphanumeric: such a payload would double the code.
    """
    for payload in payloads:
        _check_payload(payload)
    with _MAKING, put_off():
        if len(_made) > _MOST_KEPT:
            _made.clear()
        groups: dict[tuple[int, str, int], list[str]] = {}
        for payload in dict.fromkeys(payloads):
            if payload not in _made:
                groups.setdefault((*_size_and_level(payload), len(payload)), []).append(payload)
        for (version, level, _), group in groups.items():
            _made.update((each.payload, each) for each in _symbols_of(group, version, level))
        return [_made[payload] for payload in payloads]


def symbol(payload: str) -> Symbol:
    """Make the symbol of one payload, as `symbols` does."""
    return symbols([payload])[0]


def _symbols_of(payloads: list[str], version: int, level: str) -> Iterator[Symbol]:
    """Make the symbols of payloads of one length, some at a time: more gain nothing and take memory."""
    for start in range(0, len(payloads), _AT_ONCE):
        some = payloads[start : start + _AT_ONCE]
        masks, cells = masked(codewords(some, version, _level(level)), version, _level(level))
        side = cells.shape[-1]
        for payload, mask, drawn in zip(some, masks.tolist(), _rectangles(cells), strict=True):
            yield Symbol(payload, version, level, mask, side, drawn)


@cache
def _words_of_runs(side: int) -> list[str]:
    """Word every run there can be: by row, column and length."""
    return [
        f"{column} {side - 1 - row} {length} 1 re"
        for row in range(side)
        for column in range(side)
        for length in range(1, side + 1)
    ]


def _rectangles(cells: "Cells") -> Iterator[str]:
    """Word the dark runs of many symbols, row by row."""
    import numpy

    count, side = len(cells), cells.shape[-1]
    steps = numpy.diff(cells.astype(numpy.int8), axis=2, prepend=0, append=0)
    whose, row, column = numpy.nonzero(steps == 1)
    length = numpy.nonzero(steps == -1)[2] - column
    which = ((row * side + column) * side + length - 1).tolist()
    ends = numpy.cumsum(numpy.bincount(whose, minlength=count)).tolist()
    word, start = _words_of_runs(side).__getitem__, 0
    for end in ends:
        yield " ".join(map(word, which[start:end]))
        start = end


def check_dpi(dpi: int) -> None:
    """Refuse a resolution at which modules would not be whole dots."""
    if dpi not in DPI:
        allowed = ", ".join(map(str, DPI))
        raise LabelError(f"{dpi} dpi is not a resolution that labels are made for; there are {allowed} dpi.")


def _smaller_mm(dpi: int) -> float:
    """Give the module to fall back on: fewer dots, still whole ones, read by hand scanners (see `small_words`)."""
    if dpi == _HEAD_DPI:
        return _HEAD_LEAST_DOTS * dot_mm(dpi)
    return MM_PER_INCH * (5 / 360 if dpi in (360, 720) else 4 / 300)


def small_words(module_mm: float) -> str:
    """Say what a small module means for whoever scans it; empty where it is large enough."""
    if module_mm >= PHONE_MODULE_MM - 1e-9:
        return ""
    return (
        f"the code's modules are {module_mm:.2f} mm: below the {PHONE_MODULE_MM} mm that are asked for at a counter. "
        f"A hand scanner reads them (from {SCANNER_MODULE_MM} mm), a phone only from close by. Use a larger label or "
        "a shorter code if phones matter."
    )


def module_size(symbols: list[Symbol], room_mm: float, dpi: int) -> ModuleSize:
    """Choose the largest module, one for the whole job, with which every symbol fits a square room."""
    check_dpi(dpi)
    if dpi == _HEAD_DPI:
        least_mm = _HEAD_DOTS * dot_mm(dpi)
        step_mm, grow_mm = dot_mm(dpi), dot_mm(dpi)
    else:
        least_mm = step_mm = grow_mm = _OFFICE_MODULE_MM
    most = max(each.quiet_side_modules for each in symbols)
    # One step is kept for moving the code onto the dots.
    room = room_mm - step_mm + 1e-9
    if most * least_mm <= room:
        return ModuleSize(least_mm + int((room / most - least_mm) / grow_mm + 1e-9) * grow_mm, step_mm)
    small_mm = _smaller_mm(dpi)
    step_mm = step_mm if dpi == _HEAD_DPI else small_mm
    if most * small_mm + step_mm <= room_mm + 1e-9:
        return ModuleSize(small_mm, step_mm)
    raise LabelError(
        f"The codes are {most * small_mm + step_mm:.1f} mm wide with their white border, but the design "
        f"has {room_mm:g} mm for them. Use a larger label, or shorter codes. No labels were made."
    )
