"""Payloads: what a code says. The lot number alone unless a design asks for more."""

import unicodedata
from collections.abc import Mapping

from hilum.labels.codewords import ALPHANUMERIC
from hilum.labels.errors import LabelError

# Letters that fall apart into no plain letter when their accents are taken off.
_PLAIN = {
    "ß": "SS",
    "Æ": "AE",
    "æ": "AE",
    "Ø": "O",
    "ø": "O",
    "Ł": "L",
    "ł": "L",
    "Đ": "D",
    "đ": "D",
    "’": "",
    "'": "",
}
_SAID = ("crop", "variety", "year", "place_grown", "lot")


def payload(kind: str, key: str, lot: str, fields: Mapping[str, str]) -> str:
    """Give the text of one label's code: "lot", "address" or "words", in capitals so that it stays small."""
    if kind == "address":
        return _address(key, lot, fields.get("address", "").strip())
    if kind == "words":
        return _words(key, fields)
    return lot


def _address(key: str, lot: str, address: str) -> str:
    """Join the library's web address and the lot number; a server must not mind capitals (RFC 3986, 6.2.2.1)."""
    if not address:
        raise LabelError(f"Label {key}: its code should hold the library's web address, but none is set.")
    whole = f"{address.rstrip('/')}/{lot}".upper()
    if not whole.startswith(("HTTPS://", "HTTP://")):
        whole = f"HTTPS://{whole}"
    odd = [each for each in whole if each not in ALPHANUMERIC]
    if odd:
        raise LabelError(
            f"Label {key}: the web address “{address}” has “{odd[0]}”, which a small code cannot hold. Use an address "
            "of letters, digits and - . / : only."
        )
    return whole


def _words(key: str, fields: Mapping[str, str]) -> str:
    said = [_capitals(fields.get(name, "")) for name in _SAID]
    words = " / ".join(each for each in said if each)
    if not words:
        raise LabelError(
            f"Label {key}: its code should hold the words of the label, but they have no letters that a small code "
            "can hold. Use a design whose code holds the lot number."
        )
    return words


def _capitals(text: str) -> str:
    """Write a text in the capitals, digits and signs of a small code; what has no such form becomes a space."""
    plain = "".join(_PLAIN.get(each, each) for each in text)
    bare = unicodedata.normalize("NFKD", plain).upper()
    kept = (each if each in ALPHANUMERIC else " " for each in bare if not unicodedata.combining(each))
    return " ".join("".join(kept).split())
