"""CFF: by which number a PDF asks for a glyph of a font whose outlines are PostScript's (Adobe Technical Note 5176)."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

_CHARSET, _ROS = (15,), (12, 30)
# Charsets 0 to 2 are Adobe's own for name-keyed fonts.
_LAST_OWN_CHARSET = 2


def character_ids(table: bytes, glyphs: int) -> Sequence[int]:
    """Give the character identifier of each glyph of a table “CFF ”.

    A font keyed by names has none: there a PDF asks by the glyph's own place, and a range is given (ISO 32000-1,
    9.7.4.2).
    """
    at = table[2]
    _, at = _index(table, at)
    tops, _ = _index(table, at)
    top = dict(_entries(tops[0]))
    start = top.get(_CHARSET, [0])[-1]
    if _ROS not in top or start <= _LAST_OWN_CHARSET:
        return range(glyphs)
    return _charset(table, start, glyphs)


def _number(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "big")


def _index(table: bytes, at: int) -> tuple[list[bytes], int]:
    """Read an INDEX (section 5): its parts, and where what follows begins."""
    count = _number(table, at, 2)
    if not count:
        return [], at + 2
    size, first = table[at + 2], at + 3
    ends = [_number(table, first + size * number, size) for number in range(count + 1)]
    base = first + size * (count + 1) - 1
    return [table[base + a : base + b] for a, b in pairwise(ends)], base + ends[-1]


def _entries(data: bytes) -> Iterator[tuple[tuple[int, ...], list[int]]]:
    """Read a DICT (section 4): each operator with its whole-number operands; real ones count as 0."""
    at, operands = 0, list[int]()
    while at < len(data):
        byte = data[at]
        at += 1
        if byte <= 21:
            operator = (byte, data[at]) if byte == 12 else (byte,)
            at += len(operator) - 1
            yield operator, operands
            operands = []
        elif byte == 30:
            while data[at] & 15 != 15:
                at += 1
            at += 1
            operands.append(0)
        else:
            value, taken = _operand(data, at, byte)
            operands.append(value)
            at += taken


def _operand(data: bytes, at: int, byte: int) -> tuple[int, int]:
    """Read a whole number after its first byte; gives how many more bytes it took."""
    if byte in (28, 29):
        size = 2 if byte == 28 else 4
        return int.from_bytes(data[at : at + size], "big", signed=True), size
    if byte <= 246:
        return byte - 139, 0
    if byte <= 250:
        return (byte - 247) * 256 + data[at] + 108, 1
    return -(byte - 251) * 256 - data[at] - 108, 1


def _charset(table: bytes, at: int, glyphs: int) -> list[int]:
    """Read a charset (section 13): the first glyph is always 0, the others are listed or come in ranges."""
    kind, at, found = table[at], at + 1, [0]
    while len(found) < glyphs:
        first = _number(table, at, 2)
        at += 2
        more = 0
        if kind:
            more = _number(table, at, kind)
            at += kind
        found += range(first, first + more + 1)
    return found[:glyphs]
