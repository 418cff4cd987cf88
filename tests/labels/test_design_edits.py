"""Design edits: every one gives a design its file may say, or refuses in words; what is written reads the same."""

import io
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hilum.labels import design_edits as edits
from hilum.labels import design_moves as moves
from hilum.labels.design_edits import OnTable
from hilum.labels.design_files import design_in, read_design
from hilum.labels.design_lines import design_lines
from hilum.labels.design_values import LabelDesign
from hilum.labels.design_writing import written
from hilum.labels.designs import design, designs
from hilum.labels.errors import DesignError
from hilum.labels.geometry import Box
from hilum.labels.orders import LabelData
from hilum.labels.stocks import label_stock
from hilum.labels.trying import TriedLabel, tried_label
from hilum.resources import resource
from tests.labels.builders import LONG_VARIETY, a_label

JAR = label_stock("a4-2x4-99.1x67.7")
WORDS = {
    "caution": "Poisonous. Keep from children.", "notes": "Pinch out early.", "spacing_mm": "150", "treatment": "",
}  # fmt: skip
LABELS = (
    a_label(**WORDS),
    a_label(variety=LONG_VARIETY, notes="Plant in a sheltered bed. " * 6),
    a_label(grower=""),
)


def laid(name: str = "jar", number: int = 0) -> OnTable:
    """Lay a shipped design on the table."""
    return OnTable(design(name), number, resource("designs"))


def tried(on: OnTable, label: LabelData = LABELS[0]) -> TriedLabel:
    """Make one label of it."""
    return tried_label(label, on.design, JAR)


def ground(on: OnTable, name: str, label: LabelData = LABELS[0]) -> Box:
    """Give where something stands on a label."""
    return dict(tried(on, label).grounds)[name]


def reread(made: LabelDesign, folder: Path) -> LabelDesign:
    """Write and read a design."""
    return design_in(written(made), made.name, folder)


@pytest.mark.parametrize("each", designs(), ids=lambda each: each.name)
def test_every_shipped_design_reads_as_it_is_written(each: LabelDesign) -> None:
    """Nothing is lost on the way."""
    assert reread(each, resource("designs")) == each


def test_remarks_of_a_file_stay_where_they_stand(tmp_path: Path) -> None:
    """At its head, above a table, above a key, behind a value, at its end; a “#” in quotes is none."""
    text = (
        '# Our own.\n# Two lines.\ntitle = "No. #1"  # the first\npurpose = "x"\npadding_mm = 2\nrequired = []\n\n'
        "# For small ones.\n[[layout]]\nsmallest_width_mm = 40\nsmallest_height_mm = 25\n\n"
        '# The lot.\n[[layout.box]]\nname = "lot"\nparts = ["{lot}"]\n# As large as it goes.\nsize_pt = [6, 9]\n'
        "# End.\n"
    )
    made = design_in(text, "own", tmp_path)
    assert made.title == "No. #1"
    assert written(made, design_lines(text)) == text


# What a keeper can do, with any figures at all; each gives the next design or is refused.
NAMES = st.sampled_from(
    ("crop", "variety", "year", "grower", "caution", "lot", "library", "code", "gauge", "words")
)
STEPS = st.floats(-60, 60, allow_nan=False)
ONE_EDIT = st.one_of(
    st.tuples(st.just("move"), NAMES, STEPS, STEPS),
    st.tuples(st.just("size"), NAMES, STEPS, STEPS),
    st.tuples(st.just("pass"), NAMES, st.sampled_from((-1, 1))),
    st.tuples(st.just("step"), NAMES, st.sampled_from((-1, 0, 1)), st.sampled_from((-1, 0, 1))),
    st.tuples(st.just("take"), NAMES),
    st.tuples(st.just("words"), st.text(min_size=1, max_size=30)),
    st.tuples(st.just("say"), NAMES, st.text(max_size=30), st.sampled_from(("regular", "bold", "botanical"))),
    st.tuples(st.just("gauge"), st.sampled_from(("gauge", "spacing"))),
    st.tuples(st.just("type"), NAMES, st.floats(0, 70), st.floats(0, 70)),
    st.tuples(st.just("when"), NAMES, st.sampled_from(("notes", "grower", "nothing"))),
)


