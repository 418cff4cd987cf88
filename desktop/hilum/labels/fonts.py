"""Faces: which font file has which glyphs, how wide they are, and how a script's letters join."""

import re
import threading
import unicodedata
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from hilum.labels import system_fonts
from hilum.resources import resource

if TYPE_CHECKING:
    import uharfbuzz

# Condensed faces put a third more words on a label; the wide ones stand in where a glyph is missing.
_FILES = {
    "condensed": "DejaVuSansCondensed.ttf",
    "condensed-bold": "DejaVuSansCondensed-Bold.ttf",
    "condensed-italic": "DejaVuSansCondensed-Oblique.ttf",
    "wide": "DejaVuSans.ttf",
    "wide-bold": "DejaVuSans-Bold.ttf",
    "wide-italic": "DejaVuSans-Oblique.ttf",
    "devanagari": "NotoSansDevanagari-Regular.ttf",
    "devanagari-bold": "NotoSansDevanagari-Bold.ttf",
    "bengali": "NotoSansBengali-Regular.ttf",
    "bengali-bold": "NotoSansBengali-Bold.ttf",
    "thai": "NotoSansThai-Regular.ttf",
    "thai-bold": "NotoSansThai-Bold.ttf",
}
_SCRIPTS = ("devanagari", "bengali", "thai")
_CHAINS = {
    "regular": ("condensed", "wide", *_SCRIPTS),
    "bold": (
        "condensed-bold", "wide-bold", *(f"{each}-bold" for each in _SCRIPTS), "condensed", "wide", *_SCRIPTS,
    ),
    "italic": ("condensed-italic", "wide-italic", "condensed", "wide", *_SCRIPTS),
}  # fmt: skip
STYLES = tuple(_CHAINS)
# Stands where no font has the character, so that a gap is seen and not read over (U+25A1, white square).
MISSING = "\u25a1"
# The DejaVu faces' own ascent and descent, in ems (hhea table; equal in all six files).
ASCENT_EM = 0.928
DESCENT_EM = 0.236

# Letters that join, stack or run from the right, and loose marks: these are shaped. Plain Latin, Greek and
# Cyrillic are not: nothing is gained, and every letter would cost ten times as much (measured).
_SHAPED = re.compile(
    "[\u0300-\u036f\u0590-\u08ff\u0900-\u109f\u135d-\u135f\u1780-\u17ff\u1800-\u18af\u1a20-\u1aff\u1b00-\u1bff"
    "\u1dc0-\u1dff\u200c\u200d\u20d0-\u20ff\ua8e0-\ua8ff\ua980-\uaaff\uabc0-\uabff\ufb1d-\ufdff\ufe20-\ufe2f"
    "\ufe70-\ufeff]"
)
_LOADING = threading.Lock()


class Glyph(NamedTuple):
    """One shaped glyph: its number, how far it moves the pen, where it stands, what it says (in ems)."""

    number: int
    advance_em: float
    right_em: float
    up_em: float
    text: str


class _Widths(dict[str, float]):
    """Advances in ems by character, looked up once each."""

    def __init__(self, font: "uharfbuzz.Font", upem: int) -> None:
        super().__init__()
        self._font, self._upem = font, upem

    def __missing__(self, character: str) -> float:
        number = self._font.get_nominal_glyph(ord(character)) or 0
        width_em = float(self._font.get_glyph_h_advance(number) / self._upem)
        self[character] = width_em
        return width_em


