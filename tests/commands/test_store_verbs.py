"""The store from the shell: places changed, moved and closed, readings, failures, a stocktake with a photo."""

from pathlib import Path

from tests.commands.calling import document, hilum
from tests.support.photos import Shot, photograph, sheet

ON = ("--on", "2026-11-20")


def store_with(library: Path, count: int = 3) -> list[str]:
    """Make a shelf with two boxes and put the first lots into box 1."""
    document("place", "Shelf", "--kind", "shelf", "--celsius", "12")
    for name in ("Box 1", "Box 2"):
        document("place", name, "--kind", "box", "--in", "Shelf")
    numbers = [each["lot"] for each in document("lots", "--limit", str(count))["lots"]]
    for number in numbers:
        document("move", number, "Box 1", *ON)
    return numbers


def test_a_place_is_changed_moved_and_closed(library: Path):
    """The answer tells the place as it is now; one thing at a time, and a place with lots stays open."""
    store_with(library)
    found = document("set-place", "Box 2", "--celsius", "4", "--humidity", "30", *ON)["place"]
    assert (found["temperature_c"], found["humidity_percent"]) == (4.0, 30.0)
    assert document("set-place", "Box 2", "--out", *ON)["place"]["place"] == "Box 2"
    assert document("set-place", "Box 2", "--in", "Shelf", *ON)["place"]["place"] == "Shelf / Box 2"
    assert hilum("set-place", "Box 1", "--close").code == 2
    document("set-place", "Box 2", "--close", *ON)
    assert [each["place"] for each in document("place")["places"]] == ["Shelf", "Shelf / Box 1"]
    assert "There is no store place" in hilum("set-place", "Box 2", "--celsius", "3").err
    document("set-place", "Box 2", "--use-again")
    assert len(document("place")["places"]) == 3
    assert "Say one thing to do" in hilum("set-place", "Box 2", "--close", "--celsius", "3").err


def test_readings_are_typed_and_taken_from_a_loggers_file(library: Path, tmp_path: Path):
    """Tried first, then taken; the same file again changes nothing; the list tells where they come from."""
    store_with(library)
    file = tmp_path / "logger.csv"
    file.write_text(
        "Time;Temperature [°C];Humidity [%]\n2026-02-13 08:00;4.5;40\n2026-02-13 20:00;5.5;42\n", "utf-8"
    )
    tried = document("readings", "Shelf", file, "--try")
    assert (tried["rows"], tried["days"]) == (2, [])
    [day] = document("readings", "Shelf", file)["days"]
    assert (day["on"], day["temperature_c"], day["readings"], day["from"]) == (
        "2026-02-13",
        5.0,
        2,
        "logger.csv",
    )
    document("readings", "Shelf", "--celsius", "11.5", *ON)
    assert [each["on"] for each in document("readings", "Shelf")["days"]] == ["2026-11-20", "2026-02-13"]
    assert "2026-02-13" in hilum("readings", "Shelf").out
    assert hilum("readings", "Shelf", file, "--celsius", "3").code == 2
    assert hilum("readings", "Shelf", tmp_path / "none.csv").code == 2


def test_a_failure_is_noted_for_every_lot_that_lay_there(library: Path):
    """But those named as untouched; a warm failure needs its temperature."""
    numbers = store_with(library)
    days = ("--from", "2026-11-20", "--until", "2026-11-22")
    assert hilum("failure", "Shelf", "too warm", *days).code == 2
    told = document("failure", "Shelf", "too warm", *days, "--celsius", "31", "--not", numbers[0])
    assert sorted(each["lot"] for each in told["lots"]) == sorted(numbers[1:])


def test_a_stocktake_from_begin_to_write(library: Path, tmp_path: Path):
    """By scan, scale and photo; what is accepted is written and can be taken back as one."""
    numbers = store_with(library, 4)
    assert document("stocktake", "begin", "Shelf")["expected"] == 4
    picture, _ = photograph(sheet(numbers[:2]), Shot(4), tmp_path / "box.jpg")
    told = document("stocktake", "photo", "Shelf", picture)
    assert sorted(told["photos"][0]["new"]) == sorted(numbers[:2])
    document("stocktake", "scan", "Shelf", numbers[2], "--at", "Box 2")
    assert hilum("stocktake", "scan", "Shelf", *numbers[:2], "--seeds", "3").code == 2
    assert "seen before" in hilum("stocktake", "scan", "Shelf", numbers[0]).out
    shown = document("stocktake", "show", "Shelf")
    assert [(each["kind"], each["lot"]) for each in shown["findings"]] == [
        ("missing", numbers[3]), ("elsewhere", numbers[2]),
    ]  # fmt: skip
    assert f"{numbers[2]}=here" in hilum("stocktake", "show", "Shelf").out
    assert hilum("stocktake", "write", "Shelf", f"{numbers[0]}=here").code == 2
    done = document("stocktake", "write", "Shelf", f"{numbers[2]}=here")
    assert (done["corrected"], done["left"]) == ([numbers[2]], 1)
    assert document("show", numbers[2])["stays"][-1]["place"] == "Shelf / Box 2"
    assert "is not being counted" in hilum("stocktake", "show", "Shelf").err
    document("stocktake", "begin", "Box 1")
    assert hilum("stocktake", "drop", "Box 1").code == 0
