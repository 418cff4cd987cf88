"""Preview: the pages of the PDF itself as pixels."""

import pytest

from hilum.labels.errors import LabelError
from hilum.labels.job import make_labels
from hilum.labels.preview import page_count, page_picture
from tests.labels.builders import some_labels


def test_a_page_comes_as_rows_of_red_green_blue() -> None:
    """White paper, black ink, the right number of bytes, the shape of the page."""
    pdf = make_labels(some_labels(25), "packet", "a4-3x8", title="x").pdf
    assert page_count(pdf) == 2
    picture = page_picture(pdf, 0, 800)
    assert len(picture.rgb) == picture.width * picture.height * 3
    assert abs(picture.width - 800) <= 1
    assert picture.height / picture.width == pytest.approx(297 / 210, abs=0.005)
    assert set(picture.rgb[:3]) == {255}
    assert min(picture.rgb) < 30


def test_a_page_that_is_not_there_is_refused() -> None:
    """With how many there are."""
    pdf = make_labels(some_labels(1), "packet", "a4-3x8", title="x").pdf
    with pytest.raises(LabelError, match="no page 2; the job has 1"):
        page_picture(pdf, 1, 800)
    with pytest.raises(LabelError, match="0 pixels wide"):
        page_picture(pdf, 0, 0)
