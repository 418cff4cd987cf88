"""The keys that scripts may rely on, verb by verb."""

import json
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from hilum.benches import keeping, testing
from hilum.commands.desk import local_time
from tests.commands.calling import DATA, document, everything_in, hilum

LOT_KEYS = "lot crop variety year place_grown stock_mg stock_seeds germination_percent tested_on due_on due_why state"
LEEK = "LEK-25-001-S"
SHEET = ("--label-stock", "a4-3x8")


def holds_keys(found: dict[str, Any], keys: str) -> None:
    """See that a document has these keys."""
    assert set(keys.split()) - set(found) == set()


def test_new_tells_where_and_how_many(tmp_path: Path):
    """An empty catalogue is made at the whole path; nothing there is written over."""
    made = document("new", tmp_path / "a" / "library.hilum")
    assert made == {"catalogue": str(tmp_path / "a" / "library.hilum"), "lots": 0}
    assert hilum("new", tmp_path / "a" / "library.hilum").code == 1


def test_lots_are_listed_with_all_keys(library: Path):
    """Every listed lot has every key; what is not known is null."""
    found = document("lots")
    assert found["total"] == 30
    for lot in found["lots"]:
        holds_keys(lot, LOT_KEYS)
    [leek] = document("lots", "--find", "grey", "fenlock")["lots"]
    assert (leek["lot"], leek["stock_mg"], leek["germination_percent"]) == (LEEK, 38_500, None)


def test_the_total_counts_beyond_the_limit(library: Path):
    """A short list says how long the whole one is."""
    found = document("lots", "--limit", "4")
    assert (len(found["lots"]), found["total"]) == (4, 30)
    assert "4 of 30 lots." in hilum("lots", "--limit", 4).out


def test_due_lots_come_with_their_reason(library: Path):
    """On the day the test season opens the autumn's lots are due, and not the day before."""
    assert document("lots", "--due", "--on", "2025-11-30")["total"] == 0
    found = document("lots", "--due", "--on", "2025-12-01")
    assert found["total"] > 20
    assert all("first test season" in lot["due_why"] for lot in found["lots"])
    assert "never tested; first test season after receipt in Oct 2025" in hilum("lots", "--due").out


def test_a_list_goes_on_paper(library: Path, tmp_path: Path):
    """What is due is written as a PDF too, and the table is told as ever."""
    file = tmp_path / "due.pdf"
    found = document("lots", "--due", "--on", "2025-12-01", "-o", str(file))
    assert found["total"] > 20
    assert file.read_bytes().startswith(b"%PDF")
    assert hilum("lots", "--find", "nothing", "like", "it", "-o", str(tmp_path / "none.pdf")).code == 2
    assert not (tmp_path / "none.pdf").exists()


def test_lots_are_narrowed_by_crop(library: Path):
    """A crop is named as it is called, whatever the case."""
    assert [lot["crop"] for lot in document("lots", "--crop", "tomato")["lots"]] == ["Tomato", "Tomato"]


FORECAST_KEYS = (
    "now_percent interval_90 below_standard_chance standard_percent half_life_years test_next_on why curve"
)


def test_a_forecast_has_its_keys_and_runs_as_far_as_asked(library: Path):
    """One point a year from today on, within its band; the sentence says what it rests on."""
    found = document("forecast", LEEK, "--years", "3", "--on", "2026-01-01")
    holds_keys(found, FORECAST_KEYS)
    assert [point["on"][:4] for point in found["curve"]] == ["2026", "2027", "2028", "2029"]
    assert all(point["low"] <= point["percent"] <= point["high"] for point in found["curve"])
    assert found["standard_percent"] == 60
    assert "from" in found["why"].lower()
    assert "90 % band" in hilum("forecast", LEEK).out


