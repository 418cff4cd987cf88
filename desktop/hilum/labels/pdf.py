"""PDF: objects, pages, embedded faces and pictures written out (ISO 32000-1); what they show is decided elsewhere.

A page is a string of drawing operators, one character a byte. The same pages give the same bytes.
"""

import hashlib
import zlib
from typing import TYPE_CHECKING

from hilum.labels.fonts import Face, Glyph, Run

if TYPE_CHECKING:
    from collections.abc import Iterable

# PrintScaling came with PDF 1.6 (ISO 32000-1, table 150).
_HEADER = b"%PDF-1.6\n%\xe2\xe3\xcf\xd3\n"
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
_ESCAPED = {"(": "\\(", ")": "\\)", "\\": "\\\\", "\r": "\\r"}


def pdf_text(text: str) -> bytes:
    """Write a text string for the document's own entries."""
    if text.isascii():
        return f"({''.join(_ESCAPED.get(each, each) for each in text)})".encode("ascii")
    return b"<" + (b"\xfe\xff" + text.encode("utf-16-be")).hex().encode() + b">"


class EmbeddedFace:
    """One face in one document: the glyphs used so far, each under a number of its own."""

    def __init__(self, face: Face, name: str) -> None:
        self.face, self.name = face, name
        self._numbers: dict[tuple[int, str], int] = {}
        self._plain: dict[str, str] = {}

    def _code(self, glyph: int, text: str) -> str:
        number = self._numbers.setdefault((glyph, text), len(self._numbers) + 1)
        return "".join(_ESCAPED.get(each, each) for each in (chr(number >> 8), chr(number & 255)))

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

    def objects(self, file: "PdfFile", number: int) -> None:
        """Write the face, cut down to what was used."""
        import uharfbuzz

        asked = uharfbuzz.SubsetInput()
        asked.sets(uharfbuzz.SubsetInputSets.GLYPH_INDEX).update({glyph for glyph, _ in self._numbers})
        tables = asked.sets(uharfbuzz.SubsetInputSets.DROP_TABLE_TAG)
        tables.update(int.from_bytes(tag.encode(), "big") for tag in _DROPPED)
        asked.flags = uharfbuzz.SubsetFlags.NO_HINTING | uharfbuzz.SubsetFlags.NO_LAYOUT_CLOSURE
        plan = uharfbuzz.SubsetPlan(self.face.face, asked)
        new = plan.old_to_new_glyph_mapping
        data = plan.execute().blob.data
        order = list(self._numbers)
        places = bytearray(2)
        for glyph, _ in order:
            places += new[glyph].to_bytes(2, "big")
        tag = "".join(chr(65 + each % 26) for each in hashlib.sha256(data).digest()[:6])
        name = f"{tag}+{self.face.name}"
        font_file = file.stream(f"/Length1 {len(data)}", data)
        widths = " ".join(f"{self.face.advance_em(glyph) * 1000:.0f}" for glyph, _ in order)
        up, down = self.face.ascent_em * 1000, -self.face.descent_em * 1000
        described = file.add(
            f"<< /Type /FontDescriptor /FontName /{name} /Flags 4 /FontBBox [-1000 {down:.0f} 3000 {up:.0f}] "
            f"/ItalicAngle {-11 if 'italic' in self.face.name else 0} /Ascent {up:.0f} /Descent {down:.0f} "
            f"/CapHeight 729 /StemV 80 /FontFile2 {font_file} 0 R >>"
        )
        glyph_map = file.stream("", bytes(places))
        inner = file.add(
            f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDSystemInfo << /Registry (Adobe) "
            f"/Ordering (Identity) /Supplement 0 >> /FontDescriptor {described} 0 R /CIDToGIDMap {glyph_map} 0 R "
            f"/W [1 [{widths}]] >>"
        )
        said = file.stream("", _to_unicode([text for _, text in order]))
        file.put(
            number,
            f"<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H "
            f"/DescendantFonts [{inner} 0 R] /ToUnicode {said} 0 R >>".encode(),
        )


