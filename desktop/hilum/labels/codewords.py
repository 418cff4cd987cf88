"""Codewords: what many payloads of one length say in a QR symbol, with their error correction, all at once.

The encoder library makes one symbol's codewords in plain Python. Error correction is linear over the field
of 256 elements, so the library is asked once for what each data codeword of a version adds, and the rest is
one table look-up a codeword for all payloads together (ISO/IEC 18004; the field and its powers are the
library's own).
"""

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Words = np.ndarray[Any, np.dtype[np.uint8]]

# ISO/IEC 18004, alphanumeric mode: 45 characters, two in 11 bits, a last one in 6.
ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_MODE, _MODE_BITS, _COUNT_BITS = 0b0010, 4, 9
_PADDING = (0xEC, 0x11)
# Any data that is not all zeros serves to compare with; the library cannot divide zeros.
_GROUND = 0xA5


@cache
def _products() -> "Words":
    """Multiply every two elements of the field."""
    import numpy
    from qrcode.base import EXP_TABLE

    powers = numpy.array(EXP_TABLE[:255], numpy.uint8)
    logs = numpy.zeros(256, numpy.int64)
    logs[powers] = numpy.arange(255)
    products: Words = powers[(logs[:, None] + logs[None]) % 255]
    products[0] = products[:, 0] = 0
    return products


def _by_library(data: list[int], version: int, level: int) -> list[int]:
    from qrcode import base, util

    buffer = util.BitBuffer()
    for word in data:
        buffer.put(word, 8)
    return list(util.create_bytes(buffer, base.rs_blocks(version, level)))


@cache
def _shares(version: int, level: int) -> "Words":
    """Give what a one in each data codeword adds to each codeword of the symbol."""
    import numpy
    from qrcode import base

    length = sum(block.data_count for block in base.rs_blocks(version, level))
    ground = [_GROUND] * length
    plain = numpy.array(_by_library(ground, version, level), numpy.uint8)
    rows = []
    for place in range(length):
        changed = [*ground[:place], _GROUND ^ 1, *ground[place + 1 :]]
        rows.append(numpy.array(_by_library(changed, version, level), numpy.uint8) ^ plain)
    return numpy.array(rows)


@cache
def _values() -> "np.ndarray[Any, np.dtype[np.int64]]":
    """Give the value of each character by its byte."""
    import numpy

    values = numpy.zeros(256, numpy.int64)
    for value, character in enumerate(ALPHANUMERIC):
        values[ord(character)] = value
    return values


def _data(payloads: Sequence[str], length: int) -> "Words":
    """Write payloads of one length as data codewords, padded to the room there is."""
    import numpy

    count = len(payloads[0])
    values = numpy.array(
        [[ALPHANUMERIC.index(each) for each in payload] for payload in payloads], numpy.int64
    )
    pairs = 45 * values[:, 0 : count - 1 : 2] + values[:, 1::2]
    pieces = [
        numpy.tile(_bits(numpy.array([[_MODE]]), _MODE_BITS), (len(payloads), 1)),
        numpy.tile(_bits(numpy.array([[count]]), _COUNT_BITS), (len(payloads), 1)),
        _bits(pairs, 11),
    ]
    if count % 2:
        pieces.append(_bits(values[:, -1:], 6))
    used = sum(piece.shape[1] for piece in pieces)
    stop = min(4, 8 * length - used)
    fill = (-(used + stop)) % 8
    pieces.append(numpy.zeros((len(payloads), stop + fill), numpy.uint8))
    words = numpy.packbits(numpy.concatenate(pieces, axis=1), axis=1)
    spare = length - words.shape[1]
    padding = numpy.array([_PADDING[n % 2] for n in range(spare)], numpy.uint8)
    written: Words = numpy.concatenate([words, numpy.tile(padding, (len(payloads), 1))], axis=1)
    return written


def _bits(values: "np.ndarray[Any, np.dtype[np.int64]]", width: int) -> "Words":
    import numpy

    bits = (values[:, :, None] >> numpy.arange(width - 1, -1, -1)) & 1
    return bits.reshape(len(values), -1).astype(numpy.uint8)


def codewords(payloads: Sequence[str], version: int, level: int) -> "Words":
    """Give the codewords of payloads of one length, one row a payload."""
    import numpy

    products, shares = _products(), _shares(version, level)
    data = _data(payloads, len(shares))
    words = numpy.zeros((len(payloads), shares.shape[1]), numpy.uint8)
    for place, share in enumerate(shares):
        words ^= products[data[:, place, None], share[None]]
    return words
