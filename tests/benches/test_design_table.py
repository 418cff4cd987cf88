"""The design table's bench: three lots chosen, changes tried, a design saved beside the catalogue and printed by."""

import io
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from hilum.benches import design_table, keeping, printing
from hilum.benches.design_table import LaidDesign, OnTable
from hilum.benches.keeping import Catalogue
from hilum.benches.label_stocks import StockMeasurements, keep_stock, stock_named
from hilum.errors import BadInput
from hilum.labels import design_edits as edits
from hilum.labels.errors import LabelError
from hilum.labels.stocks import label_stock
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, SQUASH, TODAY, clock, take_in

STOCK = "a4-3x7-63.5x38.1"
LONG = "Leek | Old Schoolmaster's Blue Winter Keeper from behind the Chapel Wall, Late | 2024 | 20 g | Sallow Bank"
ODD = "Onion | Żółty Łabędź | 2025 | 30 g | Sallow Farm"


def changed(laid: LaidDesign, on: OnTable) -> LaidDesign:
    """Give a laid design with another state of the table."""
    return LaidDesign(on, laid.remarks, laid.is_own, laid.text)


def test_three_lots_of_the_library_are_chosen(catalogue: Catalogue) -> None:
    """By what they would print; each in its words and with its code."""
    lots = take_in(catalogue, LEEK, ONION, SQUASH, LONG, ODD)
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    chosen = {each.kind: each.label for each in design_table.choose_lots(catalogue, laid.on, today=TODAY)}
    assert chosen["longest"].key == lots[3]
    assert chosen["oddest"].key == lots[4]
    assert chosen["shortest"].key in lots[:3]
    assert chosen["oddest"].fields["variety"] == "Żółty Łabędź"
    assert chosen["oddest"].code == lots[4]


def test_an_empty_library_gives_one_invented_label(catalogue: Catalogue) -> None:
    """So that there is something to see."""
    laid = design_table.lay(catalogue, "dish", label_stock("a4-5x13-38.1x21.2"))
    [only] = design_table.choose_lots(catalogue, laid.on, today=TODAY)
    [tried] = design_table.try_lots([only], laid.on, label_stock("a4-5x13-38.1x21.2"))
    assert tried.refusal == ""
    assert "Made-up Example" in only.label.fields["variety"]


@pytest.mark.parametrize(
    ("name", "stock"), [("packet-back", "a4-2x4-99.1x67.7"), ("stake-back", "a4-2x7-99.1x38.1")]
)
def test_a_back_side_lies_on_the_table_without_a_code(catalogue: Catalogue, name: str, stock: str) -> None:
    """Its code is on the front, and it is made like any other label."""
    take_in(catalogue, LEEK, ONION)
    laid = design_table.lay(catalogue, name, label_stock(stock))
    chosen = design_table.choose_lots(catalogue, laid.on, today=TODAY)
    assert [each.refusal for each in design_table.try_lots(chosen, laid.on, label_stock(stock))] == ["", ""]


def test_a_label_that_is_refused_says_why_and_the_others_are_made(catalogue: Catalogue) -> None:
    """A poisonous crop on a design without a place for its caution."""
    foxglove, leek = take_in(catalogue, FOXGLOVE, LEEK)
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    on = edits.removed(laid.on, "caution")
    chosen = design_table.choose_lots(catalogue, on, today=TODAY)
    tried = {each.key: each for each in design_table.try_lots(chosen, on, label_stock(STOCK))}
    assert tried[leek].pdf is not None
    assert tried[foxglove].pdf is None
    assert "has no place for it on this label" in tried[foxglove].refusal
    assert dict(tried[foxglove].grounds)["variety"].height_mm > 0
    assert design_table.label_picture(tried[foxglove], 4) is None
    picture = design_table.label_picture(tried[leek], 4)
    assert picture is not None
    assert (picture.width, picture.height) == (pytest.approx(254, abs=1), pytest.approx(152.4, abs=1))


