"""One working day by command, as a shell user does it: from the list at the door to packets and a safety copy."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import zxingcpp

from hilum.__main__ import main
from tests.support.sources import HOUSE, ROOT

DATA = ROOT / "tests" / "data"
LEEK, PEA, FOXGLOVE = "LEK-25-001-S", "PEA-25-001-E", "FXG-25-001-H"
SHEET = ("--label-stock", "a4-3x8")


def shell(*words: str) -> "subprocess.CompletedProcess[str]":
    """Start `hilum` in a process of its own, with the environment of the test."""
    return subprocess.run(
        [sys.executable, "-m", "hilum", *words],
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(HOUSE), "PYTHONIOENCODING": "utf-8"},
    )


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str]) -> Any:
    """Call `hilum` in this process; give the document, or the exit code and the words of the refusal."""

    def call(*words: str, refused: int = 0) -> Any:
        code = main([*words, "--json"])
        captured = capsys.readouterr()
        assert code == refused, captured.err
        return captured.err if refused else json.loads(captured.out)

    return call


def codes_of(pdf: Path, dpi: int = 300) -> list[str]:
    """Read every code of a PDF from its pictures, by a decoder that knows nothing of the labels."""
    found = []
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        picture = page.render(scale=dpi / 72, grayscale=True).to_numpy()
        found += [
            each.text for each in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
        ]
    document.close()
    return found


def words_of(pdf: Path) -> str:
    """Give all words of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return text


def test_a_whole_day_by_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, say: Any):
    """Seed comes in, is prepared, tested, judged, labelled, packed, drawn, copied, brought back and checked."""
    library = tmp_path / "library.hilum"
    monkeypatch.setenv("HILUM_CATALOGUE", str(library))
    monkeypatch.chdir(tmp_path)

    # The list at the door, in a shell of its own.
    assert shell("new", "library.hilum").returncode == 0
    taken = shell("intake", str(DATA / "autumn_intake.csv"), "--json")
    assert (taken.returncode, taken.stderr) == (0, "")
    assert [each["row"] for each in json.loads(taken.stdout)["accepted"]] == list(range(2, 32))
    due = shell("lots", "--due", "--on", "2026-12-05")
    assert "never tested; first test season after receipt in Oct 2025" in due.stdout
    assert any(line.startswith(LEEK) for line in due.stdout.splitlines())

    # Preparing: a count, a drying with its evidence, a weighing.
    counted = say(
        "prepare", LEEK, "count", "--seeds", "100", "--grams", "0.262,0.265,0.26,0.263", "--on", "2026-12-06"
    )
    assert counted["thousand_seed_weight_g"] == pytest.approx(2.625)
    dried = say("prepare", LEEK, "dry", "--evidence", "moisture", "--value", "4.5", "--on", "2026-12-06")
    assert dried["moisture_percent_wb"] == 4.5
    weighed = say("prepare", LEEK, "weigh", "--grams", "37.8", "--on", "2026-12-07")
    assert (weighed["stock_mg"], weighed["stock_seeds"]) == (37_800, 14_400)

    # The test, with its seed drawn: 400 seeds of 2.625 mg.
    judged = say(
        "germination",
        LEEK,
        "--on",
        "2026-12-21",
        "--of",
        "100",
        "--normal",
        "88,91,86,90",
        "--dead",
        "12,9,14,10",
    )
    assert (judged["germination_percent"], judged["verdict"]) == (89, "keep")
    assert judged["tolerance"] == {"range": 5, "allowed": 12, "within": True}
    assert judged["next_due_on"] > "2027-01"
    assert judged["stock_mg"] == 37_800 - 1_050
    story = say("show", LEEK)
    assert [each["kind"] for each in story["movements"]] == ["received", "stocktake", "test"]
    assert story["tests"][0]["finished_on"] == "2026-12-21"
    assert LEEK not in {each["lot"] for each in say("lots", "--due", "--on", "2026-12-22")["lots"]}

    # Labels for a shelf and for a poisonous crop; what stands on them is read from the file.
    made = shell("labels", "--lots", f"{LEEK},{PEA},{FOXGLOVE}", "--design", "packet", *SHEET, "--start", "23",
                 "--on", "2026-12-22", "-o", "labels.pdf")  # fmt: skip
    assert made.returncode == 0, made.stderr
    assert "3 of 3 codes read back" in made.stdout
    assert sorted(codes_of(tmp_path / "labels.pdf")) == sorted([LEEK, PEA, FOXGLOVE])
    printed = " ".join(words_of(tmp_path / "labels.pdf").split())
    for words in (
        "Fenlock Grey",
        "2025",
        "Ashmere allotments plot 14",
        "89 % of 400 seeds, Dec 2026",
        "home test",
    ):
        assert words in printed
    assert "poisonous" in printed.casefold()

    # Packets: stock, batch and labels in one step.
    packed = say("pack", LEEK, "--packets", "30", "--seeds", "50", "--design", "packet", *SHEET, "--on", "2027-01-10",
                 "-o", "packets.pdf")  # fmt: skip
    assert packed["fill_mg"] == 140  # 50 seeds of 2.625 mg are 131.25 mg; the scale shows steps of 10 mg
    assert packed["stock_mg"] == 36_750 - 30 * 140
    assert codes_of(tmp_path / "packets.pdf") == [LEEK] * 30

    # Seed for the bed, a copy, a slip, and the copy back.
    assert say("draw", LEEK, "--grams", "2.5", "--as", "sown", "--why", "trial bed")["stock_mg"] == 30_050
    assert say("backup", "safe.hilum")["ok"] is True
    assert say("draw", LEEK, "--grams", "30", "--as", "discarded", "--why", "wrong jar")["stock_mg"] == 50
    assert "holds 0.05 g" in say("draw", LEEK, "--grams", "30", "--as", "discarded", refused=1)
    assert say("restore", "safe.hilum")["findings"] == []
    assert say("show", LEEK)["stock_mg"] == 30_050
    checked = shell("check")
    assert (checked.returncode, checked.stderr) == (0, "")
    assert "30 lots looked through" in checked.stdout