def test_a_lot_is_shown_whole(library: Path):
    """What is not known is null or empty, never missing; the forecast comes with its reason."""
    found = document("show", "lek25001s")
    holds_keys(found, LOT_KEYS + " movements tests stays parents forecast")
    assert (found["lot"], found["tests"], found["stays"], found["parents"]) == (LEEK, [], [], [])
    holds_keys(found["forecast"], FORECAST_KEYS)
    [received] = found["movements"]
    assert (received["kind"], received["amount"], received["unit"], received["on"]) == (
        "received", 38_500, "mg", "2025-10-04",
    )  # fmt: skip


def test_seed_is_drawn_by_weight_or_by_number(library: Path):
    """Both leave the same kind of movement, with its reason."""
    after = document("draw", LEEK, "--grams", "1.5", "--as", "sown", "--why", "trial bed")
    holds_keys(after, "lot stock_mg stock_seeds")
    assert after["stock_mg"] == 37_000
    fewer = document("draw", LEEK, "--seeds", "100", "--as", "discarded", "--on", "2026-11-20")
    assert fewer["stock_mg"] < 37_000
    [_, sown, gone] = document("show", LEEK)["movements"]
    assert (sown["kind"], sown["amount"], sown["why"], sown["on"]) == (
        "sown",
        -1_500,
        "trial bed",
        "2026-11-25",
    )
    assert (gone["kind"], gone["on"]) == ("discarded", "2026-11-20")


def test_a_finished_test_is_judged(library: Path):
    """Percentage, interval, tolerance, verdict and the next date come back; the seed is drawn."""
    found = document(
        "germination", LEEK, "--on", "2026-11-20", "--of", "100", "--normal", "88,91,86,90",
        "--abnormal", "2,3,1,4", "--dead", "10,6,13,6",
    )  # fmt: skip
    holds_keys(found, "germination_percent interval_90 tolerance verdict next_due_on next_due_why")
    assert (found["germination_percent"], found["verdict"], found["seeds"]) == (89, "keep", 400)
    assert found["tolerance"] == {"range": 5, "allowed": 12, "within": True}
    low, high = found["interval_90"]
    assert low < 89 < high
    assert date.fromisoformat(found["next_due_on"]) > date(2026, 11, 20)
    [test] = document("show", LEEK)["tests"]
    assert (test["normal_percent"], test["hard_percent"], test["state"]) == (89, None, "finished")
    assert found["stock_mg"] < 38_500


def test_a_result_from_elsewhere_draws_nothing(library: Path):
    """It says whose it is, and the stock stays."""
    found = document("germination", LEEK, "--of", "50", "--normal", "45", "--elsewhere", "the sister library")
    assert found["stock_mg"] == 38_500
    assert document("show", LEEK)["tests"][0]["origin"] == "the sister library"


def test_dishes_of_different_size(library: Path):
    """The number of seeds is one for all dishes, or one for each."""
    assert document("germination", LEEK, "--of", "50,25", "--normal", "45,20")["seeds"] == 75
    assert hilum("germination", LEEK, "--of", "50,25,25", "--normal", "45,20").code == 2


def test_each_step_of_preparing_tells_its_outcome(library: Path):
    """Cleaning, drying, weighing, counting and freezing, in the order of a day's work."""
    keys = "lot step stock_mg moisture_percent_wb thousand_seed_weight_g state"
    cleaned = document("prepare", LEEK, "clean", "--grams", "36.2")
    holds_keys(cleaned, keys)
    assert (cleaned["step"], cleaned["stock_mg"], cleaned["moisture_percent_wb"]) == ("clean", 36_200, None)
    dried = document("prepare", LEEK, "dry", "--evidence", "moisture", "--value", "4.5", "--grams", "35.9")
    assert (dried["moisture_percent_wb"], dried["stock_mg"]) == (4.5, 35_900)
    weighed = document("prepare", LEEK, "weigh", "--grams", "35.8", "--note", "new scale")
    assert weighed["stock_mg"] == 35_800
    counted = document("prepare", LEEK, "count", "--seeds", "100", "--grams", "0.262,0.265,0.26,0.263")
    assert counted["thousand_seed_weight_g"] == pytest.approx(2.625)
    assert counted["thousand_seed_weight_is_estimate"] is False
    frozen = document("prepare", LEEK, "freeze", "--celsius", "-18", "--until", "2026-12-02")
    assert frozen["step"] == "freeze"
    assert "7 days at -18 °C" in frozen["words"]
    assert [step["kind"] for step in document("show", LEEK)["steps"]] == [
        "cleaned", "dried", "weighed", "counted", "frozen",
    ]  # fmt: skip