def done(on: OnTable, edit: tuple, label: LabelData) -> OnTable:
    """Do one edit."""
    kind, *rest = edit
    shown = tried(on, label)
    match kind:
        case "move":
            return moves.moved(on, *rest, shown)
        case "size":
            return moves.sized(on, *rest, shown)
        case "pass":
            return moves.passed(on, *rest)
        case "step":
            return moves.stepped(on, *rest, shown)
        case "take":
            return edits.removed(on, *rest)
        case "words":
            return edits.words_added(on, [(rest[0], "regular")])[0]
        case "say":
            return edits.retyped(on, rest[0], [(rest[1], rest[2])])
        case "gauge":
            return edits.gauge_added(on, *rest)
        case "type":
            return on.with_box(rest[0], smallest_pt=rest[1], largest_pt=rest[2])
        case _:
            return on.with_box(rest[0], only_with=rest[1])


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from((("jar", 0), ("jar", 1), ("packet", 1))),
    st.lists(st.tuples(ONE_EDIT, st.sampled_from(LABELS)), min_size=1, max_size=6),
)
def test_any_edits_give_designs_that_read_as_written_and_draw_nothing_twice(
    start: tuple, several: list
) -> None:
    """Read after write is equal; on every label that is made boxes lie apart, within the paper."""
    on = laid(*start)
    for edit, label in several:
        try:
            on = done(on, edit, label)
        except DesignError:
            continue
        assert reread(on.design, on.folder) == on.design
        for each in LABELS:
            made = tried(on, each)
            if made.pdf is None:
                assert made.refusal
                continue
            blocks = {name for name, _ in made.grounds if on.block(name) is not None}
            boxes = [place for name, place in made.grounds if name not in blocks and name != "code"]
            area = Box(0, 0, made.area.width_mm, made.area.height_mm)
            assert all(place.lies_in(area) for place in boxes)
            for number, place in enumerate(boxes):
                assert not any(place.overlaps(other) for other in boxes[number + 1 :])


def test_a_code_that_was_taken_away_is_not_moved() -> None:
    """Not either where the label that is looked at is made by another layout, which still has one."""
    on = edits.removed(laid("jar", 1), "code")
    for change in (moves.moved, moves.sized):
        with pytest.raises(DesignError, match="This layout has no code"):
            change(on, "code", 1.0, 1.0, tried(on))


def test_a_box_lands_where_it_is_put() -> None:
    """Three millimetres down from a height between two lines of the grid: on the grid, and so on every label."""
    on = laid()
    before = ground(on, "germination")
    after = moves.moved(on, "germination", 4, 3, tried(on))
    place = ground(after, "germination")
    assert place.x_mm == 4
    assert place.y_mm == round(before.y_mm + 3)
    assert after.box("germination").from_edge_mm == round(before.y_mm + 3)


def test_the_words_in_the_pdf_move_by_the_same_millimetres() -> None:
    """Read back from the page by another library."""

    def corner(on: OnTable) -> tuple[float, float]:
        found = []

        def visit(text: str, _cm: list, tm: list, _font: object, _size: float) -> None:
            if "Upper Mill" in text or text.strip().startswith("2025"):
                found.append((tm[4] * 25.4 / 72, tm[5] * 25.4 / 72))

        pdf = tried(on).pdf
        assert pdf is not None
        pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=visit)
        return found[0]

    on = laid()
    on = on.with_box("year", smallest_pt=9, largest_pt=9, rule=False)
    high = ground(on, "year").y_mm
    x_mm, y_mm = corner(on)
    moved_x, moved_y = corner(moves.moved(on, "year", 5, 6, tried(on)))
    assert moved_x - x_mm == pytest.approx(5, abs=0.05)
    assert y_mm - moved_y == pytest.approx(round(high + 6) - high, abs=0.05)


def test_a_box_put_past_another_changes_places_with_it() -> None:
    """Above it in the file too."""
    on = laid()
    up = ground(on, "crop").y_mm - ground(on, "variety").y_mm - 3
    after = moves.moved(on, "variety", 0, up, tried(on))
    assert [box.name for box in after.layout.boxes][:2] == ["variety", "crop"]


def test_a_box_put_among_those_at_the_bottom_stands_there() -> None:
    """And one drawn up among the top ones hangs there."""
    on = laid()
    down = ground(on, "library").y_mm - ground(on, "grower").y_mm + 1
    assert moves.moved(on, "grower", 0, down, tried(on)).box("grower").stack == "bottom"
    assert moves.moved(on, "library", 0, -down, tried(on)).box("library").stack == "top"


def test_an_arrow_key_takes_a_box_past_a_neighbour_it_touches() -> None:
    """First it closes the gap, then it passes."""
    on = laid()
    steps = 0
    while [box.name for box in on.layout.boxes].index("year") > 1 and steps < 9:
        on = moves.stepped(on, "year", 0, -1, tried(on))
        steps += 1
    assert [box.name for box in on.layout.boxes][:3] == ["crop", "year", "variety"]
    assert steps > 1


def test_two_boxes_in_columns_stand_side_by_side() -> None:
    """At one height, neither over the other."""
    on = (
        laid()
        .with_box("grower", width_mm=30.0)
        .with_box("germination", left_mm=32.0, width_mm=28.0, gap_mm=0.8)
    )
    left, right = ground(on, "grower"), ground(on, "germination")
    assert left.y_mm == pytest.approx(right.y_mm)
    assert left.right_mm <= right.x_mm


