"""Printing by command: the print book, papers to work from, other sides, groups, copies, words that are asked for."""

import io
from hashlib import sha256

import pypdf
import pytest

from hilum.benches import keeping
from hilum.benches.keeping import change_settings
from hilum.commands.desk import local_time
from tests.commands.calling import document, everything_in, hilum
from tests.support.paper import sheets_of

LEEK = "LEK-25-001-S"


def words_of(file):
    """Give the words of each page."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(file.read_bytes())).pages]


def labels(tmp_path, *more, name="labels.pdf", stock="a4-3x8", design="packet"):
    """Print labels into a file; gives the document and the file."""
    file = tmp_path / name
    return document("labels", *more, "--design", design, "--label-stock", stock, "-o", file), file


def test_every_job_stands_in_the_print_book_and_is_made_again(library, tmp_path):
    """The listed hash is that of the file, and the file made again is the same to the byte."""
    made, file = labels(tmp_path, "--lots", LEEK, "--copies", "3", "--start", "5")
    [job] = document("printed")["jobs"]
    assert (job["labels"], job["went_to"], job["label_stock"]) == (3, "file labels.pdf", "a4-3x8-70x37")
    assert job["sha256"] == sha256(file.read_bytes()).hexdigest()
    again = tmp_path / "again.pdf"
    done = document("printed", job["job"], "-o", again)
    assert again.read_bytes() == file.read_bytes()
    assert (done["again"], done["labels"], made["labels"]) == (job["job"], 3, 3)
    assert len(document("printed", "--lot", LEEK)["jobs"]) == 2
    assert f"{LEEK} × 3" in hilum("printed", job["job"]).out


def test_one_label_of_a_job_is_printed_again(library, tmp_path):
    """By its place in the job; a place it has not is refused, and nothing is written."""
    labels(tmp_path, "--find", "tomato")
    file = tmp_path / "one.pdf"
    done = document("printed", 1, "--labels", 2, "-o", file)
    assert (done["labels"], done["proof"]["codes"]) == (1, 1)
    before = everything_in(library)
    refused = hilum("printed", 1, "--labels", 9, "-o", tmp_path / "nine.pdf")
    assert (refused.code, "has labels 1 to 2; there is no 9" in refused.err) == (2, True)
    assert not (tmp_path / "nine.pdf").exists()
    assert hilum("printed", 7, "-o", tmp_path / "seven.pdf").code == 2
    assert hilum("printed", "-o", tmp_path / "none.pdf").code == 2
    assert everything_in(library) == before


@pytest.mark.parametrize("kind", ["picking", "stocktake", "tally"])
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_papers_to_work_from(library, tmp_path, kind, page):
    """Their codes are read back, and nothing is written to the catalogue."""
    before, file = everything_in(library), tmp_path / "paper.pdf"
    made = document("paper", kind, "--find", "tomato", "--page", page, "-o", file)
    assert (made["labels"], made["proof"]["read"]) == (2, 2)
    [sheet] = sheets_of(file.read_bytes(), 300)
    assert round(sheet.width_mm) == {"a4": 210, "letter": 216}[page]
    assert everything_in(library) == before


def test_a_count_sheet_is_made_for_running_tests(library, tmp_path):
    """None of the lots is under test: said, and no file is left."""
    refused = hilum("paper", "count", "--lots", LEEK, "-o", tmp_path / "count.pdf")
    assert (refused.code, "under test" in refused.err) == (2, True)
    assert not (tmp_path / "count.pdf").exists()


def test_a_stake_has_two_sides_and_groups_their_separators(library, tmp_path):
    """By command as in the window."""
    made, file = labels(
        tmp_path, "--find", "tomato", "--back", "stake-back", design="stake", stock="a4-2x7-99.1x38.1"
    )
    assert (made["labels"], made["pages"]) == (2, 2)
    assert "sown:" in words_of(file)[1]
    made, file = labels(tmp_path, "--lots", f"{LEEK}", "--group-by", "crop", "--copies", "2", "--whole-sets")
    assert "2 labels" in words_of(file)[0]
    for option, value, says in (
        ("--group-by", "colour", "not grouped by “colour”; allowed: crop"),
        ("--sort-by", "colour", "not sorted by “colour”"),
        ("--code-says", "poem", "not coded by “poem”"),
        ("--back", "moon", "There is no label design “moon”"),
    ):
        refused = hilum(
            "labels", "--lots", LEEK, "--design", "packet", "--label-stock", "a4-3x8", option, value, "-o",
            tmp_path / "x.pdf",
        )  # fmt: skip
        assert refused.code == 2
        assert says in refused.err


def test_copies_come_from_a_list_or_from_what_was_packed(library, tmp_path):
    """A column by its name; a row that cannot be meant is named."""
    rows = tmp_path / "swap.csv"
    rows.write_text(f"lot,put out,labels\n{LEEK},3,5\n", encoding="utf-8")
    assert labels(tmp_path, "--list", rows)[0]["labels"] == 5
    assert labels(tmp_path, "--list", rows, "--count-column", "put out")[0]["labels"] == 3
    refused = hilum(
        "labels", "--list", rows, "--count-column", "weight", "--design", "packet", "--label-stock", "a4-3x8", "-o",
        tmp_path / "x.pdf",
    )  # fmt: skip
    assert (refused.code, "“weight”" in refused.err) == (2, True)
    rows.write_text(f"lot,labels\n{LEEK},5\nLEK-25-001-X,1\n", encoding="utf-8")
    refused = hilum(
        "labels", "--list", rows, "--design", "packet", "--label-stock", "a4-3x8", "-o", tmp_path / "x.pdf"
    )
    assert (refused.code, "swap.csv, row 3" in refused.err) == (2, True)
    hilum("prepare", LEEK, "count", "--seeds", "100", "--grams", "0.25,0.251,0.249,0.25")
    document("pack", LEEK, "--packets", 6, "--seeds", 40, "--design", "packet", "--label-stock", "a4-3x8", "-o",
             tmp_path / "p.pdf")  # fmt: skip
    assert labels(tmp_path, "--lots", LEEK, "--as-packed")[0]["labels"] == 6


def test_folding_packets_and_envelopes_by_command(library, tmp_path):
    """Plain paper to fold, two a sheet; an envelope a page."""
    made, file = labels(tmp_path, "--find", "tomato", design="packet-small", stock="fold-small-letter")
    assert (made["labels"], made["pages"]) == (2, 1)
    assert "glue" in words_of(file)[0]
    assert (
        labels(tmp_path, "--find", "tomato", design="packet-small", stock="envelope-63.5x108")[0]["pages"]
        == 2
    )


def test_what_a_packet_is_asked_to_say_comes_as_a_warning_with_its_source(library, tmp_path):
    """Below the standard: the words and their source; with the library's setting on, the label says them."""
    document("germination", LEEK, "--on", "2025-10-20", "--of", "100", "--normal", "40,42,38,40")
    made, _ = labels(tmp_path, "--lots", LEEK)
    why = {each["box"]: each["why"] for each in made["warnings"]}
    assert "“Below Standard” in 8 point type" in why["below_standard"]
    assert "7 CFR 201.29" in why["below_standard"]
    assert "check with your local authority" in why["below_standard"]
    assert "more than 12 months old" in why["old_test"]
    with keeping.open_at(library, clock=local_time) as catalogue:
        change_settings(catalogue, {"says_below_standard": True})
    made, file = labels(tmp_path, "--lots", LEEK)
    assert "below_standard" not in {each["box"] for each in made["warnings"]}
    assert "Below Standard" in words_of(file)[0]
    plan = hilum("pack", LEEK, "--seeds", 40, "--try")
    assert "the figure on the packets is old. Test it first." in " ".join(plan.out.split())


