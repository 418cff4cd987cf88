"""Breaks: where a word may be parted, by its script and by its language."""

import itertools
import re
from functools import cache, lru_cache

# No space between words: Han, kana and their punctuation may break almost anywhere.
_WIDE = re.compile(
    "[\u2e80-\u2fdf\u3000-\u30ff\u31f0-\u31ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\uff00-\uffef]"
)
# Never first on a line, never last on a line (JIS X 4051, the common characters; from memory).
_NOT_FIRST = set(
    "、。，．・：；？！」』）］｝〉》】〕ーぁぃぅぇぉっゃゅょゎァィゥェォッャュョヮヵヶ々゛゜…‥％,.;:?!)]}"
)
_NOT_LAST = set("「『（［｛〈《【〔([{")
_THAI = re.compile("[\u0e01-\u0e5b]")
# A Thai syllable surely begins with a vowel written before its consonant, and surely ends with sara a, sara
# am or a repetition mark. Dictionaries find more places; these are right in any word.
_THAI_STARTS = "\u0e40\u0e41\u0e42\u0e43\u0e44"
_THAI_ENDS = "\u0e30\u0e33\u0e45\u0e46\u0e2f"
# What is left on a line, and what goes to the next one, has at least so many letters (common practice, no source).
_LEAST_LEFT, _LEAST_RIGHT, _LEAST_WORD = 3, 3, 7


def pieces(word: str) -> list[str]:
    """Part a word without spaces where its script lets a line end; Latin words stay whole."""
    if word.isascii() or not (_WIDE.search(word) or _THAI.search(word)):
        return [word]
    found = [word[:1]]
    for before, after in itertools.pairwise(word):
        if _may_part(before, after):
            found.append(after)
        else:
            found[-1] += after
    return found


def _may_part(before: str, after: str) -> bool:
    if _THAI.match(before) and _THAI.match(after):
        return before not in _THAI_STARTS and (after in _THAI_STARTS or before in _THAI_ENDS)
    if not _WIDE.match(before) and not _WIDE.match(after):
        return False
    return after not in _NOT_FIRST and before not in _NOT_LAST


@cache
def _dictionary(language: str) -> object | None:
    import pyphen

    name = pyphen.language_fallback(language.replace("-", "_"))
    return pyphen.Pyphen(lang=name, left=_LEAST_LEFT, right=_LEAST_RIGHT) if name else None


@lru_cache(maxsize=4_000)
def hyphenations(word: str, language: str) -> tuple[tuple[str, str], ...]:
    """Give the ways to part a word with a hyphen, the longest first part first; none for names and numbers."""
    if len(word) < _LEAST_WORD or not word.strip("(),.;:").isalpha():
        return ()
    dictionary = _dictionary(language)
    if dictionary is None:
        return ()
    return tuple((f"{first}-", last) for first, last in dictionary.iterate(word))  # type: ignore[attr-defined]