def test_a_freezing_of_the_past_is_written_down_with_a_warning(library: Path):
    """What was done is a fact; that it lacked evidence is said."""
    found = document("prepare", LEEK, "freeze", "--celsius=-18", "--on", "2025-11-01", "--already-done")
    assert any("no evidence" in warning for warning in found["warnings"])


def test_labels_tell_what_was_read_back(library: Path, tmp_path: Path):
    """As many codes are read as labels are made, and the file lies where it was asked for."""
    sheet = tmp_path / "sheet.pdf"
    found = document(
        "labels", "--lots", f"{LEEK},PEA-25-001-E", "--design", "packet", *SHEET, "--copies", "2", "--start", "23",
        "-o", sheet,
    )  # fmt: skip
    holds_keys(found, "labels pages proof warnings")
    assert (found["labels"], found["pages"]) == (4, 2)
    assert found["proof"] == {"codes": 4, "read": 4, "unread": []}
    assert sheet.read_bytes().startswith(b"%PDF")


def test_the_same_labels_twice_are_the_same_bytes(library: Path, tmp_path: Path):
    """Written over without a question, and to the same content."""
    words = ("labels", "--find", "leek", "--design", "jar", *SHEET, "-o", tmp_path / "sheet.pdf")
    document(*words)
    first = (tmp_path / "sheet.pdf").read_bytes()
    document(*words)
    assert (tmp_path / "sheet.pdf").read_bytes() == first


def test_dishes_of_a_standing_test_get_their_tags(library: Path, tmp_path: Path):
    """One tag for each dish of the chosen lots, and none for other lots."""
    with keeping.open_at(library, clock=local_time) as catalogue:
        for number in (LEEK, "PEA-25-001-E"):
            testing.start_test(catalogue, number, on=date(2026, 11, 20), dishes=(25, 25, 25))
    found = document("labels", "--lots", LEEK, "--design", "dish", *SHEET, "-o", tmp_path / "tags.pdf")
    assert (found["labels"], found["proof"]["read"]) == (3, 3)
    assert [each["lot"] for each in document("day")["standing"]] == [LEEK, "PEA-25-001-E"]


def test_packing_moves_stock_and_prints_in_one_step(library: Path, tmp_path: Path):
    """The fill is for one packet; what the packets hold has left the stock."""
    plan = document("pack", LEEK, "--seeds", "50", "--try")
    assert document("show", LEEK)["stock_mg"] == 38_500
    found = document(
        "pack", LEEK, "--packets", "30", "--seeds", "50", "--design", "packet", *SHEET, "-o", tmp_path / "p.pdf"
    )  # fmt: skip
    holds_keys(found, "fill_mg packets stock_mg labels proof")
    assert (found["packets"], found["labels"], found["proof"]["read"]) == (30, 30, 30)
    assert found["fill_mg"] == plan["fill_mg"]
    assert found["stock_mg"] == 38_500 - 30 * found["fill_mg"]
    [batch] = document("show", LEEK)["packet_batches"]
    assert (batch["packets"], batch["packets_left"], batch["fill_mg"]) == (30, 30, found["fill_mg"])


def test_packets_that_cannot_be_labelled_are_not_packed(library: Path, tmp_path: Path):
    """A label that has no room for its words undoes the whole step, and an older sheet stays."""
    sheet = tmp_path / "p.pdf"
    sheet.write_bytes(b"%PDF old")
    before = everything_in(library)
    called = hilum(
        "pack", LEEK, "--packets", 3, "--seeds", 50, "--design", "packet", "--label-stock", "a4-10x27", "-o", sheet
    )  # fmt: skip
    assert called.code == 2
    assert everything_in(library) == before
    assert sheet.read_bytes() == b"%PDF old"


