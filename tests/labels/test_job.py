"""The whole way from label data to a proofed PDF, read back by other programs."""

import io
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import pypdf
import pypdfium2
import pytest
import zxingcpp

from hilum.labels import job, proof
from hilum.labels.codes import ModuleSize, symbol
from hilum.labels.designs import design
from hilum.labels.dots import dot_mm
from hilum.labels.errors import LabelError, LabelsStopped
from hilum.labels.geometry import MM_PER_POINT, Box
from hilum.labels.ink import PlacedCode
from hilum.labels.job import LabelData, LabelSheets, make_labels
from hilum.labels.proof import Proof
from hilum.labels.stocks import label_stock
from tests.labels.builders import a_label, some_labels

CODE = re.compile(rb"q ([\d.]+) 0 0 \1 ([\d.]+) ([\d.]+) cm ((?:\d+ \d+ \d+ 1 re ?)+)f Q")


def sheets(count: int = 3, stock: str = "a4-3x8", **options: Any) -> LabelSheets:
    """Make packet labels of a few lots."""
    return make_labels(some_labels(count), "packet", stock, title="Packets", **options)


def codes_in(page: pypdf.PageObject) -> list[tuple[float, float, float]]:
    """Give module, left and lower edge of each code drawn on a page, in points."""
    contents = page.get_contents()
    assert contents is not None
    return [
        (float(found[1]), float(found[2]), float(found[3])) for found in CODE.finditer(contents.get_data())
    ]


def test_a_job_gives_a_proofed_pdf() -> None:
    """Labels, pages and codes are counted; every code was read."""
    made = sheets(30)
    assert (made.labels, made.pages, made.warnings) == (30, 2, ())
    assert made.proof == Proof(30, 30, ())


@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("stock", ["a4-3x8", "letter-3x10", "roll-57x32"])
@pytest.mark.parametrize("name", ["packet", "jar", "dish"])
def test_all_codes_are_read_at_common_resolutions(name: str, stock: str, dpi: int) -> None:
    """By the proof, and once more here from a drawing of the whole page with no error corrected."""
    made = make_labels(some_labels(4), name, stock, dpi=dpi, title="Codes")
    assert made.proof == Proof(4, 4, ())
    texts = set()
    for page in range(made.pages):
        for found in zxingcpp.read_barcodes(proof.page_dots(made.pdf, page, dpi)):
            assert found.extra["UEC"] == 1.0
            assert found.extra["Version"] == "1"
            texts.add(found.text)
    assert texts == {label.code for label in some_labels(4)}


@pytest.mark.parametrize(
    ("stock", "dpi", "module_mm", "step_mm"),
    [
        ("a4-3x8", 300, 25.4 / 60, 25.4 / 60),
        ("letter-3x10", 600, 25.4 / 60, 25.4 / 60),
        ("roll-57x32", 203, 0.5, 0.125),
    ],
)
def test_codes_stand_on_the_dots_inside_their_labels(
    stock: str, dpi: int, module_mm: float, step_mm: float
) -> None:
    """Read from the PDF's own bytes: module size, whole steps from the corner, quiet zone on the label."""
    made = sheets(5, stock, dpi=dpi)
    paper, done = label_stock(stock), 0
    for page in pypdf.PdfReader(io.BytesIO(made.pdf)).pages:
        for module_pt, left_pt, low_pt in codes_in(page):
            assert module_pt * MM_PER_POINT == pytest.approx(module_mm, abs=1e-5)
            quiet = 4 * module_mm
            x_mm, up_mm = left_pt * MM_PER_POINT - quiet, low_pt * MM_PER_POINT - quiet
            for measure in (x_mm, up_mm):
                assert abs(measure / step_mm - round(measure / step_mm)) < 1e-3
            with_quiet = Box(x_mm, paper.page_h_mm - up_mm - 29 * module_mm, 29 * module_mm, 29 * module_mm)
            assert with_quiet.lies_in(paper.ink_area(done % paper.per_page + 1, 2), 1e-3)
            done += 1
    assert done == 5


def test_words_stand_inside_their_own_labels() -> None:
    """Text positions read back from the PDF: each lot number in the label whose turn it is."""
    made = sheets(7, start=5)
    grid = label_stock("a4-3x8").grid()
    seen: dict[str, tuple[float, float]] = {}

    def note(text: str, cm: list[float], tm: list[float], font: object, size: object) -> None:
        for lot in re.findall(r"LEK25-\d{4}-X", text):
            seen[lot] = ((cm[4] + tm[4]) * MM_PER_POINT, 297 - (cm[5] + tm[5]) * MM_PER_POINT)

    [page] = pypdf.PdfReader(io.BytesIO(made.pdf)).pages
    page.extract_text(visitor_text=note)
    assert len(seen) == 7
    for number, (x_mm, y_mm) in enumerate(seen.values(), start=5):
        assert Box(x_mm, y_mm, 0, 0).lies_in(grid.label_box(number))