class Face:
    """One font file, ready for measuring, shaping and embedding."""

    def __init__(self, name: str, path: Path, index: int = 0) -> None:
        import uharfbuzz

        blob = uharfbuzz.Blob.from_file_path(str(path))
        self.name = name
        self.face = uharfbuzz.Face(blob, index)
        self._font = uharfbuzz.Font(self.face)
        self.upem = self.face.upem
        extents = self._font.get_font_extents("ltr")
        self.ascent_em = extents.ascender / self.upem
        self.descent_em = -extents.descender / self.upem
        self._widths = _Widths(self._font, self.upem)
        self._shapes: dict[tuple[str, bool | None], tuple[Glyph, ...]] = {}

    def __repr__(self) -> str:
        return f"Face({self.name})"

    def has(self, character: str) -> bool:
        """Tell whether the font can draw a character."""
        return bool(self._font.get_nominal_glyph(ord(character)))

    def number_of(self, character: str) -> int:
        """Give the number of a character's plain glyph; 0 when the font has none."""
        return int(self._font.get_nominal_glyph(ord(character)) or 0)

    def advance_em(self, number: int) -> float:
        """Give how far a glyph moves the pen by itself."""
        return float(self._font.get_glyph_h_advance(number) / self.upem)

    def width_em(self, text: str) -> float:
        """Give the advance of a text as a multiple of the type size."""
        if _SHAPED.search(text):
            return sum(glyph.advance_em for glyph in self.shaped(text))
        return sum(map(self._widths.__getitem__, text))

    def shaped(self, text: str, backwards: bool | None = None) -> tuple[Glyph, ...]:
        """Join and place the letters of a text of one script; glyphs come from left to right.

        `backwards` says that the text runs from the right; None lets its own letters say it.
        """
        key = (text, backwards)
        if key not in self._shapes:
            if len(self._shapes) > _MOST_SHAPES:
                self._shapes.clear()
            self._shapes[key] = self._shape(text, backwards)
        return self._shapes[key]

    def _shape(self, text: str, backwards: bool | None) -> tuple[Glyph, ...]:
        import uharfbuzz

        buffer = uharfbuzz.Buffer()
        buffer.add_str(text)
        buffer.guess_segment_properties()
        if backwards is not None:
            buffer.direction = "rtl" if backwards else "ltr"
        # Ligatures of habit (fi) would only spoil what is copied out; the ones a script needs stay.
        uharfbuzz.shape(self._font, buffer, {"liga": False, "clig": False, "kern": False})
        starts = sorted({info.cluster for info in buffer.glyph_infos})
        ends = dict(zip(starts, [*starts[1:], len(text)], strict=True))
        glyphs, said = [], set[int]()
        for info, place in zip(buffer.glyph_infos, buffer.glyph_positions or (), strict=True):
            words = "" if info.cluster in said else text[info.cluster : ends[info.cluster]]
            said.add(info.cluster)
            advance, right, up = (
                each / self.upem for each in (place.x_advance, place.x_offset, place.y_offset)
            )
            glyphs.append(Glyph(info.codepoint, advance, right, up, words))
        return tuple(glyphs)


_MOST_SHAPES = 4_000


class Run(NamedTuple):
    """Text of one face; `backwards` where it runs from the right."""

    face: Face
    text: str
    backwards: bool = False

    def glyphs(self) -> tuple[Glyph, ...] | None:
        """Give the run's shaped glyphs; None where every character is its own plain glyph."""
        if self.backwards or _SHAPED.search(self.text):
            return self.face.shaped(self.text, self.backwards)
        return None


def face(key: str) -> Face:
    """Give one face by its key, loaded once a process."""
    found = _loaded.get(key)
    if found is None:
        with _LOADING:
            found = _loaded.setdefault(key, Face(f"Hilum-{key}", resource("fonts", _FILES[key])))
    return found


_loaded: dict[str, Face] = {}


@cache
def _of_system(path: Path, index: int) -> Face:
    return Face(f"System-{path.stem.replace(' ', '')}", path, index)


def faces(style: str, text: str = "") -> tuple[Face, ...]:
    """Give the faces of a style in the order they are asked; the system's own last, for what needs them."""
    own = tuple(map(face, _CHAINS[style]))
    if not text or all(any(each.has(character) for each in own) for character in text):
        return own
    with _LOADING:
        return own + tuple(_of_system(path, index) for path, index in system_fonts.found(text))


def _clusters(text: str) -> list[str]:
    """Part a text into letters with the marks and joiners that belong to them."""
    clusters: list[str] = []
    for character in text:
        follows = unicodedata.category(character) in ("Mn", "Mc", "Me") or character in "\u200c\u200d"
        if clusters and (follows or clusters[-1].endswith("\u200d")):
            clusters[-1] += character
        else:
            clusters.append(character)
    return clusters


def runs_of(text: str, style: str) -> tuple[tuple[Run, ...], tuple[str, ...]]:
    """Split a text into runs of one face each, and list the characters that no face has."""
    first = face(_CHAINS[style][0])
    # Every first face has the whole of ASCII.
    if text.isascii() or all(map(first.has, text)):
        return ((Run(first, text),) if text else ()), ()
    asked = faces(style, text)
    runs: list[Run] = []
    missing: list[str] = []
    for cluster in _clusters(text):
        drawn, chosen = cluster, next((each for each in asked if all(map(each.has, cluster))), None)
        if chosen is None:
            # A mark that its letter's face lacks is dropped with a warning; the letter is not.
            chosen = next((each for each in asked if each.has(cluster[0])), None)
            gaps = cluster if chosen is None else cluster[1:]
            missing += [each for each in gaps if chosen is None or not chosen.has(each)]
            drawn = cluster[0] if chosen else MISSING
            chosen = chosen or next(each for each in asked if each.has(MISSING))
        if runs and runs[-1].face is chosen:
            runs[-1] = Run(chosen, runs[-1].text + drawn)
        else:
            runs.append(Run(chosen, drawn))
    return tuple(runs), tuple(dict.fromkeys(missing))
