"""Words ready for setting: templates filled, faces chosen, widths known, nothing placed yet."""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from hilum.labels.breaks import pieces
from hilum.labels.designs import Part, TextBox
from hilum.labels.fonts import ASCENT_EM, DESCENT_EM, Run, runs_of

# Words between the parts of a plant's name; they and the name of a cultivar group stand upright
# (International Code of Nomenclature for Cultivated Plants, recommendations on type; from memory).
_RANKS = ("var.", "subsp.", "ssp.", "f.", "convar.", "cv.", "subvar.", "sect.")
_CONNECTING = frozenset((*_RANKS, "spp.", "sp.", "cf.", "aff.", "x", "×", "+"))
# A no-break space is a glyph of its own and holds its neighbours together.
# Marks that turn the direction of what follows are dropped: the letters themselves say how they run.
_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069]")
_SPACES = re.compile(r"[ \t\r\n\f\v\u2028\u2029]+")


@dataclass(frozen=True, slots=True)
class Word:
    """What is never parted but in need: runs of one face each, and the space before them."""

    runs: tuple[Run, ...]
    width_em: float
    space: str
    space_em: float
    # A dot or comma between two parts: dropped where a line ends or begins.
    is_separator: bool = False
    # Ems from the start of this word to the end of its part; 0 inside a part.
    part_em: float = 0.0

    @property
    def text(self) -> str:
        """The characters as drawn."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True, eq=False)
class Paragraph:
    """The words of one box; the same words of the same box are one paragraph."""

    box: TextBox
    words: tuple[Word, ...]
    is_protected: bool
    # Whether it has parts that may be left out in need.
    has_spare: bool
    missing: tuple[str, ...]
    # Whether any of its letters run from the right, and whether the first one does.
    right_to_left: bool
    begins_right: bool
    language: str
    # Of the tallest face in it: lines of one box keep one distance.
    ascent_em: float
    descent_em: float
    # All of it on one line.
    width_em: float

    @property
    def text(self) -> str:
        """The words as one text."""
        return "".join(word.space + word.text for word in self.words).strip()


def cleaned(text: str) -> str:
    """Give a text in one normal form, on one line, without control characters."""
    if text.isascii() and text.isprintable() and "  " not in text:
        return text.strip()
    plain = _SPACES.sub(" ", _TURNS.sub("", unicodedata.normalize("NFC", text))).strip()
    return "".join(each for each in plain if unicodedata.category(each) not in ("Cc", "Cs"))


_cleaned_once = lru_cache(maxsize=4_000)(cleaned)


def cleaned_fields(fields: Mapping[str, str], names: Iterable[str]) -> dict[str, str]:
    """Clean some fields of a label, in the order of their names; one it lacks is empty."""
    return {name: _cleaned_once(fields.get(name, "")) for name in names}


def _styles_of_botanical(words: list[str]) -> list[str]:
    """Set a plant's name: Latin words slanted; ranks, authors, groups and quoted names upright."""
    styles = []
    for number, word in enumerate(words):
        bare = word.strip("()[],;‘’'\"")
        upright = bare.lower() in _CONNECTING or (number > 0 and not bare[:1].islower())
        styles.append("regular" if upright else "italic")
    return styles


@lru_cache(maxsize=4_000)
def _measured(text: str, style: str, space: str) -> tuple[Word, tuple[str, ...]]:
    """Measure one word; the same words come back on label after label."""
    runs, missing = runs_of(text, style)
    width_em = sum(run.face.width_em(run.text) for run in runs)
    return Word(runs, width_em, space, runs[0].face.width_em(space) if runs else 0.0), missing


def _whole_part(word: Word) -> Word:
    """Give a word that is the whole of its part."""
    return Word(word.runs, word.width_em, word.space, word.space_em, part_em=word.width_em)


@lru_cache(maxsize=4_000)
def _words_of(text: str, face: str, lead: str) -> tuple[tuple[Word, ...], tuple[str, ...]]:
    if face != "botanical" and " " not in text and text.isascii():
        # Most fields are one plain word.
        only, gaps = _measured(text, face, lead)
        return (_whole_part(only),), gaps
    spaced = [word for word in text.split(" ") if word]
    styles = _styles_of_botanical(spaced) if face == "botanical" else [face] * len(spaced)
    words: list[Word] = []
    missing: tuple[str, ...] = ()
    for number, (whole, style) in enumerate(zip(spaced, styles, strict=True)):
        for place, part in enumerate(pieces(whole)):
            space = lead if number == 0 else " "
            word, gaps = _measured(part, style, "" if place else space)
            words.append(word)
            missing += gaps
    first = words[0]
    whole_em = -first.space_em
    for word in words:
        whole_em += word.width_em + word.space_em
    words[0] = Word(first.runs, first.width_em, first.space, first.space_em, part_em=whole_em)
    return tuple(words), missing


