"""The printed list: whole, numbered, with its fonts, and the same bytes every time."""

import io

from pypdf import PdfReader

from hilum.exchange.printed_list import ListColumn, printed_list

COLUMNS = (ListColumn("Lot", 1), ListColumn("Name", 3))


def made(rows: int) -> PdfReader:
    """Make a list of so many rows and open it with another library."""
    pdf = printed_list(
        "Lots due", "today", COLUMNS, [(f"LEK-25-{n:03d}-S", "a & b <i>c " * 9) for n in range(rows)]
    )
    return PdfReader(io.BytesIO(pdf))


def test_every_row_is_there_and_pages_are_numbered():
    """Ninety rows of two lines need several pages, each with title, headings and number."""
    pages = [page.extract_text() for page in made(90).pages]
    assert len(pages) > 2
    assert all("Lots due" in text and f"page {number}" in text for number, text in enumerate(pages, 1))
    everything = "\n".join(pages)
    assert all(f"LEK-25-{n:03d}-S" in everything for n in range(90))


def test_long_words_under_the_title_go_on_in_the_next_line():
    """What was left out and why is read whole, not cut off at the edge of the paper."""
    words = "left out because of this reason, " * 12 + "the end"
    page = PdfReader(io.BytesIO(printed_list("Lots", words, COLUMNS, [("a", "b")]))).pages[0]
    places = []
    page.extract_text(visitor_text=lambda text, _c, matrix, _f, _s: places.append((text, matrix[5])))
    heights = {round(height) for text, height in places if "left out" in text or "the end" in text}
    assert len(heights) >= 3
    assert "the end" in page.extract_text()


def test_marks_of_markup_are_only_text():
    """Nothing of a name is taken for a tag."""
    assert "a & b <i>c" in " ".join(made(1).pages[0].extract_text().split())


def test_the_page_is_a4_and_the_same_input_gives_the_same_bytes():
    """ISO 216: 210 x 297 mm."""
    box = made(1).pages[0].mediabox
    assert (round(float(box.width) * 25.4 / 72, 1), round(float(box.height) * 25.4 / 72, 1)) == (210.0, 297.0)
    assert printed_list("a", "b", COLUMNS, [("c", "d")]) == printed_list("a", "b", COLUMNS, [("c", "d")])


def test_fonts_are_embedded():
    """No reader has to have them."""
    fonts = made(1).pages[0]["/Resources"]["/Font"]
    for font in fonts.values():
        described = font.get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in described