def test_the_swap_table_is_taken_in_row_by_row(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, say: Any):
    """A list from another computer: each row is taken for what it is, or refused with its reason; none is guessed."""
    monkeypatch.setenv("HILUM_CATALOGUE", str(tmp_path / "library.hilum"))
    say("new", str(tmp_path / "library.hilum"))
    say("intake", str(DATA / "autumn_intake.csv"))
    found = say("intake", str(DATA / "swap_table_cp1252.csv"))
    lots = {each["row"]: say("show", each["lot"]) for each in found["accepted"]}

    assert {row: (lot["crop"], lot["stock_mg"]) for row, lot in lots.items()} == {
        4: ("French bean", 350_000),
        8: ("Onion", 56_699),
        13: ("Pea", 180_000),
        15: ("Radish", None),
        16: ("Lettuce", 45_000),
    }
    assert lots[13]["variety"].startswith("=HYPERLINK(")  # text, never run
    assert lots[15]["state"] == "to be weighed"
    assert lots[8]["received_on"] == "2020"

    refused = {each["row"]: each for each in found["refused"]}
    reasons = {
        2: ("Crop", "Lettuce"),
        3: ("Crop", "German name"),
        5: ("year of harvest", "in the future"),
        7: ("Crop", "Pumpkin can be"),
        10: ("weight", "less than nothing"),
        11: ("", "Already here as lot CAR-25-001-S"),
        12: ("Crop", "No crop is called"),
        14: ("year of harvest", "is not a year"),
        17: ("weight", "can be read in two ways, 1200 g or 1.2 g"),
    }
    assert set(refused) == set(reasons)
    for row, (column, why) in reasons.items():
        assert refused[row]["column"] == column
        assert why in refused[row]["why"]
    assert refused[2]["suggestion"] == "Lettuce"
    assert refused[3]["suggestion"] == "Tomato"
    assert {each["row"] for each in found["skipped"]} == {6, 9}

    # The same list once more: nothing is doubled.
    say("intake", str(DATA / "swap_table_cp1252.csv"), refused=2)
    assert say("lots")["total"] == 35