def _joined(filled: Iterable[tuple[Part, str]], between: str) -> tuple[list[Word], list[str]]:
    words: list[Word] = []
    missing: list[str] = []
    mark = between.strip()
    for part, text in filled:
        lead = ""
        if words and mark:
            word, gaps = _separator(between)
            lead = between[len(between.rstrip()) :]
            words.append(word)
            missing += gaps
        elif words:
            lead = between
        more, not_there = _words_of(text, part.face, lead)
        words += more
        missing += not_there
    return words, missing


@lru_cache(maxsize=100)
def _separator(between: str) -> tuple[Word, tuple[str, ...]]:
    space = between[: len(between) - len(between.lstrip())]
    word, gaps = _measured(between.strip(), "regular", space)
    return replace(word, is_separator=True), gaps


def paragraph(
    box: TextBox, fields: Mapping[str, str], without: frozenset[int] = frozenset(), language: str = "en"
) -> Paragraph | None:
    """Fill one box's templates; None when nothing is left to say. Words alone stand where no field belongs to them."""
    if not box.is_wanted(fields):
        return None
    texts = tuple("" if number in without else part.filled(fields) for number, part in enumerate(box.parts))
    has_fields = any(part.fields for part in box.parts)
    if not any(text and (part.fields or not has_fields) for part, text in zip(box.parts, texts, strict=True)):
        return None
    return _paragraph(box, texts, language)


class BoxWords:
    """One box of one design in one language; the same fields give the same paragraph."""

    def __init__(self, box: TextBox, language: str) -> None:
        self._box, self._language, self._names = (
            box,
            language,
            tuple(dict.fromkeys((*box.fields, *filter(None, (box.only_with, box.only_without))))),
        )
        self._known: dict[tuple[str | None, ...], Paragraph | None] = {}

    def paragraph(self, fields: Mapping[str, str]) -> Paragraph | None:
        """Fill the templates, or remember them filled."""
        key = tuple(map(fields.get, self._names))
        if key not in self._known:
            if len(self._known) > _MOST_KNOWN:
                self._known.clear()
            self._known[key] = paragraph(self._box, fields, language=self._language)
        return self._known[key]


_MOST_KNOWN = 5_000


def _extents(words: list[Word]) -> tuple[float, float]:
    """Give how far the tallest face of some words rises and the deepest falls."""
    tallest, deepest, last = 0.0, 0.0, None
    for word in words:
        for run in word.runs:
            # Most boxes are of one face.
            if run.face is not last:
                last = run.face
                tallest, deepest = max(tallest, last.ascent_em), max(deepest, last.descent_em)
    return (tallest, deepest) if last else (ASCENT_EM, DESCENT_EM)


def _paragraph(box: TextBox, texts: tuple[str, ...], language: str) -> Paragraph:
    filled = [(part, text) for part, text in zip(box.parts, texts, strict=True) if text]
    words, missing = _joined(filled, box.between)
    is_plain = all(map(str.isascii, texts))
    directions = ["L"] if is_plain else [each for text in texts for each in _directions(text)]
    tallest, deepest = _extents(words)
    is_protected = box.keep
    has_spare = False
    for part, _ in filled:
        is_protected = is_protected or part.is_protected
        has_spare = has_spare or (not box.keep and bool(part.fields) and not part.is_protected)
    width_em = -words[0].space_em
    for word in words:
        width_em += word.width_em + word.space_em
    return Paragraph(
        box,
        tuple(words),
        is_protected,
        has_spare,
        tuple(dict.fromkeys(missing)),
        right_to_left="R" in directions,
        begins_right=directions[:1] == ["R"],
        language=language,
        ascent_em=tallest,
        descent_em=deepest,
        width_em=width_em,
    )


@lru_cache(maxsize=4_000)
def _directions(text: str) -> tuple[str, ...]:
    """Give which ways the letters of a text run, in the order in which they are met."""
    if text.isascii():
        return ("L",)
    classes = {"L": "L", "R": "R", "AL": "R"}
    kinds = map(unicodedata.bidirectional, text)
    return tuple(dict.fromkeys(classes[each] for each in kinds if each in classes))