def test_a_held_lot_is_not_packed_until_the_hold_is_lifted(library: Path, tmp_path: Path):
    """The hold names itself, and is lifted with a reason."""
    words = (
        "pack",
        LEEK,
        "--packets",
        2,
        "--seeds",
        50,
        "--design",
        "packet",
        *SHEET,
        "-o",
        tmp_path / "p.pdf",
    )
    assert document("hold", LEEK, "insects", "--note", "two weevils")["holds"] == ["insects"]
    document("hold", LEEK, "doubtful-identity")
    called = hilum(*words)
    assert called.code == 2
    assert "is on hold since 2026-11-25: insects (two weevils)" in called.err
    assert "several holds" in hilum("lift", LEEK, "--why", "sieved").err
    document("lift", LEEK, "--why", "sieved", "--kind", "insects")
    assert document("lift", LEEK, "--why", "grown out")["holds"] == []
    assert document(*words)["packets"] == 2


def test_store_places_take_lots(library: Path):
    """A place is named by its path or its name; a freezer takes only seed shown to be dry."""
    document("place", "Cold room", "--kind", "room", "--celsius", "12", "--humidity", "40")
    document("place", "Freezer 1", "--kind", "freezer", "--in", "cold room", "--celsius", "-18")
    assert [each["place"] for each in document("place")["places"]] == ["Cold room", "Cold room / Freezer 1"]
    assert "does not go into a place at -18 °C" in hilum("move", LEEK, "freezer 1").err
    document("prepare", LEEK, "dry", "--evidence", "moisture", "--value", "4.5")
    moved = document("move", LEEK, "cold room/freezer 1", "--container", "jar", "--airtight")
    assert moved["place"] == "Cold room / Freezer 1"
    [stay] = document("show", LEEK)["stays"]
    assert (stay["container"], stay["airtight"], stay["from_on"]) == ("jar", True, "2026-11-25")


def test_a_backup_comes_back(library: Path, tmp_path: Path):
    """What was written after the copy is gone after restoring, and the replaced file is kept."""
    copy = tmp_path / "copies" / "safe.hilum"
    copy.parent.mkdir()
    saved = document("backup", copy)
    assert (saved["ok"], saved["findings"]) == (True, [])
    document("draw", LEEK, "--grams", "30", "--as", "discarded")
    back = document("restore", copy)
    assert (back["ok"], back["findings"]) == (True, [])
    assert document("show", LEEK)["stock_mg"] == 38_500
    assert document("lots", "--catalogue", back["kept"], "--find", LEEK)["lots"][0]["stock_mg"] == 8_500
    assert document("check")["ok"] is True


def test_a_wrong_ledger_is_found_by_the_check(library: Path):
    """The findings are told in the document and on the screen, and the exit code says so."""
    with closing(sqlite3.connect(library)) as connection, connection:
        connection.execute("UPDATE lot SET stock = stock + 1 WHERE number = ?", (LEEK,))
    called = hilum("check", "--json")
    assert called.code == 1
    found = json.loads(called.out)
    assert found["ok"] is False
    assert any(LEEK in finding for finding in found["findings"])
    assert "not as" in called.err


def test_intake_refuses_what_is_here_and_asks_what_is_near(library: Path, tmp_path: Path):
    """A row taken in already is pointed out; one that differs in its weight is asked, and taken when told so."""
    table = tmp_path / "again.csv"
    head, leek, *_ = (DATA / "autumn_intake.csv").read_text(encoding="utf-8").splitlines()
    table.write_text("\n".join([head, leek, leek.replace("38.5 g", "12 g")]) + "\n", encoding="utf-8")
    called = hilum("intake", table, "--json")
    assert called.code == 2
    same, near = called.document["refused"]
    holds_keys(same, "row column why")
    assert (same["row"], same["status"], same["lot"]) == (2, "already here", LEEK)
    assert (near["row"], near["status"], near["lot"]) == (3, "ask", LEEK)
    assert "--anyway 3" in hilum("intake", table).out
    assert "Row 2 is not one that is asked about" in hilum("intake", table, "--anyway", "2").err
    taken = document("intake", table, "--anyway", "3")
    assert [each["row"] for each in taken["accepted"]] == [3]
    assert document("lots")["total"] == 31


