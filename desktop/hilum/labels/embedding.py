"""Embedding: a face in a PDF, cut down to the glyphs used, each under a number of our own (ISO 32000-1, 9.7)."""

import hashlib
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

from hilum.labels.cff import character_ids
from hilum.labels.fonts import Face, Glyph

if TYPE_CHECKING:
    import uharfbuzz

# Glyph numbers are looked up in our own table, so what needs characters can go.
_DROPPED = (
    "GSUB",
    "GPOS",
    "GDEF",
    "BASE",
    "cmap",
    "name",
    "post",
    "OS/2",
    "kern",
    "gasp",
    "DSIG",
    "FFTM",
    "STAT",
    "prep",
    "fpgm",
    "cvt ",
)
# A thousandth of an em is a 70th of a dot at 300 dpi and 12 pt: less is not moved for.
_NEAR_EM = 0.0008
_CFF = "CFF "
ESCAPED = {"(": "\\(", ")": "\\)", "\\": "\\\\", "\r": "\\r"}


class Objects(Protocol):
    """The document that a face is written into."""

    def add(self, body: str | bytes) -> int:
        """Add an object; gives its number."""

    def put(self, number: int, body: bytes) -> None:
        """Fill in an object whose number was taken before."""

    def stream(self, entries: str, data: bytes) -> int:
        """Add a compressed stream."""


