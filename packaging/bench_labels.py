"""Labels a second and bytes a label, beside two rivals in the same run: the plain way, and a bare floor.

Run from the root of the project: PYTHONPATH=desktop python packaging/bench_labels.py [labels] [repeats]

The plain way is what anybody would write: one picture of a code a label, at the PDF library's defaults. The
floor writes the same symbols and words as PDF by hand, without fitting, wrapping, checking or embedding.
"""

import io
import statistics
import sys
import tempfile
import time
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hilum.labels import boxes, codes, fitting, proof, words
from hilum.labels.blurring import PAPERS, blur_margin
from hilum.labels.designs import LabelDesign, design, designs, read_design
from hilum.labels.ink import InkedLabel, drawn
from hilum.labels.job import LabelData
from hilum.labels.orders import fitting_stocks, order
from hilum.labels.placing import Placing
from hilum.labels.sheets import places
from hilum.labels.stocks import label_stock

_STOCK = "a4-3x8-70x37"
_LINES = ("variety", "crop", "place_grown", "lot")
_WORDS = ("Hollow", "Early", "Speckled", "Long", "Winter", "Copper", "Bridge", "Saltmarsh", "Giant", "Dwarf")
_FOUR_LINES = """
title = "Four lines"
purpose = "For the bench: four lines of text and a code."
[[layout]]
smallest_width_mm = 57
smallest_height_mm = 32
[layout.code]
side = "right"
edge = "bottom"
room_mm = 15
""" + "".join(
    f'[[layout.box]]\nname = "{name}"\nparts = ["{{{name}}}"]\nsize_pt = [6, {14 if name == "variety" else 7}]\n'
    for name in _LINES
)


def lots(count: int) -> list[LabelData]:
    """Invent labels for as many different lots."""
    found = []
    for number in range(count):
        lot = f"LEK{number % 30:02d}-{number:04d}-7"
        variety = " ".join(_WORDS[(number * step) % len(_WORDS)] for step in range(1, 2 + number % 3))
        fields = {
            "crop": "Leek",
            "botanical": "Allium ampeloprasum Porrum Group",
            "variety": f"{variety} {number}",
            "year": str(2010 + number % 16),
            "place_grown": f"{_WORDS[number % 10]} Terrace",
            "lot": lot,
            "seeds": "40 seeds",
            "sow": "sow 15 mm deep",
            "packed": "packed Nov 2026",
            "germination": f"{60 + number % 40} % of 100 seeds, Jan 2026, home test",
            "library": "Threeways Valley Seed Library",
        }
        found.append(LabelData(lot, fields, lot))
    return found


def naive(labels: list[LabelData]) -> bytes:
    """Make the same sheets as anybody would: a picture of each code, a line of text after another."""
    import qrcode
    from reportlab.lib.units import mm
    from reportlab.lib.utils import ImageReader
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    from hilum.resources import resource

    pdfmetrics.registerFont(TTFont("naive", str(resource("fonts", "DejaVuSansCondensed.ttf"))))
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=(210 * mm, 297 * mm))
    for number, label in enumerate(labels):
        if number and number % 24 == 0:
            canvas.showPage()
        row, column = divmod(number % 24, 3)
        x, y = column * 70 * mm, (297 - 0.5 - (row + 1) * 37) * mm
        code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M)
        code.add_data(label.code)
        code.make()
        picture = code.make_image().get_image()
        canvas.drawImage(ImageReader(picture), x + 52 * mm, y + 5 * mm, 12.3 * mm, 12.3 * mm)
        for line, name in enumerate(_LINES):
            canvas.setFont("naive", 14 if name == "variety" else 7)
            canvas.drawString(x + 5 * mm, y + (28 - 4 * line) * mm, label.fields[name])
    canvas.save()
    return target.getvalue()