def _to_unicode(texts: list[str]) -> bytes:
    """Say what each glyph number means, so that words can be copied and searched."""
    lines = [
        f"<{number:04x}> <{text.encode('utf-16-be').hex()}>"
        for number, text in enumerate(texts, start=1)
        if text
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


def _packed(entries: str, data: bytes) -> bytes:
    """Compress a stream; level 5 gives a tenth more bytes than 6 for half the time (measured)."""
    packed = zlib.compress(data, 5)
    head = f"<< {entries} /Filter /FlateDecode /Length {len(packed)} >>\nstream\n".encode("latin-1")
    return head + packed + b"\nendstream"


class PdfFile:
    """A document in the making: pages in their order, then `finished`."""

    def __init__(self, title: str, language: str) -> None:
        self._objects: list[bytes] = []
        self._pages: list[int] = []
        self._faces: dict[Face, tuple[EmbeddedFace, int]] = {}
        self._pictures: dict[str, int] = {}
        self._catalog, self._tree, self._resources = self.add(""), self.add(""), self.add("")
        self._info = self.add(
            b"<< /Title " + pdf_text(title) + b" /Subject (Labels) /Creator (Hilum) /Producer (Hilum) >>"
        )
        self._language = language

    def add(self, body: str | bytes) -> int:
        """Add an object; gives its number."""
        self._objects.append(body.encode("latin-1") if isinstance(body, str) else body)
        return len(self._objects)

    def put(self, number: int, body: bytes) -> None:
        """Fill in an object whose number was taken before."""
        self._objects[number - 1] = body

    def stream(self, entries: str, data: bytes) -> int:
        """Add a compressed stream."""
        return self.add(_packed(entries, data))

    def face(self, face: Face) -> EmbeddedFace:
        """Give a face as this document knows it."""
        if face not in self._faces:
            self._faces[face] = EmbeddedFace(face, f"F{len(self._faces) + 1}"), self.add("")
        return self._faces[face][0]

    def picture(self, name: str, width: int, height: int, pixels: bytes) -> str:
        """Embed a grey picture once, under a name; gives the name by which a page draws it."""
        if name not in self._pictures:
            entries = (
                f"/Type /XObject /Subtype /Image /Width {width} /Height {height} /ColorSpace /DeviceGray "
                "/BitsPerComponent 8"
            )
            self._pictures[name] = self.stream(entries, pixels)
        return f"P{list(self._pictures).index(name) + 1}"

    def page(self, width_pt: float, height_pt: float, operators: "Iterable[str]") -> None:
        """Add a page."""
        content = self.stream("", "\n".join(operators).encode("latin-1"))
        page = (
            f"<< /Type /Page /Parent {self._tree} 0 R /MediaBox [0 0 {width_pt:.4f} {height_pt:.4f}] "
            f"/Resources {self._resources} 0 R /Contents {content} 0 R >>"
        )
        self._pages.append(self.add(page))

    def finished(self) -> bytes:
        """Write everything out."""
        for embedded, number in self._faces.values():
            embedded.objects(self, number)
        fonts = " ".join(f"/{each.name} {number} 0 R" for each, number in self._faces.values())
        pictures = " ".join(f"/P{n} {number} 0 R" for n, number in enumerate(self._pictures.values(), 1))
        kids = " ".join(f"{each} 0 R" for each in self._pages)
        self.put(self._resources, f"<< /Font << {fonts} >> /XObject << {pictures} >> >>".encode())
        self.put(self._tree, f"<< /Type /Pages /Count {len(self._pages)} /Kids [{kids}] >>".encode())
        self.put(
            self._catalog,
            f"<< /Type /Catalog /Pages {self._tree} 0 R /ViewerPreferences << /PrintScaling /None >> /Lang ".encode()
            + pdf_text(self._language)
            + b" >>",
        )
        parts, at = [_HEADER], len(_HEADER)
        starts = []
        for number, body in enumerate(self._objects, start=1):
            starts.append(at)
            parts.append(f"{number} 0 obj\n".encode() + body + b"\nendobj\n")
            at += len(parts[-1])
        table = "".join(f"{start:010d} 00000 n \n" for start in starts)
        total = len(starts) + 1
        digest = hashlib.sha256()
        for part in parts:
            digest.update(part)
        mark = digest.hexdigest()[:32]
        parts.append(
            f"xref\n0 {total}\n0000000000 65535 f \n{table}trailer\n<< /Size {total} /Root {self._catalog} 0 R "
            f"/Info {self._info} 0 R /ID [<{mark}> <{mark}>] >>\nstartxref\n{at}\n%%EOF\n".encode()
        )
        return b"".join(parts)


def shown_runs(file: PdfFile, runs: tuple[Run, ...], size_pt: float, font_now: str) -> tuple[str, str]:
    """Give the operators for the runs of one line, and the font that is set afterwards."""
    parts = []
    for run in runs:
        embedded = file.face(run.face)
        font = f"/{embedded.name} {size_pt:g} Tf"
        if font != font_now:
            parts.append(font)
            font_now = font
        glyphs = run.glyphs()
        parts.append(embedded.shown(run.text) if glyphs is None else embedded.shown_glyphs(glyphs, size_pt))
    return " ".join(parts), font_now
