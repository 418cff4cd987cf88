"""Text as find and comparison see it: case and accents folded, one space between words."""

import unicodedata

# What folding to marks leaves as it is, though keepers type it plainly.
_PLAIN = str.maketrans(
    {"ß": "ss", "ø": "o", "đ": "d", "ł": "l", "æ": "ae", "œ": "oe", "ı": "i", "þ": "th", "ð": "d"}
)


def tidy(text: str) -> str:
    """Give text as it is stored: NFC, no control characters, single spaces, no space at the ends."""
    kept = "".join(" " if unicodedata.category(ch) == "Cc" else ch for ch in text)
    return " ".join(unicodedata.normalize("NFC", kept).split())


def fold(text: str) -> str:
    """Give text as it is compared: no case, no accents, apostrophes dropped, other marks as spaces.

    Folding what is folded changes nothing. Vowel signs of scripts that cannot be read without them stay.
    """
    # Compatibility forms hide further capitals (a mathematical A is an A), so case is folded on both sides of them.
    once = unicodedata.normalize("NFKD", unicodedata.normalize("NFD", tidy(text)).casefold())
    spread = unicodedata.normalize("NFKD", once.casefold()).translate(_PLAIN)
    bare = "".join(ch for ch in spread if not unicodedata.combining(ch))
    plain = "".join("" if ch in "'’ʼ`´" else ch if _is_of_a_word(ch) else " " for ch in bare)
    return " ".join(plain.split())


def _is_of_a_word(ch: str) -> bool:
    # Marks above the Latin, Greek, Cyrillic, Hebrew and Arabic blocks are vowel signs (Devanagari, Thai and so on).
    return ch.isalnum() or (ch > "\u0900" and unicodedata.category(ch) in ("Mn", "Mc"))