def test_the_ink_on_a_butt_cut_sheet_keeps_from_the_edge() -> None:
    """A full sheet drawn at 300 dpi has no dark dot within 5 mm of the page's edge, but many inside."""
    made = sheets(24)
    with pypdfium2.PdfDocument(made.pdf) as document:
        dots = document[0].render(scale=300 / 72, grayscale=True).to_numpy()
    strip = int(5 / 25.4 * 300) - 1
    assert dots[strip:-strip, strip:-strip].min() == 0
    for edge in (dots[:strip], dots[-strip:], dots[:, :strip], dots[:, -strip:]):
        assert edge.min() == 255


@pytest.mark.parametrize(("stock", "dpi"), [("letter-3x10", 203), ("letter-3x10", 300), ("a4-3x8", 600)])
def test_modules_drawn_as_dots_have_no_grey_edge(stock: str, dpi: int) -> None:
    """Black or white and nothing between: every edge of every code falls between two dots."""
    made = sheets(24, stock, dpi=dpi)
    dots = proof.page_dots(made.pdf, 0, dpi)
    [page] = pypdf.PdfReader(io.BytesIO(made.pdf)).pages
    codes = codes_in(page)
    assert len(codes) == 24
    for module_pt, left_pt, low_pt in codes:
        left, low, side = (
            round(each * MM_PER_POINT / dot_mm(dpi)) for each in (left_pt, low_pt, 21 * module_pt)
        )
        code = dots[dots.shape[0] - low - side : dots.shape[0] - low, left : left + side]
        # A 256th of a dot is the rounding of the renderer's own fixed-point edges.
        assert set(code.flatten().tolist()) <= {0, 1, 254, 255}


def test_the_page_is_the_stocks_own() -> None:
    """MediaBox of the label stock; a roll's page is one label."""
    for stock in ("a4-3x8", "letter-3x10", "roll-62x29"):
        [page] = pypdf.PdfReader(io.BytesIO(sheets(1, stock).pdf)).pages
        paper = label_stock(stock)
        assert float(page.mediabox.width) * MM_PER_POINT == pytest.approx(paper.page_w_mm, abs=0.001)
        assert float(page.mediabox.height) * MM_PER_POINT == pytest.approx(paper.page_h_mm, abs=0.001)


def test_the_same_labels_give_the_same_bytes() -> None:
    """And another variety other ones."""
    assert sheets().pdf == sheets().pdf
    assert sheets(4).pdf != sheets(3).pdf


def test_two_jobs_at_once_give_the_same_bytes_as_one_after_the_other() -> None:
    """The window may preview while a job is made."""
    alone = [sheets(count).pdf for count in (5, 30)]
    with ThreadPoolExecutor(2) as pool:
        together = [each.pdf for each in pool.map(sheets, (5, 30))]
    assert together == alone


def test_every_font_is_embedded_and_helvetica_is_not_listed() -> None:
    """Nothing depends on the reader's machine."""
    reader = pypdf.PdfReader(io.BytesIO(sheets().pdf))
    names = set()
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            names.add(font["/BaseFont"])
            [inner] = font["/DescendantFonts"]
            assert "/FontFile2" in inner["/FontDescriptor"]
    assert names
    assert not any("Helvetica" in name for name in names)


def test_the_file_says_what_it_is_and_asks_not_to_be_scaled() -> None:
    """Version 1.6, title, language, PrintScaling None, no text-encoded streams."""
    made = make_labels([a_label()], "packet", "a4-3x8", title="Packets for the swap", language="de")
    assert made.pdf.startswith(b"%PDF-1.6")
    assert b"ASCII85" not in made.pdf
    reader = pypdf.PdfReader(io.BytesIO(made.pdf))
    assert reader.metadata
    assert reader.metadata.title == "Packets for the swap"
    assert reader.trailer["/Root"]["/Lang"] == "de"  # type: ignore[index]
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"  # type: ignore[index]


def test_words_can_be_copied_out_of_the_file() -> None:
    """Also those with accents."""
    made = make_labels([a_label(variety="Černá Ñandú")], "packet", "a4-3x8", title="x")
    assert "Černá Ñandú" in pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].extract_text()


def test_unread_codes_are_refused_naming_their_labels() -> None:
    """So no PDF comes out of a job whose proof found any."""
    job.refuse_unread(Proof(3, 3, ()))
    words = r"1 of 3 codes could not be read back: LEK25-0001-X\. The labels are not offered for printing"
    with pytest.raises(LabelError, match=words):
        job.refuse_unread(Proof(3, 2, ("LEK25-0001-X",)))


def test_a_code_that_says_something_else_is_not_taken_for_read() -> None:
    """The proof compares text, label by label."""
    made = sheets(2)
    area = label_stock("a4-3x8").ink_area(1, 2)
    box = Box(area.right_mm - 13, area.bottom_mm - 13, 13, 13)
    module = ModuleSize(25.4 / 60, 25.4 / 60)
    right = PlacedCode("first", 0, symbol("LEK25-0001-X"), module, box)
    wrong = PlacedCode("second", 0, symbol("LEK25-0002-X"), module, box)
    assert proof.proofed(made.pdf, [right, wrong], 297, 300) == Proof(2, 1, ("second",))