def test_a_height_makes_words_smaller_and_is_kept_free() -> None:
    """The box of the variety, 30 points large, in 5 mm."""
    on = laid().with_box("variety", height_mm=5.0)
    assert ground(on, "variety").height_mm == 5
    assert ground(laid(), "variety").height_mm > 8
    long = tried(on, LABELS[1])
    assert dict(long.grounds)["variety"].height_mm > 5


def test_a_box_as_wide_as_the_label_takes_what_there_is() -> None:
    """Typed as 0."""
    on = moves.sized(laid().with_box("year", width_mm=20.0), "year", 200, 0, tried(laid()))
    assert on.box("year").width_mm == 0


def test_the_code_goes_to_the_corner_it_is_drawn_to_and_grows() -> None:
    """By its nearest corner, on the grid."""
    on = laid()
    after = moves.moved(on, "code", -200, -200, tried(on))
    assert (after.layout.code.side, after.layout.code.edge) == ("left", "top")
    place = ground(after, "code")
    assert (place.x_mm, place.y_mm) == (0, 0)
    assert moves.sized(on, "code", 3, 1, tried(on)).layout.code.room_mm == 28
    with pytest.raises(DesignError, match="room_mm is 65; allowed: up to 46"):
        moves.sized(on, "code", 40, 0, tried(on))


def test_words_alone_stand_on_every_label_and_a_condition_takes_them_away() -> None:
    """A box without fields; then only where there is no germination figure."""
    on, name = edits.words_added(laid(), [("Not yet tested", "regular")])
    assert name in dict(tried(on).grounds)
    on = on.with_box(name, only_without="germination")
    assert name not in dict(tried(on).grounds)
    assert name in dict(tried(on, a_label(germination="")).grounds)


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda on: on.with_box("variety", smallest_pt=20.0, largest_pt=10.0), "box 2 “variety”: size_pt is"),
        (lambda on: on.with_box("variety", only_with="notes"), "holds variety, which may never be left out"),
        (lambda on: on.with_box("year", left_mm=90.0), "begins 90 mm from the left; allowed: all within the 81 mm"),
        (lambda on: edits.removed(on, "year"), "no box shows year, which the design requires"),
        (lambda on: edits.removed(on, "tail"), "no box “tail” on this label; there are crop, variety"),
        (lambda on: edits.retyped(on, "crop", [("{corp}", "bold")]), r"\{corp\} is not a field of a label. Did you"),
        (lambda on: edits.retyped(on, "crop", [("{crop", "bold")]), "stands alone"),
        (lambda on: edits.retyped(on, "crop", [("  ", "bold")]), "would say nothing"),
        (lambda on: edits.renamed(on, "crop", "code"), "cannot be called “code”"),
        (lambda on: edits.renamed(on, "crop", "year"), "two boxes are called “year”"),
        (edits.code_added, "has a code already"),
        (lambda on: moves.moved(on, "gauge", 1, 1, tried(on)), "nothing to show on label"),
        (lambda on: moves.passed(on, "crop", -1), "stands at the top already"),
    ],
)  # fmt: skip
def test_an_edit_that_cannot_be_is_refused_in_words(edit: Callable[[OnTable], OnTable], words: str) -> None:
    """And says what is allowed."""
    with pytest.raises(DesignError, match=words):
        edit(laid())


def test_gauges_and_pictures_find_a_free_corner(tmp_path: Path) -> None:
    """The code has one; a fourth thing has none left on a small label."""
    (tmp_path / "leaf.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>'
    )
    on = OnTable(design("jar"), 0, tmp_path)
    on = edits.gauge_added(on, "gauge")
    on = edits.picture_added(on, "leaf.svg")
    assert on.names[-3:] == ("code", "picture 1", "gauge")
    assert reread(on.design, tmp_path) == on.design
    with pytest.raises(DesignError, match="a gauge already"):
        edits.gauge_added(on, "gauge")
    with pytest.raises(DesignError, match="No corner of this label is free for it"):
        edits.gauge_added(edits.picture_added(on, "leaf.svg"), "spacing")
    assert edits.removed(edits.removed(on, "picture 1"), "gauge").design == design("jar")


def test_code_and_picture_may_not_lie_on_each_other(tmp_path: Path) -> None:
    """Read from a file, with its line."""
    text = written(design("jar")).replace(
        "[[layout.box]]",
        '[layout.gauge]\nside = "right"\nedge = "bottom"\nwidth_mm = 9\nheight_mm = 9\n\n[[layout.box]]',
        1,
    )
    path = tmp_path / "both.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(DesignError, match=r"both\.toml, line \d+ \(layout 1\): the gauge lies on the code"):
        read_design(path)
