"""Lines: words broken to a width, hyphenated or shortened where they may be, in the order they are drawn in."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from hilum.labels.breaks import hyphenations
from hilum.labels.directions import in_order
from hilum.labels.fonts import ASCENT_EM, DESCENT_EM, Run, face
from hilum.labels.geometry import MM_PER_POINT, TOLERANCE_MM, Box
from hilum.labels.words import Paragraph, Word

_ELLIPSIS = "…"
MOST_LINES = 60


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """The printable area of a label (corner at 0, 0) with the code's square and other blocks taken out of it."""

    area: Box
    code: Box | None
    blocks: tuple[Box, ...] = ()

    def span(self, top_mm: float, bottom_mm: float) -> tuple[float, float]:
        """Give the left and right end that words may use between two heights.

        Words use the wider side of a block: what stands in the left half is passed on its right.
        """
        left_mm, right_mm = self.area.x_mm, self.area.right_mm
        for block in (self.code, *self.blocks):
            if (
                block is None
                or bottom_mm <= block.y_mm + TOLERANCE_MM
                or top_mm >= block.bottom_mm - TOLERANCE_MM
            ):
                continue
            if block.x_mm - self.area.x_mm <= self.area.right_mm - block.right_mm + TOLERANCE_MM:
                left_mm = max(left_mm, block.right_mm)
            else:
                right_mm = min(right_mm, block.x_mm)
        return left_mm, max(left_mm, right_mm)


@lru_cache(maxsize=2_000)
def column(room: Room, left_mm: float, width_mm: float) -> Room:
    """Give the part of a room that a box with a column of its own may use; a width of 0 is all there is."""
    if not left_mm and not width_mm:
        return room
    most_mm = max(0.0, room.area.width_mm - left_mm)
    area = replace(
        room.area, x_mm=room.area.x_mm + left_mm, width_mm=min(width_mm, most_mm) if width_mm else most_mm
    )
    return Room(area, room.code, room.blocks)


@dataclass(frozen=True, slots=True)
class SetLine:
    """One line of text in its place on the label."""

    x_mm: float
    baseline_mm: float
    size_pt: float
    width_mm: float
    # As they are drawn, from left to right; and as they are read, where that differs.
    runs: tuple[Run, ...]
    reading: tuple[Run, ...] | None = None
    ascent_em: float = ASCENT_EM
    descent_em: float = DESCENT_EM

    @property
    def read(self) -> tuple[Run, ...]:
        """The runs in the order in which they are read."""
        return self.runs if self.reading is None else self.reading

    @property
    def text(self) -> str:
        """The characters of the line, in the order in which they are read."""
        return "".join(run.text for run in self.read)

    def box(self) -> Box:
        """The ground that the line's ink can cover."""
        em_mm = self.size_pt * MM_PER_POINT
        height_mm = (self.ascent_em + self.descent_em) * em_mm
        return Box(self.x_mm, self.baseline_mm - self.ascent_em * em_mm, self.width_mm, height_mm)


def _in_pieces(word: Word, most_em: float) -> list[Word]:
    """Part a word that is wider than its line after hyphens and slashes; whole if it has none."""
    if word.width_em <= most_em or len(word.runs) != 1:
        return [word]
    here, text, cuts = word.runs[0].face, word.text, [0]
    cuts += [n + 1 for n, each in enumerate(word.text[:-1]) if each in "-/‐–" and n]
    pieces = [text[start:end] for start, end in zip(cuts, [*cuts[1:], len(text)], strict=True)]
    return [
        Word(
            (Run(here, piece),),
            here.width_em(piece),
            word.space if n == 0 else "",
            word.space_em if n == 0 else 0.0,
        )
        for n, piece in enumerate(pieces)
    ]


def line_em(words: list[Word]) -> float:
    """Give the width of words on one line."""
    return sum(word.width_em + (word.space_em if n else 0.0) for n, word in enumerate(words))