def test_a_label_without_a_code_is_drawn_without_one() -> None:
    """And its words may use the corner."""
    made = make_labels([a_label(code=None), a_label("LEK25-0018-3")], "packet", "a4-3x8", title="x")
    assert made.proof == Proof(1, 1, ())


def test_copies_are_drawn_again_and_warned_of_once() -> None:
    """The caller repeats a label."""
    long = a_label(
        library="The Very Long Named Seed Library of the Seven United Valleys and the Coast between Them"
    )
    made = make_labels([long] * 3, "packet", "a4-3x8", title="x")
    assert (made.labels, made.proof.codes, len(made.warnings)) == (3, 3, 1)


def without(label: LabelData, name: str) -> LabelData:
    """Blank one field of a label."""
    return replace(label, fields={**label.fields, name: " "})


@pytest.mark.parametrize("name", ["crop", "variety", "year", "place_grown", "lot"])
def test_a_packet_without_its_names_is_refused_naming_the_labels(name: str) -> None:
    """Crop, variety, year, place, lot number."""
    labels = [a_label("A"), without(a_label("B"), name), without(a_label("C"), name)]
    with pytest.raises(LabelError, match=rf"must say crop.*{name} is missing on B, C. No labels were made"):
        make_labels(labels, "packet", "a4-3x8", title="x")


def test_a_caution_without_a_place_is_refused() -> None:
    """A design that cannot show it does not print it away."""
    packet = design("packet")
    bare = tuple(
        replace(layout, boxes=tuple(box for box in layout.boxes if box.name != "caution"))
        for layout in packet.layouts
    )
    with pytest.raises(
        LabelError, match="Label P carries a caution, but the design “packet” has no place for it"
    ):
        make_labels([a_label("P", caution="Poisonous.")], replace(packet, layouts=bare), "a4-3x8", title="x")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"start": 25}, "positions 1 to 24"),
        ({"dpi": 96}, "96 dpi is not a resolution"),
        ({"stock": "a4-9x9"}, "no label stock “a4-9x9”"),
        ({"count": 0}, "no labels to make"),
    ],
)
def test_what_cannot_be_is_refused(options: dict[str, Any], words: str) -> None:
    """In words."""
    with pytest.raises(LabelError, match=words):
        sheets(**options)


def test_a_misspelt_field_is_refused() -> None:
    """It would silently not be printed."""
    with pytest.raises(LabelError, match="Label L: varietty is not a field of a label"):
        make_labels([a_label("L", varietty="x")], "packet", "a4-3x8", title="x")


def test_a_code_in_small_letters_is_refused_naming_the_label() -> None:
    """It would not be small."""
    with pytest.raises(LabelError, match="Label L: The code “lek” has “l”"):
        make_labels([a_label("L", code="lek")], "packet", "a4-3x8", title="x")


def test_progress_runs_to_the_end_and_never_back() -> None:
    """Three steps a label."""
    heard: list[tuple[int, int]] = []
    sheets(5, progress=lambda done, total: heard.append((done, total)))
    assert heard[-1] == (15, 15)
    assert [done for done, _ in heard] == sorted(done for done, _ in heard)


@pytest.mark.parametrize("after", [0, 3, 7, 12])
def test_a_job_can_be_stopped_at_any_stage(after: int) -> None:
    """No PDF is made, and the next job is whole."""
    heard: list[int] = []
    with pytest.raises(LabelsStopped, match=r"was stopped\. No PDF was made"):
        sheets(5, progress=lambda done, total: heard.append(done), stop=lambda: len(heard) >= after)
    assert sheets(5).proof.read == 5


def test_the_room_has_one_door() -> None:
    """What a caller needs is named in `job`."""
    assert set(job.__all__) == {
        "Correction", "LabelData", "LabelError", "LabelSheets", "LabelWarning", "LabelsStopped", "Proof", "Separator",
        "make_labels",
    }  # fmt: skip


def test_all_labels_whose_words_do_not_fit_are_named_at_once() -> None:
    """Also when they stand in different parts of the job: a keeper mends them in one go, not one a try."""
    asked = some_labels(2_200)
    for number in (3, 4, 2_100):
        asked[number] = replace(
            asked[number], fields={**asked[number].fields, "variety": "Unbreakablyoverlong" * 3}
        )
    with pytest.raises(LabelError) as refused:
        make_labels([*asked, asked[3]], "packet", "a4-3x8", title="Too long")
    assert str(refused.value).startswith("Label LEK25-0004-X: the box “variety” ")
    assert str(refused.value).endswith("2 more labels do not fit either: LEK25-0005-X, LEK25-2101-X.")