def test_treated_seed_says_so_wherever_it_is_printed(library, tmp_path):
    """With what it was treated, also after the hold was lifted; a design without room for it warns."""
    document("hold", LEEK, "treated-seed", "--note", "thiram")
    made, file = labels(tmp_path, "--lots", LEEK, design="jar", stock="a4-2x7-99.1x38.1")
    assert "Treated seed: thiram. Do not use for food, feed, or oil purposes." in " ".join(
        words_of(file)[0].split()
    )
    assert "treatment" not in {each["box"] for each in made["warnings"]}
    made, _ = labels(tmp_path, "--lots", LEEK, design="box", stock="a4-2x7-99.1x38.1")
    [warning] = [each for each in made["warnings"] if each["box"] == "treatment"]
    assert "7 CFR 201.31a" in warning["why"]


def test_a_poisonous_crop_without_its_caution_is_refused(library, tmp_path):
    """Nothing is written, neither a file nor a line of the print book."""
    intake = tmp_path / "poison.csv"
    intake.write_text(
        "crop,variety,year,place grown,grower,received,weight\nFoxglove,Chapel White,2025,Plot 9,,2025-08-18,2.1 g\n",
        encoding="utf-8",
    )
    [taken] = document("intake", intake)["accepted"]
    before = everything_in(library)
    refused = hilum(
        "labels",
        "--lots",
        taken["lot"],
        "--design",
        "counter",
        "--label-stock",
        "a4-4x12",
        "-o",
        tmp_path / "x.pdf",
    )
    assert refused.code == 2
    _, file = labels(tmp_path, "--lots", taken["lot"])
    assert "poison" in words_of(file)[0].casefold()
    assert len(everything_in(library)) > len(before)