def test_trying_an_intake_writes_nothing(library: Path):
    """The report is whole, the lots have no number yet, and the catalogue is as it was."""
    before = library.read_bytes()
    found = document("intake", DATA / "swap_table_cp1252.csv", "--try")
    assert found["tried_only"] is True
    assert found["accepted"]
    assert {each["lot"] for each in found["accepted"]} == {None}
    assert library.read_bytes() == before


def test_a_safety_copy_is_made_before_lots_come_in(library: Path):
    """What was there before the import lies beside the catalogue."""
    document("intake", DATA / "swap_table_cp1252.csv")
    [copy] = (library.parent / "library safety copies").iterdir()
    assert document("lots", "--catalogue", copy)["total"] == 30


def test_choices_settle_what_the_table_does_not_prove(library: Path):
    """A crop that is meant and a decimal mark are said once, and their rows come in."""
    refused = {each["row"] for each in document("intake", DATA / "swap_table_cp1252.csv", "--try")["refused"]}
    settled = document(
        "intake", DATA / "swap_table_cp1252.csv", "--try", "--crop", "Letuce=Lettuce", "--crop", "Tomate=Tomato",
        "--unit", "g", "--decimal-mark", "comma",
    )  # fmt: skip
    assert {2, 3} <= refused
    assert {2, 3} <= {each["row"] for each in settled["accepted"]}
    called = hilum("intake", DATA / "swap_table_cp1252.csv", "--crop", "Tomate=Moonroot")
    assert (called.code, "“Moonroot” is not the name of one crop" in called.err) == (2, True)


def test_the_day_sheet_has_its_headings(library: Path):
    """What is waiting is listed under its own heading, within the width of the screen."""
    found = document("day", "--on", "2026-12-01")
    holds_keys(found, "on due due_total barred to_count standing to_be_weighed in_hand held group_open")
    assert found["due_total"] == len(found["due"]) > 0
    called = hilum("day", "--on", "2026-12-01")
    for heading in ("Due for a germination test", "In hand", "Crop group still to be chosen"):
        assert heading not in called.out or f"\n\n{heading}\n" in called.out
    assert "Due for a germination test" in called.out
    assert max(len(line) for line in called.out.splitlines()) <= 100


@pytest.mark.parametrize("words", ["lots", "lots --due", f"show {LEEK}", "day", "check", "place"])
def test_people_read_within_a_hundred_columns(library: Path, words: str):
    """Tables are calm and fit."""
    called = hilum(*words.split())
    assert called.code == 0
    assert max(len(line) for line in called.out.splitlines()) <= 100


@pytest.mark.postgresql
def test_the_verbs_work_on_a_server_too(postgresql_url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A database address stands wherever a file may, and its password is shown nowhere."""
    monkeypatch.setenv("HILUM_CATALOGUE", postgresql_url)
    assert document("new", postgresql_url)["lots"] == 0
    assert len(document("intake", DATA / "autumn_intake.csv")["accepted"]) == 30
    assert document("draw", LEEK, "--grams", "1.5", "--as", "sown")["stock_mg"] == 37_000
    words = (
        "pack",
        LEEK,
        "--packets",
        2,
        "--seeds",
        50,
        "--design",
        "packet",
        *SHEET,
        "-o",
        tmp_path / "p.pdf",
    )
    assert document(*words)["proof"]["read"] == 2
    assert document("check")["ok"] is True
    for verb in ("backup", "restore"):
        called = hilum(verb, tmp_path / "copy.hilum")
        assert called.code != 0
        assert "server" in called.err