def test_a_design_is_saved_beside_the_catalogue_and_printed_by(catalogue: Catalogue, tmp_path: Path) -> None:
    """Its own words are on the page; the shipped design is as it was."""
    [leek] = take_in(catalogue, LEEK)
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    on, _ = edits.words_added(laid.on, [("Bring some back in autumn", "bold")])
    saved = design_table.save(catalogue, changed(laid, on), "Our swap-day packet")
    file = tmp_path / "library label designs" / "our-swap-day-packet.toml"
    assert file.is_file()
    assert file.read_text(encoding="utf-8").startswith("# The label of a seed packet.")
    assert saved.is_own
    made = printing.lot_labels(catalogue, [leek], printing.LabelJob("Our-Swap-Day-Packet", STOCK), on=TODAY)
    assert made.proof.read == 1
    words = pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].extract_text()
    assert "Bring some back in autumn" in " ".join(words.split())
    assert printing.designs()[-1].title == "Our swap-day packet"
    again = design_table.lay(catalogue, "our-swap-day-packet", label_stock(STOCK))
    assert again.on.design.layouts == on.design.layouts


def test_a_saved_design_is_written_over_only_by_itself(catalogue: Catalogue) -> None:
    """Not a shipped title, not another design's, not a file that was changed elsewhere."""
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    for title in ("Packet", "packet", "JAR"):
        with pytest.raises(BadInput, match="came with the program and stays as it is"):
            design_table.save(catalogue, laid, title)
    with pytest.raises(BadInput, match="title with letters or digits"):
        design_table.save(catalogue, laid, " ·-· ")
    mine = design_table.save(catalogue, laid, "Our packet")
    with pytest.raises(BadInput, match="There is a design “our  packet” already"):
        design_table.save(catalogue, laid, "our  packet")
    on = mine.on.with_box("variety", largest_pt=11.0)
    again = design_table.save(catalogue, changed(mine, on), "Our packet")
    assert again.on.box("variety").largest_pt == 11
    with pytest.raises(BadInput, match="was changed elsewhere since it was opened here"):
        design_table.save(catalogue, changed(mine, on), "Our packet")


def test_remarks_follow_their_boxes(catalogue: Catalogue) -> None:
    """When a box changes its place in the file."""
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    mine = design_table.save(catalogue, laid, "Our packet")
    file = mine.on.folder / "our-packet.toml"
    text = file.read_text(encoding="utf-8")
    at = text.index('name = "crop"')
    head = text.rindex("[[layout.box]]", 0, at)
    file.write_text(f"{text[:head]}# What it is.\n{text[head:]}", encoding="utf-8")
    from hilum.labels.design_moves import passed

    mine = design_table.lay(catalogue, "our-packet", label_stock("a4-2x4-99.1x67.7"))
    design_table.save(catalogue, changed(mine, passed(mine.on, "crop", -1)), "Our packet")
    lines = file.read_text(encoding="utf-8").splitlines()
    assert lines[lines.index("# What it is.") + 2] == 'name = "crop"'
    assert lines.index('name = "crop"') < lines.index('name = "variety"')


def test_a_picture_is_copied_beside_the_design_once(catalogue: Catalogue, tmp_path: Path) -> None:
    """The same picture twice is one file; another of its name gets a number; what is no picture is refused."""
    shapes = [tmp_path / name / "leaf.svg" for name in ("a", "b")]
    for number, path in enumerate(shapes, start=1):
        path.parent.mkdir()
        path.write_text(
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="{number}" height="9"/></svg>'
        )
    laid = design_table.lay(catalogue, "jar", label_stock("a4-2x4-99.1x67.7"))
    on = design_table.add_picture(laid.on, shapes[0])
    on = edits.removed(design_table.add_picture(on, shapes[0]), "picture 2")
    on = design_table.add_picture(on, shapes[1])
    assert sorted(path.name for path in on.folder.iterdir()) == ["leaf 2.svg", "leaf.svg"]
    design_table.save(catalogue, changed(laid, on), "With a leaf")
    [leek] = take_in(catalogue, LEEK)
    made = printing.lot_labels(
        catalogue, [leek], printing.LabelJob("with-a-leaf", "a4-2x4-99.1x67.7"), on=TODAY
    )
    assert made.pages == 1
    (tmp_path / "bad.png").write_bytes(b"no")
    with pytest.raises(BadInput, match=r"bad\.png: this is no PNG picture"):
        design_table.add_picture(on, tmp_path / "bad.png")