class EmbeddedFace:
    """One face in one document: the glyphs used so far, each under a number of its own."""

    def __init__(self, face: Face, name: str) -> None:
        self.face, self.name = face, name
        self._tagged = name
        self._numbers: dict[tuple[int, str], int] = {}
        self._plain: dict[str, str] = {}
        self._own = _numbers_of_cff(face)

    def _code(self, glyph: int, text: str) -> str:
        number = self._numbers.get((glyph, text))
        if number is None:
            own = len(self._numbers) + 1 if self._own is None else self._own[glyph]
            number = self._numbers[glyph, text] = own
        return "".join(ESCAPED.get(each, each) for each in (chr(number >> 8), chr(number & 255)))

    def shown(self, text: str) -> str:
        """Give the operator that shows plain characters, each as its own glyph."""
        codes = self._plain
        try:
            return f"({''.join([codes[each] for each in text])}) Tj"
        except KeyError:
            for each in text:
                if each not in codes:
                    codes[each] = self._code(self.face.number_of(each), each)
            return self.shown(text)

    def shown_glyphs(self, glyphs: tuple[Glyph, ...], size_pt: float) -> str:
        """Give the operators that show shaped glyphs where the shaping put them."""
        parts: list[str] = []
        here_em = pen_em = up_em = 0.0
        for glyph in glyphs:
            if abs(glyph.up_em - up_em) > _NEAR_EM:
                up_em = glyph.up_em
                parts.append(f"] TJ {up_em * size_pt:.3f} Ts [")
            back_em = here_em - (pen_em + glyph.right_em)
            if abs(back_em) > _NEAR_EM:
                parts.append(f"{back_em * 1000:.1f} ")
                here_em -= back_em
            parts.append(f"({self._code(glyph.number, glyph.text)})")
            here_em += self.face.advance_em(glyph.number)
            pen_em += glyph.advance_em
        if abs(here_em - pen_em) > _NEAR_EM:
            parts.append(f"{(here_em - pen_em) * 1000:.1f} ")
        return f"[{''.join(parts)}] TJ" + (" 0 Ts" if up_em else "")

    def objects(self, file: Objects, number: int) -> None:
        """Write the face, cut down to what was used."""
        import uharfbuzz

        asked = uharfbuzz.SubsetInput()
        asked.sets(uharfbuzz.SubsetInputSets.GLYPH_INDEX).update({glyph for glyph, _ in self._numbers})
        tables = asked.sets(uharfbuzz.SubsetInputSets.DROP_TABLE_TAG)
        tables.update(int.from_bytes(tag.encode(), "big") for tag in _DROPPED)
        asked.flags = uharfbuzz.SubsetFlags.NO_HINTING | uharfbuzz.SubsetFlags.NO_LAYOUT_CLOSURE
        if isinstance(self._own, range):
            # Where a font gives no numbers a PDF asks by the glyph's place, which must then stay.
            asked.flags |= uharfbuzz.SubsetFlags.RETAIN_GIDS
        plan = uharfbuzz.SubsetPlan(self.face.face, asked)
        inner = self._inner(file, plan.execute(), plan.old_to_new_glyph_mapping)
        said = file.stream("", _to_unicode({number: text for (_, text), number in self._numbers.items()}))
        file.put(
            number,
            f"<< /Type /Font /Subtype /Type0 /BaseFont /{self._tagged} /Encoding /Identity-H "
            f"/DescendantFonts [{inner} 0 R] /ToUnicode {said} 0 R >>".encode(),
        )

    def _inner(self, file: Objects, cut: "uharfbuzz.Face", new: Mapping[int, int]) -> int:
        """Write the face that was cut down, and what leads from our numbers to its glyphs."""
        is_cff = self._own is not None
        data = bytes((cut.reference_table(_CFF) if is_cff else cut.blob).data)
        tag = "".join(chr(65 + each % 26) for each in hashlib.sha256(data).digest()[:6])
        self._tagged = f"{tag}+{self.face.name}"
        widths = {number: self.face.advance_em(glyph) for (glyph, _), number in self._numbers.items()}
        if is_cff:
            described = self._described(
                file, f"/FontFile3 {file.stream('/Subtype /CIDFontType0C', data)} 0 R"
            )
            wide = " ".join(f"{number} [{widths[number] * 1000:.0f}]" for number in sorted(widths))
            return file.add(f"{self._cid_font('CIDFontType0', described)} /W [{wide}] >>")
        described = self._described(file, f"/FontFile2 {file.stream(f'/Length1 {len(data)}', data)} 0 R")
        places = b"".join(
            new[glyph].to_bytes(2, "big") for glyph in (0, *(glyph for glyph, _ in self._numbers))
        )
        wide = " ".join(f"{width_em * 1000:.0f}" for width_em in widths.values())
        return file.add(
            f"{self._cid_font('CIDFontType2', described)} /CIDToGIDMap {file.stream('', places)} 0 R "
            f"/W [1 [{wide}]] >>"
        )

    def _cid_font(self, kind: str, described: int) -> str:
        return (
            f"<< /Type /Font /Subtype /{kind} /BaseFont /{self._tagged} /CIDSystemInfo {_SYSTEM} "
            f"/FontDescriptor {described} 0 R"
        )

    def _described(self, file: Objects, font_file: str) -> int:
        up, down = self.face.ascent_em * 1000, -self.face.descent_em * 1000
        return file.add(
            f"<< /Type /FontDescriptor /FontName /{self._tagged} /Flags 4 /FontBBox [-1000 {down:.0f} 3000 {up:.0f}] "
            f"/ItalicAngle {-11 if 'italic' in self.face.name else 0} /Ascent {up:.0f} /Descent {down:.0f} "
            f"/CapHeight 729 /StemV 80 {font_file} >>"
        )


_SYSTEM = "<< /Registry (Adobe) /Ordering (Identity) /Supplement 0 >>"


def _numbers_of_cff(face: Face) -> Sequence[int] | None:
    """Give the number by which a PDF must ask for each glyph of CFF outlines; None for TrueType, where we choose."""
    if _CFF not in face.face.table_tags:
        return None
    return character_ids(bytes(face.face.reference_table(_CFF).data), face.face.glyph_count)


def _to_unicode(texts: Mapping[int, str]) -> bytes:
    """Say what each glyph number means, so that words can be copied and searched."""
    lines = [
        f"<{number:04x}> <{texts[number].encode('utf-16-be').hex()}>"
        for number in sorted(texts)
        if texts[number]
    ]
    blocks = [
        f"{len(some)} beginbfchar\n" + "\n".join(some) + "\nendbfchar\n"
        for some in (lines[start : start + 100] for start in range(0, len(lines), 100))
    ]
    head = (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /Adobe-Identity-UCS def\n"
        "/CMapType 2 def\n1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n"
    )
    return (
        head + "".join(blocks) + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend"
    ).encode()
