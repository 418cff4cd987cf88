"""Large jobs are made in parts of whole pages; nobody can tell from the sheets."""

import io
import re

import pypdf
import pytest

from hilum.labels.errors import LabelError, LabelsStopped
from hilum.labels.job import LabelData, make_labels
from hilum.labels.stocks import label_stock
from tests.labels.builders import a_label

STOCK = "a4-5x13-38.1x21.2"


def many(count: int, last: str = "LEK25-0001-X") -> list[LabelData]:
    """Give as many dish tags; the last one has a code of its own."""
    fields = {**a_label().fields, "dish": "dish 1 of 1"}
    labels = [LabelData(f"tag {n}", {**fields, "quantity": str(n)}, f"LEK25-{n:04d}-X") for n in range(count)]
    return [*labels[:-1], LabelData("last", fields, last)]


def modules(pdf: bytes) -> set[bytes]:
    """Give the sizes at which modules are drawn on any page."""
    found: set[bytes] = set()
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        contents = page.get_contents()
        assert contents is not None
        found |= set(re.findall(rb"q ([\d.]+) 0 0 \1 [\d.]+ [\d.]+ cm \d+ \d+ \d+ 1 re", contents.get_data()))
    return found


def test_a_longer_code_in_the_last_part_makes_all_codes_smaller() -> None:
    """One size of module for the whole job, said once; every code is read, in its place."""
    made = make_labels(many(1_120, "LEK25-0001-X" * 5), "dish", STOCK, title="x")
    assert (made.labels, made.proof.read) == (1_120, 1_120)
    assert made.pages == -(-1_120 // label_stock(STOCK).per_page)
    assert len(modules(made.pdf)) == 1
    assert [each.box for each in made.warnings].count("code") == 1


def test_a_fault_in_the_last_part_names_its_label() -> None:
    """Nothing is made of the labels before it either."""
    with pytest.raises(LabelError, match="Label last: The code “lek” has “l”"):
        make_labels(many(1_120, "lek"), "dish", STOCK, title="x")
    lacking = [*many(1_120), LabelData("bare", {"variety": "X", "lot": "L"}, "L")]
    with pytest.raises(LabelError, match="dish is missing on bare"):
        make_labels(lacking, "dish", STOCK, title="x")


def test_progress_runs_forward_to_its_end_and_stops_where_it_is_asked() -> None:
    """Through fitting, drawing and reading of every part."""
    seen: list[tuple[int, int]] = []
    make_labels(many(1_120), "dish", STOCK, title="x", progress=lambda done, of: seen.append((done, of)))
    assert [done for done, _ in seen] == sorted(done for done, _ in seen)
    assert seen[-1] == (3 * 1_120, 3 * 1_120)
    reached: list[int] = []
    with pytest.raises(LabelsStopped, match="No PDF was made"):
        make_labels(
            many(1_120), "dish", STOCK, title="x", progress=lambda done, _of: reached.append(done),
            stop=lambda: len(reached) > 2_100,
        )  # fmt: skip
    assert 2_000 < max(reached) < 2_300