def test_a_faulty_design_is_told_with_its_line(catalogue: Catalogue) -> None:
    """And stops no other."""
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    mine = design_table.save(catalogue, laid, "Our packet")
    bad = mine.on.folder / "half.toml"
    bad.write_text('title = "Half"\npurpose = ""\n[[layout]]\nsmallest_width_mm = "wide"\n', encoding="utf-8")
    [faulty] = design_table.faulty_designs(catalogue)
    assert (
        faulty.why
        == "half.toml, line 4 (layout 1): smallest_width_mm is 'wide'; allowed: a number from 10 to 500."
    )
    assert "our-packet" in [each.name for each in printing.designs()]


def test_each_library_has_designs_of_its_own(catalogue: Catalogue, tmp_path: Path) -> None:
    """Those of a library that is not open are not offered."""
    laid = design_table.lay(catalogue, "packet", label_stock(STOCK))
    design_table.save(catalogue, laid, "Our packet")
    with keeping.make(tmp_path / "other.hilum", clock=clock):
        assert "our-packet" not in [each.name for each in printing.designs()]
    with keeping.open_at(tmp_path / "library.hilum", clock=clock):
        assert "our-packet" in [each.name for each in printing.designs()]


def test_own_and_folding_stocks_lie_on_the_table_too(catalogue):
    """A stock described by its ruler figures, and the front of a folding packet: tried like any other."""
    measured = StockMeasurements(
        "Odd sheets", page_w_mm=210, page_h_mm=297, columns=2, rows=5, first_left_mm=12, first_top_mm=15,
        label_w_mm=90, label_h_mm=50, second_left_mm=108, second_top_mm=69,
    )  # fmt: skip
    own = keep_stock(catalogue, measured)
    settings = catalogue.settings()
    for stock, name in (
        (stock_named(settings, own.name), "packet"),
        (stock_named(settings, "fold-c7-a4"), "packet-small"),
    ):
        laid = design_table.lay(catalogue, name, stock)
        chosen = design_table.choose_lots(catalogue, laid.on, today=TODAY)
        assert [each.refusal for each in design_table.try_lots(chosen, laid.on, stock)] == [""] * len(chosen)


def test_a_design_without_a_code_is_a_back_whatever_it_is_called(catalogue):
    """The lots were chosen under a front with a code; on a back the same labels are tried without one."""
    stock = stock_named(catalogue.settings(), "fold-c7-a4")
    front = design_table.lay(catalogue, "packet-small", stock)
    chosen = design_table.choose_lots(catalogue, front.on, today=TODAY)
    back = design_table.lay(catalogue, "packet-back", stock)
    assert [each.refusal for each in design_table.try_lots(chosen, back.on, stock)] == [""] * len(chosen)
    assert not front.on.design.is_back
    saved = design_table.save(catalogue, back, "Other side of ours")
    assert saved.on.design.is_back


def test_a_stock_measured_here_is_found_as_it_would_be_typed(catalogue):
    """By name, by title, without the “own-”; a wrong name is told those measured here; the tables come first."""
    measured = StockMeasurements(
        "Odd sheets", page_w_mm=210, page_h_mm=297, columns=2, rows=5, first_left_mm=12, first_top_mm=15,
        label_w_mm=90, label_h_mm=50, second_left_mm=108, second_top_mm=69,
    )  # fmt: skip
    own = keep_stock(catalogue, measured)
    keep_stock(catalogue, replace(measured, title="a4-3x8-70x37"))
    settings = catalogue.settings()
    for typed in ("own-odd-sheets", "Odd sheets", "odd-sheets"):
        assert stock_named(settings, typed) == own
    assert stock_named(settings, "a4-3x8-70x37").columns == 3
    with pytest.raises(LabelError, match=r"Measured here: own-odd-sheets, own-a4-3x8-70x37\."):
        stock_named(settings, "od-sheets")