def broken(
    words: tuple[Word, ...], width_em: Callable[[int], float], language: str | None = None
) -> tuple[list[list[Word]], bool]:
    """Break words into lines; `width_em` gives the room of the nth line. Also tells if a word is too wide.

    With a language, words are hyphenated where they meet the end of a line.
    """
    lines: list[list[Word]] = [[]]
    used, too_wide = 0.0, False
    queue = list(reversed(words))
    while queue and len(lines) < MOST_LINES:
        word, room = queue.pop(), width_em(len(lines) - 1)
        current = lines[-1]
        # A part that has a line's room to itself is not broken to fill up the line before.
        keeps_together = word.part_em and word.part_em <= width_em(len(lines))
        ahead_em = word.part_em if keeps_together else word.width_em
        if current and used + word.space_em + ahead_em > room:
            parted = _hyphenated(word, room - used - word.space_em, language) if language else None
            if parted:
                current.append(parted[0])
                lines.append([])
                queue.append(parted[1])
                used = 0.0
                continue
            while current and current[-1].is_separator:
                current.pop()
            lines.append([])
            queue.append(word)
            used = 0.0
            continue
        if not current:
            if word.is_separator:
                continue
            pieces = _in_pieces(word, room)
            if len(pieces) == 1 and language and word.width_em > room:
                pieces = _hyphenated(word, room, language) or pieces
            if len(pieces) > 1:
                queue.extend(reversed(pieces))
                continue
            too_wide = too_wide or word.width_em > room
        used += word.width_em + (word.space_em if current else 0.0)
        current.append(word)
    if lines and not lines[-1]:
        lines.pop()
    return lines, too_wide or bool(queue)


def balanced(
    words: tuple[Word, ...], width_em: Callable[[int], float], lines: list[list[Word]]
) -> list[list[Word]]:
    """Make lines more even where that takes no more of them, so that no word is left alone on the last."""
    for percent in (92, 85, 78, 70, 62):
        evener, too_wide = broken(words, _narrower(width_em, percent / 100))
        if len(evener) > len(lines) or too_wide:
            break
        lines = evener
    return lines


def _narrower(width_em: Callable[[int], float], share: float) -> Callable[[int], float]:
    return lambda number: share * width_em(number)


def shortened(words: list[Word], room_em: float) -> list[Word]:
    """Cut a line at a word, or its only word at a letter, and end it with an ellipsis that fits."""
    kept = list(words)
    while kept:
        last = kept[-1]
        if not last.is_separator:
            ended = _with_ellipsis(last)
            if line_em([*kept[:-1], ended]) <= room_em:
                return [*kept[:-1], ended]
        if len(kept) == 1:
            break
        kept.pop()
    here, text, _ = words[0].runs[0]
    while text and _with_ellipsis(replace(words[0], runs=(Run(here, text),))).width_em > room_em:
        text = text[:-1]
    return [_with_ellipsis(replace(words[0], runs=(Run(here, text),)))]


def _with_ellipsis(word: Word) -> Word:
    last = word.runs[-1]
    kept, mark = last.text.rstrip(",;."), _ELLIPSIS
    # A face of another script may not have the mark.
    ends = (
        (Run(last.face, kept + mark),)
        if last.face.has(mark)
        else (Run(last.face, kept), Run(face("condensed"), mark))
    )
    runs = (*word.runs[:-1], *(run for run in ends if run.text))
    return replace(word, runs=runs, width_em=sum(run.face.width_em(run.text) for run in runs))


def _hyphenated(word: Word, room_em: float, language: str) -> list[Word] | None:
    """Part a word with a hyphen so that its first part fits; None where it has no such place."""
    if len(word.runs) != 1:
        return None
    here = word.runs[0].face
    for first, last in hyphenations(word.text, language):
        first_em = here.width_em(first)
        if first_em <= room_em:
            return [
                replace(word, runs=(Run(here, first),), width_em=first_em, part_em=0.0),
                Word((Run(here, last),), here.width_em(last), "", 0.0),
            ]
    return None


def _runs(words: list[Word]) -> tuple[Run, ...]:
    """Join a line's words, with their spaces, into runs of one face."""
    runs: list[Run] = []
    for number, word in enumerate(words):
        for place, run in enumerate(word.runs):
            drawn = word.space + run.text if number and place == 0 else run.text
            if runs and runs[-1].face is run.face:
                runs[-1] = Run(run.face, runs[-1].text + drawn)
            else:
                runs.append(Run(run.face, drawn))
    return tuple(runs)


def ordered(paragraph: Paragraph, words: list[Word]) -> tuple[tuple[Run, ...], tuple[Run, ...] | None]:
    """Give a line's runs as drawn and, where letters run from the right, as read."""
    runs = _runs(words)
    if not paragraph.right_to_left:
        return runs, None
    return in_order(runs, paragraph.begins_right), runs