def floor(labels: list[LabelData]) -> bytes:
    """Write symbols and words as bare PDF: no fitting, no font in the file, nothing checked."""
    made = codes.symbols([label.code or "" for label in labels])
    objects: list[bytes] = [b"", b"", b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"]
    kids = []
    for start in range(0, len(labels), 24):
        parts = []
        pairs = zip(labels[start : start + 24], made[start : start + 24], strict=True)
        for place, (label, symbol) in enumerate(pairs):
            row, column = divmod(place, 3)
            x, y = column * 198.4, 840.5 - (row + 1) * 104.9
            parts.append(f"q 1.2 0 0 1.2 {x + 147:.1f} {y + 14:.1f} cm {symbol.rectangles} f Q BT /F 7 Tf")
            parts += [
                f"1 0 0 1 {x + 14:.1f} {y + 79 - 11 * line:.1f} Tm ({label.fields[name]}) Tj"
                for line, name in enumerate(_LINES)
            ]
            parts.append("ET")
        packed = zlib.compress(" ".join(parts).encode("latin-1"), 6)
        objects.append(
            b"<< /Filter /FlateDecode /Length %d >>\nstream\n" % len(packed) + packed + b"\nendstream"
        )
        objects.append(
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595.28 841.89] /Resources << /Font << /F 3 0 R >> >> "
            b"/Contents %d 0 R >>" % len(objects)
        )
        kids.append(b"%d 0 R" % len(objects))
    objects[0] = b"<< /Type /Catalog /Pages 2 0 R >>"
    objects[1] = b"<< /Type /Pages /Count %d /Kids [%s] >>" % (len(kids), b" ".join(kids))
    body, starts = b"%PDF-1.4\n", list[int]()
    chunks, at = [body], len(body)
    for number, each in enumerate(objects, start=1):
        starts.append(at)
        chunks.append(b"%d 0 obj\n" % number + each + b"\nendobj\n")
        at += len(chunks[-1])
    table = b"".join(b"%010d 00000 n \n" % start for start in starts)
    size = len(objects) + 1
    chunks.append(
        b"xref\n0 %d\n0000000000 65535 f \n%strailer\n<< /Size %d /Root 1 0 R >>\n" % (size, table, size)
    )
    chunks.append(b"startxref\n%d\n%%%%EOF\n" % at)
    return b"".join(chunks)


def placed(labels: list[LabelData], plan: LabelDesign) -> list[InkedLabel]:
    """Check, fit and place labels, as a job does."""
    paper = label_stock(_STOCK)
    asked = order(labels, plan, paper, 300)
    return Placing(asked, "en").labels(places(len(labels), paper), lambda done: None)


def ours(labels: list[LabelData], plan: LabelDesign) -> bytes:
    """Make the sheets as a job does, all but the proof."""
    return drawn(placed(labels, plan), (210.0, 297.0), "Measured", "en")


def forget() -> None:
    """Start cold: nothing that was fitted or encoded before may help."""
    codes._made.clear()
    fitting._layouts.clear()
    for known in (
        words._words_of, words._measured, words._cleaned_once, boxes.set_downwards, boxes.set_upwards, boxes._one_line,
    ):  # fmt: skip
        known.cache_clear()


@dataclass
class Timed:
    """One way of making the sheets, and how long it took each time."""

    name: str
    work: Callable[[], object]
    seconds: list[float]

    @property
    def median(self) -> float:
        """The middle of its times."""
        return statistics.median(self.seconds)


def interleaved(ways: dict[str, Callable[[], object]], repeats: int) -> dict[str, Timed]:
    """Time every way once, then all again: a busy moment of the machine touches all alike."""
    timed = {name: Timed(name, work, []) for name, work in ways.items()}
    for _ in range(repeats):
        for each in timed.values():
            forget()
            start = time.perf_counter()
            each.work()
            each.seconds.append(time.perf_counter() - start)
    return timed


def encoder(labels: list[LabelData]) -> object:
    """Make each code by the library alone, with its own search for a mask."""
    import qrcode

    found = []
    for label in labels:
        code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M)
        code.add_data(label.code)
        code.make()
        found.append(code)
    return found


def rendering(pdf: bytes, pages: int) -> object:
    """Draw every page once at 300 dpi, and read nothing."""
    import pypdfium2

    with pypdfium2.PdfDocument(pdf) as document:
        return [
            document[page].render(scale=300 / 72, grayscale=True).to_numpy().shape for page in range(pages)
        ]


