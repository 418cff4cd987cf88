"""PDF: objects, pages and pictures written out (ISO 32000-1); what they show is decided elsewhere.

A page is a string of drawing operators, one character a byte. The same pages give the same bytes.
"""

import hashlib
import zlib
from typing import TYPE_CHECKING

from hilum.labels.embedding import ESCAPED, EmbeddedFace
from hilum.labels.fonts import Face, Run

if TYPE_CHECKING:
    from collections.abc import Iterable

# PrintScaling came with PDF 1.6 (ISO 32000-1, table 150).
_HEADER = b"%PDF-1.6\n%\xe2\xe3\xcf\xd3\n"


def pdf_text(text: str) -> bytes:
    """Write a text string for the document's own entries."""
    if text.isascii():
        return f"({''.join(ESCAPED.get(each, each) for each in text)})".encode("ascii")
    return b"<" + (b"\xfe\xff" + text.encode("utf-16-be")).hex().encode() + b">"


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
