"""The preview shows the very pages of the PDF, page by page, fitted or at true size."""

from datetime import date

import pytest

from hilum.benches.printing import LabelJob, lot_labels, page_picture
from hilum.window.label_preview import LabelPreview, picture_of
from tests.support.keeper import Keeper


@pytest.fixture
def preview(qtbot, work_day, lots):
    """Give a preview of a job of two pages."""
    job = LabelJob("packet", "a4-3x8", copies=30)
    made = lot_labels(work_day.catalogue, (lots["Grey Ferryman"],), job, on=date(2026, 11, 25))
    widget = LabelPreview(work_day)
    widget.resize(600, 700)
    keeper = Keeper(qtbot, widget)
    widget.show_pages(made.pdf, made.pages, 210, 297)
    qtbot.waitUntil(lambda: not widget.shown_picture().isNull())
    return widget, keeper, made


def test_the_page_shown_is_the_page_of_the_pdf(qtbot, preview):
    """Pixel by pixel the same as the renderer of the proof gives."""
    widget, _, made = preview
    shown = (
        widget.shown_picture().toImage().convertToFormat(picture_of(page_picture(made.pdf, 0, 10)).format())
    )
    assert shown == picture_of(page_picture(made.pdf, 0, shown.width()))


def test_a_fitted_page_is_seen_whole(preview):
    """Nothing of a fitted page lies outside its place."""
    widget, keeper, _ = preview
    assert keeper.sees("of 2")
    assert widget.shown_picture().width() <= widget.area.viewport().width()
    assert widget.shown_picture().height() <= widget.area.viewport().height()


def test_pages_are_turned_by_button_number_and_key(qtbot, preview):
    """On and back, by mouse and keys, and never beyond the last page."""
    widget, keeper, made = preview
    keeper.presses("On ›")
    assert widget.page == 2
    assert not keeper.can_press("On ›")
    second = picture_of(page_picture(made.pdf, 1, widget.shown_picture().width()))
    qtbot.waitUntil(lambda: widget.shown_picture().toImage().convertToFormat(second.format()) == second)
    widget.area.setFocus()
    keeper.keys("PgUp")
    assert widget.page == 1
    keeper.types("Page number", "2")
    assert widget.page == 2


def test_at_100_percent_a_page_is_as_wide_as_its_paper(qtbot, preview):
    """210 mm at the screen's own dots."""
    widget, keeper, _ = preview
    keeper.chooses("Zoom", "100 %")
    # 210 mm / 25.4 × 96 dots an inch = 793.7
    wanted = round(210 / 25.4 * widget.logicalDpiX())
    qtbot.waitUntil(lambda: abs(widget.shown_picture().width() - wanted) <= 1)


def test_without_pages_there_are_words(preview):
    """Nothing is turned or zoomed where there is nothing."""
    widget, keeper, _ = preview
    widget.show_nothing("Press “Make pages”.")
    assert keeper.sees("Press “Make pages”.")
    assert not keeper.can_press("On ›")