def main() -> None:
    """Measure, and print one line a figure."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 480
    repeats = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    labels, some = lots(count), lots(count)[:240]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "four.toml")
        path.write_text(_FOUR_LINES, encoding="utf-8")
        four = read_design(path)
    packet, payloads = design("packet"), [label.code or "" for label in labels]
    ours(labels[:2], packet), naive(labels[:2])  # fonts are loaded once a process
    timed = interleaved(
        {
            "plain way": lambda: naive(labels),
            "floor": lambda: floor(labels),
            "four lines": lambda: ours(labels, four),
            "packet": lambda: ours(labels, packet),
            "codes": lambda: codes.symbols(payloads),
            "encoder": lambda: encoder(some),
            "one code": lambda: [codes.symbol(each) for each in payloads[:240]],
        },
        repeats,
    )
    print(f"{count} different lots on {_STOCK}, cold, median of {repeats}, interleaved")
    for each in timed.values():
        here = len(some) if each.name in ("encoder", "one code") else count
        print(f"  {each.name:12} {each.median:8.3f} s {here / each.median:9.0f} a second")
    slow = timed["plain way"].median
    sizes = {"plain way": len(naive(labels)), "floor": len(floor(labels))}
    pdfs = {"four lines": ours(labels, four), "packet": ours(labels, packet)}
    for name, pdf in pdfs.items():
        print(f"{name}: {slow / timed[name].median:.1f} times as fast as the plain way, "
              f"{timed[name].median / timed['floor'].median:.1f} times the floor's time, {len(pdf) / count:.0f} bytes "
              f"a label: 1/{sizes['plain way'] / len(pdf):.1f} of the plain way's, {len(pdf) / sizes['floor']:.2f} "
              "of the floor's")  # fmt: skip
    each_s = timed["encoder"].median / len(some)
    print(
        f"codes in a batch, masks tried: {each_s / (timed['codes'].median / count):.0f} times the encoder library"
    )
    print(f"one code alone: {each_s / (timed['one code'].median / len(some)):.1f} times the encoder library")
    proofs(labels, packet, pdfs["packet"], repeats)
    margins()


def proofs(labels: list[LabelData], plan: LabelDesign, pdf: bytes, repeats: int) -> None:
    """Compare the proof with drawing the pages and nothing else."""
    placed_codes = [each.code for each in placed(labels, plan) if each.code]
    pages = placed_codes[-1].page + 1
    found = proof.proofed(pdf, placed_codes, 297.0, 300)
    timed = interleaved(
        {
            "rendering": lambda: rendering(pdf, pages),
            "proof": lambda: proof.proofed(pdf, placed_codes, 297.0, 300),
        },
        max(3, repeats),
    )
    ratio = timed["proof"].median / timed["rendering"].median
    print(f"proof: {found.read} of {found.codes} codes read, {ratio:.2f} times the time of rendering alone")


def margins() -> None:
    """Print how much blur the codes of each shipped design survive."""
    label = lots(1)[0]
    print("blur survived (standard deviation, in modules and mm):")
    for plan in designs():
        if not any(layout.code for layout in plan.layouts):
            continue
        stock = fitting_stocks(plan)[0]
        for dpi in (203, 300):
            found = [blur_margin(_filled(label, plan), plan, stock, dpi, paper) for paper in PAPERS]
            told = ", ".join(
                f"{each.paper} {each.blur_modules:.2f} = {each.blur_mm:.2f} mm" for each in found
            )
            print(f"  {plan.name:12} {stock.name:18} {dpi} dpi, module {found[0].module_mm:.3f} mm: {told}")


def _filled(label: LabelData, plan: LabelDesign) -> LabelData:
    """Give a label every field that its design must have."""
    lacking = {name: "dish 1 of 4" for name in plan.required if name not in label.fields}
    return LabelData(label.key, {**label.fields, **lacking}, label.code)


if __name__ == "__main__":
    main()
