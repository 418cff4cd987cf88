"""The verbs of the ledger and the history: correct, change, grow-out, pour-together, mix, history, take-back."""

from pathlib import Path

from tests.commands.calling import DATA, document, everything_in, hilum

LEEK = "LEK-25-001-S"


def newest_job(*more: object) -> str:
    """Give the newest job as the history names it."""
    return str(document("history", *more)["jobs"][0]["job"])


def test_a_slip_is_corrected_with_the_right_figure(library: Path):
    """The movement is named as the document names it, the figure without its sign."""
    document("draw", LEEK, "--grams", "8.5", "--as", "sown")
    line = document("show", LEEK)["movements"][-1]
    done = document("correct", line["id"], "--grams", "6.5", "--why", "misread the scale")
    assert done["stock_mg"] == 32_000
    assert hilum("correct", line["id"], "--why", "again").code == 1
    assert hilum("correct", 99_999, "--grams", 5, "--why", "none").code == 2


def test_a_whole_intake_goes_back_and_comes_again(library: Path):
    """Thirty lots at once, in a later call; the same list can then be taken in again."""
    job = next(each["job"] for each in document("history")["jobs"] if each["what"] == "take in 30 lots")
    assert document("take-back", job[:8]) == {"job": job, "what": "take in 30 lots"}
    assert document("lots")["total"] == 0
    assert document("check")["ok"]
    assert len(document("intake", DATA / "autumn_intake.csv")["accepted"]) == 30
    assert hilum("take-back", job).code == 1


def test_taking_back_is_refused_with_its_reason(library: Path):
    """What stands on the intake is named, and nothing has changed."""
    hilum("draw", LEEK, "--grams", 1, "--as", "sown")
    job = next(each["job"] for each in document("history")["jobs"] if each["what"] == "take in 30 lots")
    before = everything_in(library)
    called = hilum("take-back", job)
    assert called.code == 1
    assert f"a later change (“draw from {LEEK}”) stands on it" in called.err
    assert everything_in(library) == before
    assert hilum("take-back", "zz").code == 2
    assert hilum("take-back", "00000000").code == 2


def test_a_change_is_told_in_words_and_taken_back(library: Path):
    """The history of a lot names fields and names, never ids."""
    document("change", LEEK, "--grower", "Oduya", "--treatment", "thiram", "--f1", "yes", "--year", 2024)
    told = hilum("history", LEEK).out
    assert "year 2025 → 2024" in told
    assert "→ Oduya" in told
    assert "F1 hybrid no → yes" in told
    assert "treated seed" in told
    shown = document("show", LEEK)
    assert (shown["treatment"], shown["f1"], shown["state"]) == ("thiram", True, "held")
    document("take-back", newest_job(LEEK))
    shown = document("show", LEEK)
    assert (shown["treatment"], shown["f1"], shown["state"]) == (None, False, "in hand")
    assert hilum("change", LEEK).code == 2
    document("change", LEEK, "--notes", "")


def test_a_grow_out_that_was_not_true_bars_packing(library: Path, tmp_path: Path):
    """The lot's identity is unknown from then on, at packing and on packet labels."""
    assert document("grow-out", LEEK, "not-true", "--plants", 20, "--off-type", 9)["identity"] == "unknown"
    out = ("--design", "packet", "--label-stock", "a4-3x8", "-o", tmp_path / "x.pdf")
    for call in (("pack", LEEK, "--packets", 1, "--seeds", 9, *out), ("labels", "--lots", LEEK, *out)):
        called = hilum(*call)
        assert (called.code, "is unknown" in called.err) == (2, True)
    assert not (tmp_path / "x.pdf").exists()
    assert document("show", LEEK)["grow_outs"][0]["off_type"] == 9


def test_lots_are_mixed_and_poured_together(library: Path):
    """`--try` writes nothing; the shares come with the answer; a bad amount is one line."""
    numbers = [lot["lot"] for lot in document("lots", "--crop", "tomato")["lots"]]
    parts = [f"{numbers[0]}=1g", f"{numbers[1]}=1 g"]
    before = everything_in(library)
    tried = document("mix", *parts, "--name", "Two tomatoes", "--try")
    assert (tried["lot"], tried["amount"]) == (None, 2_000)
    assert everything_in(library) == before
    made = document("mix", *parts, "--name", "Two tomatoes")
    assert [each["share_percent"] for each in made["components"]] == [50.0, 50.0]
    assert document("show", made["lot"])["made_as"] == "mixed"
    assert "Made of" in hilum("show", made["lot"]).out
    for call in (
        ("pour-together", *numbers),
        ("mix", f"{numbers[0]}=1", numbers[1], "--name", "x"),
        ("mix", f"{numbers[0]}=-1g", numbers[1], "--name", "x"),
    ):
        assert hilum(*call).code == 2


def test_lots_are_sorted_by_place_and_by_state(library: Path):
    """Lots without a place come last."""
    places = [lot["place_grown"] for lot in document("lots", "--sort", "place")["lots"]]
    known = [place for place in places if place is not None]
    assert known == sorted(known, key=str.casefold)
    assert places[: len(known)] == known
    states = [lot["state"] for lot in document("lots", "--sort", "state")["lots"]]
    assert states == sorted(states)
