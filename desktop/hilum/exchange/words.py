"""The words of a cell: cleaned of what cannot be seen, folded for comparing, shortened for showing."""

import re
import unicodedata

_LINE_BREAKS = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
# Characters that turn the reading direction round or show nothing: a name could be dressed up with them.
_INVISIBLE = frozenset("\u200b\u200e\u200f\u2060\ufeff") | {
    chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
}
_UNSEEN = {"Cc", "Cs"}  # controls, halves of a character pair
_NOT_A_WORD = re.compile(r"[\W_]+")


def clean_text(text: str) -> str:
    """Give a text in composed form (NFC), with plain line ends and without invisible controls."""
    if text.isascii() and text.isprintable():
        return text
    text = _LINE_BREAKS.sub("\n", text)
    kept = "".join(char for char in text if char in "\n\t" or not _is_unseen(char))
    return unicodedata.normalize("NFC", kept)


def _is_unseen(char: str) -> bool:
    code = ord(char)
    no_character = code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF  # by the Unicode standard, 23.7
    return no_character or char in _INVISIBLE or unicodedata.category(char) in _UNSEEN


def one_line(text: str) -> str:
    """Give a text with every run of white space made one space."""
    return " ".join(text.split())


def folded(text: str) -> str:
    """Give a text for comparing: no case, no accents, no punctuation, single spaces."""
    decomposed = unicodedata.normalize("NFKD", text.casefold().replace("ß", "ss"))
    bare = "".join(char for char in decomposed if not unicodedata.combining(char))
    return _NOT_A_WORD.sub(" ", bare).strip()


def shown(text: str, limit: int = 60) -> str:
    """Give a cell's text as a sentence quotes it: one line, not longer than it helps."""
    line = one_line(text)
    if len(line) > limit:
        line = line[: limit - 1].rstrip() + "…"
    return f'"{line}"'


def listed(words: list[str], joint: str = "and") -> str:
    """Join words as a sentence does: a, b and c."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"
