"""Masks: many symbols of one version and level at once, each with the mask that balances it best.

A QR symbol's data is laid over one of eight patterns; the standard says to take the one with the least
penalty (ISO/IEC 18004, evaluation of data masking; weights from memory, choices equal to zxing-cpp's).
The encoder library tries them in plain Python, which takes nine tenths of its time, and without the
format bits. Here every row and column is one whole number of bits, so that a rule is a few shifts.
"""

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Bits = np.ndarray[Any, np.dtype[Any]]
    Cells = np.ndarray[Any, np.dtype[np.uint8]]

_MASKS = 8
_NARROW = 24
_RUN, _BLOCK, _FINDER, _BALANCE = 3, 3, 40, 10


def _blank(version: int, level: int, mask: int) -> list[list[bool | None]]:
    """Give the library's symbol with everything but data in it; data cells are None.

    Up to version 6, that is: larger symbols carry their version as well.
    """
    from qrcode import QRCode

    encoder = QRCode(version=version, error_correction=level, border=0)
    encoder.modules_count = 17 + 4 * version
    encoder.modules = [[None] * encoder.modules_count for _ in range(encoder.modules_count)]
    last = encoder.modules_count - 7
    for row, column in ((0, 0), (last, 0), (0, last)):
        encoder.setup_position_probe_pattern(row, column)
    encoder.setup_position_adjust_pattern()
    encoder.setup_timing_pattern()
    encoder.setup_type_info(False, mask)
    modules: list[list[bool | None]] = encoder.modules
    return modules


@cache
def _frames(version: int, level: int) -> tuple["Cells", "Cells"]:
    """Give, for the eight masks, what is laid over the data: the pattern itself and all fixed modules."""
    import numpy
    from qrcode import util

    blanks = [_blank(version, level, mask) for mask in range(_MASKS)]
    side = len(blanks[0])
    frames = numpy.zeros((_MASKS, side, side), numpy.uint8)
    for mask, blank in enumerate(blanks):
        covers = util.mask_func(mask)
        for row in range(side):
            for column in range(side):
                fixed = blank[row][column]
                frames[mask, row, column] = covers(row, column) if fixed is None else fixed
    order = _data_order(blanks[0])
    return frames, numpy.array(order)


def _data_order(blank: list[list[bool | None]]) -> list[int]:
    """Walk the data cells as the standard does: pairs of columns from the right, up and down in turn."""
    side, order, upwards = len(blank), list[int](), True
    for right in range(side - 1, 0, -2):
        # The upright timing pattern fills column 6; pairs left of it begin one further left.
        first = right if right > 6 else right - 1
        for row in range(side - 1, -1, -1) if upwards else range(side):
            order += [row * side + column for column in (first, first - 1) if blank[row][column] is None]
        upwards = not upwards
    return order


def _packed(cells: "Cells") -> "Bits":
    """Make each row of cells one number, no wider than it must be: the rules look eight bits beyond."""
    import numpy

    kind = numpy.uint32 if cells.shape[-1] <= _NARROW else numpy.uint64
    weights: Any = kind(1) << numpy.arange(cells.shape[-1], dtype=kind)
    packed: Bits = (cells.astype(kind) * weights).sum(axis=-1, dtype=kind)
    return packed


def _line_penalty(lines: "Bits", side: int) -> "Bits":
    """Weigh rows, or columns, for long runs and for what looks like a finder pattern."""
    import numpy

    one = lines.dtype.type

    same = ~(lines ^ (lines >> one(1))) & one((1 << side - 1) - 1)
    five = same & (same >> one(1)) & (same >> one(2)) & (same >> one(3))
    begins = five & ~(five << one(1))
    # A run of five costs 3, every further module 1: its windows of five, and 2 for the run.
    runs = numpy.bitwise_count(five) + (_RUN - 1) * numpy.bitwise_count(begins).astype(numpy.int64)
    wide = lines << one(4)
    light = ~wide
    finder = wide & (light >> one(1)) & (wide >> one(2)) & (wide >> one(3)) & (wide >> one(4))
    finder &= (light >> one(5)) & (wide >> one(6)) & one(((1 << side - 6) - 1) << 4)
    before = (light << one(1)) & (light << one(2)) & (light << one(3)) & (light << one(4))
    after = (light >> one(7)) & (light >> one(8)) & (light >> one(9)) & (light >> one(10))
    penalty: Bits = (runs + _FINDER * numpy.bitwise_count(finder & (before | after)).astype(numpy.int64)).sum(
        -1
    )
    return penalty


def penalties(rows: "Bits", columns: "Bits", side: int) -> "Bits":
    """Weigh symbols, given as one number a row and one a column; the last axis runs along the symbol."""
    import numpy

    one = rows.dtype.type(1)
    beside = ~(rows ^ (rows >> one))[..., :-1] & rows.dtype.type((1 << side - 1) - 1)
    below = ~(rows[..., :-1] ^ rows[..., 1:])
    blocks = numpy.bitwise_count(beside & below & (below >> one)).sum(-1, dtype=numpy.int64)
    dark = numpy.bitwise_count(rows).sum(-1, dtype=numpy.int64)
    twentieths = abs(2 * dark - side * side) * 10 // (side * side)
    total: Bits = (
        _line_penalty(rows, side) + _line_penalty(columns, side) + _BLOCK * blocks + _BALANCE * twentieths
    )
    return total


def masked(codewords: "Cells", version: int, level: int) -> tuple["Bits", "Cells"]:
    """Lay out the codewords of many symbols; give for each the best mask and the modules, dark as 1."""
    import numpy

    frames, order = _frames(version, level)
    side = frames.shape[-1]
    bits = numpy.unpackbits(codewords, axis=1)
    data = numpy.zeros((len(codewords), side * side), numpy.uint8)
    data[:, order[: bits.shape[1]]] = bits
    data = data.reshape(-1, side, side)
    rows = _packed(data)[:, None] ^ _packed(frames)[None]
    columns = _packed(data.swapaxes(1, 2))[:, None] ^ _packed(frames.swapaxes(1, 2))[None]
    best = penalties(rows, columns, side).argmin(axis=1)
    return best, data ^ frames[best]
