"""`hilum reckon`: every sum as a shell calls it, its keys for scripts, and what it refuses."""

import json
from typing import Any

import pytest

from hilum.benches.reckoning import all_sums
from tests.commands.calling import hilum

RICE = "constants=8.242,4.345,0.0307,0.000501"
# A call of every sum, what comes out as `result`, and named outputs that scripts rely on.
CALLS: list[tuple[str, Any, dict[str, Any]]] = [
    (
        "germination of=100 normal=86,88,84,90",
        87,
        {"germination_percent": 87, "tolerance": {"range": 6.0, "allowed": 13.0, "within": True}},
    ),
    ("tolerance of=100 normal=93,89,96,84", 11.0, {"range": 12.0, "allowed": 11.0, "within": False}),
    ("compare a=45/50 b=38/50", -14.0, {"a_percent": 90.0, "b_percent": 76.0, "real": False}),
    (
        "sequential standard=85 tested=40,80 germinated=35,71",
        "sow another group",
        {"regrow_at_most": 64, "keep_at_least": 76, "seeds_saved": 0},
    ),
    (
        "germination-speed days=3,5,7,10 counts=4,9,3,1 of=20",
        5.176470588,
        {"germinated": 17, "percent": 85.0},
    ),
    ("thousand-seed-weight seeds=100 grams=0.22,0.21,0.215", 2.15, {"shown": "2.150", "retest": False}),
    ("seeds-from-weight grams=3.75 tsw=2.132625", 1758, {"seeds": 1758}),
    ("packet-fill seeds=40 tsw=2.577", 0.11, {"fill_mg": 110, "seeds_wanted": 40}),
    ("packet-fill seeds=40 tsw=2.577 germination=80 viable=yes", 0.13, {"fill_mg": 130, "seeds_wanted": 50}),
    ("moisture container=20 wet=25 dry=24.6", 8.0, {"dry_basis": 8.695652174}),
    ("drying from=12 to=6 grams=100", 93.617021277, {"stop_at_g": 93.61, "water_g": 6.382978723}),
    ("equilibrium rh=13 c=25 oil=29", 3.877459, {"dry_basis": 4.03387}),
    (f"viability {RICE} initial=98 moisture=10 c=5 days=365", 97.64797, {"days": 365.0}),
    (f"viability {RICE} initial=98 moisture=10 c=5 years=1", 97.64797, {"days": 365.0}),
    (f"storage-time {RICE} initial=98 final=95 moisture=10 c=5", 2200.833, {"years": 6.02968}),
    (f"storage-time {RICE} initial=100 seeds=50 final=95 moisture=10 c=5", 5010.872, {}),
    (f"sigma {RICE} moisture=10 c=5", 5382.388, {"years": 14.74627}),
    (f"half-life {RICE} initial=98 moisture=10 c=5", 11054.073, {"years": 30.28513}),
    (f"dryness-to-keep {RICE} initial=98 final=95 years=10 c=5", 8.900918143, {}),
    (f"cold-to-keep {RICE} initial=98 final=95 years=10 moisture=8", 10.2519997, {}),
    ("parents-worth seed=37,1,1,1", 1.166180758, {"plants": 4}),
    ("plants-for-allele frequency=0.05 chance=0.95", 59, {"plants_crossing": 30}),
    ("plants-for-allele frequency=5 chance=95", 59, {"plants_crossing": 30}),
    ("seeds-to-sow plants=20 germination=80 losses=25", 34, {"seeds_to_be_sure": 42}),
    ("effective-size plants=100,100,3,100", 11.00917431, {"diversity_kept_percent": 82.08957291666667}),
    ("check-character text=G123489654321", "Y", {"text": "G123489654321"}),
]


def shaped(expected: Any) -> Any:
    """Allow a number the rounding of its last printed figure."""
    return pytest.approx(expected, rel=2e-7) if isinstance(expected, float) else expected


@pytest.mark.parametrize(("call", "result", "outputs"), CALLS, ids=[call[0] for call in CALLS])
def test_a_sum_answers_a_script(call: str, result: Any, outputs: dict[str, Any]):
    """`result`, the named outputs and `source` stand in one document on standard output."""
    called = hilum("reckon", *call.split(), "--json")
    assert (called.code, called.err) == (0, "")
    found = called.document
    assert found["result"] == shaped(result)
    assert {name: found[name] for name in outputs} == {name: shaped(one) for name, one in outputs.items()}
    assert found["source"]


def test_every_sum_is_called_here():
    """No sum goes untried, and each gives the outputs that its description names."""
    called = {call.split()[0] for call, _, _ in CALLS}
    assert called == {one.name for one in all_sums()}
    for call, _, _ in CALLS:
        name, *inputs = call.split()
        document = hilum("reckon", name, *inputs, "--json").document
        [described] = [one for one in all_sums() if one.name == name]
        assert {each.name for each in described.outputs} <= set(document)


@pytest.mark.parametrize(("call", "result", "outputs"), CALLS, ids=[call[0] for call in CALLS])
def test_a_sum_answers_a_person(call: str, result: Any, outputs: dict[str, Any]):
    """A sentence first, the source last."""
    called = hilum("reckon", *call.split())
    assert called.code == 0
    lines = called.out.splitlines()
    assert lines[0].endswith(".")
    assert lines[-1].startswith("Source: ")


def test_reckon_alone_lists_the_sums_with_their_sources():
    """How each is written, the question it answers, and where it comes from."""
    called = hilum("reckon")
    assert called.code == 0
    for one in all_sums():
        assert one.written in called.out
        assert one.question in called.out
    assert called.out.count("Source: ") == len(all_sums())
    listed = json.loads(hilum("reckon", "--json").out)["sums"]
    assert [one["name"] for one in listed] == [one.name for one in all_sums()]
    assert all(one["source"] and one["question"] and one["inputs"] for one in listed)


def test_reckon_needs_no_catalogue(tmp_path):
    """A sum touches no catalogue, not even one that is not there."""
    called = hilum("reckon", "sigma", RICE, "moisture=10", "c=5", "--catalogue", tmp_path / "none.hilum")
    assert called.code == 0
    assert list(tmp_path.glob("*.hilum")) == []


def test_a_crop_is_answered_by_every_published_set():
    """Sets are kept apart: the middle one speaks, the others stand beside it with their sources."""
    found = hilum("reckon", "sigma", "crop=beetroot", "moisture=8", "c=15", "--json").document
    results = sorted(one["result"] for one in found["sets"])
    assert len(results) == 3
    assert found["result"] == results[1]
    assert (found["lowest"], found["highest"]) == (results[0], results[2])
    assert all(one["source"] for one in found["sets"])


def test_seed_drier_than_its_limit_counts_as_the_limit():
    """And the answer says so; the limit of a crop may lie below five percent."""
    found = hilum("reckon", "sigma", "crop=pea", "moisture=5.5", "c=10", "--json").document
    assert found["moisture_counted_percent_wb"] == 6.2
    assert any("counts as that limit" in note for note in found["notes"])
    oily = hilum("reckon", "sigma", "crop=sunflower", "moisture=4", "c=10", "--json").document
    assert oily["moisture_counted_percent_wb"] == 4.0


def test_speed_without_the_seeds_sown_gives_no_percentage():
    """What needs the seeds sown is null, with a note."""
    found = hilum("reckon", "germination-speed", "days=3,5", "counts=4,9", "--json").document
    assert found["percent"] is None
    assert found["mean_days"] == pytest.approx(57 / 13)
    assert "Without of=" in found["notes"][-1]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        ("sigma crop=onion moisture=8 c=95", "c=95 is out of range. Give temperature of the store: -20 to 90 °C"),
        ("sigma crop=onion moisture=8 c=-30", "-20 to 90 °C"),
        ("sigma crop=onion moisture=30 c=10", "to 25 %"),
        (f"sigma {RICE} moisture=4 c=10", "from 5 to 25 %"),
        (f"viability {RICE} initial=110 moisture=10 c=5 days=9", "initial=110 is out of range"),
        (f"viability {RICE} initial=110 moisture=10 c=5 days=9", "Give alive at the start: 0 to 100 %"),
        (f"viability {RICE} initial=100 moisture=10 c=5 days=9", "Give the number of seeds"),
        (f"viability {RICE} initial=98 moisture=10 c=5 days=-1", "0 to 1000000 days"),
        (f"viability {RICE} initial=98 moisture=10 c=5", "needs days= or years=, one of them"),
        (f"viability {RICE} crop=onion initial=98 moisture=10 c=5 days=1", "needs crop= or constants=, one of them"),
        ("viability constants=8,4,1 initial=98 moisture=10 c=5 days=1", "3 figures were given"),
        ("viability constants=8,-4 initial=98 moisture=10 c=5 days=1", "Give more than 0"),
        (f"storage-time {RICE} initial=90 final=95 moisture=10 c=5", "only loses life"),
        (f"half-life {RICE} initial=40 moisture=10 c=5", "half of the seed is dead already"),
        ("sigma crop=rocket moisture=8 c=10", "CW is below 2"),
        ("sigma crop=leek moisture=8 c=10", "It keeps usually 1 to 4 years"),
        ("sigma crop=wild-rice moisture=8 c=10", "recalcitrant"),
        ("sigma crop=carrott moisture=8 c=10", "Carrot"),
        ("dryness-to-keep crop=pea initial=95 final=94 years=200 c=25", "drying below that gains nothing"),
        ("dryness-to-keep crop=pea initial=95 final=90 years=0.01 c=5", "no longer holds"),
        ("dryness-to-keep crop=pea initial=85 final=90 years=5 c=5", "only loses life"),
        ("cold-to-keep crop=pea initial=95 final=94 years=900 moisture=12", "more cold than -20"),
        ("parents-worth seed=0,0", "more than 0 from one at least"),
        ("effective-size plants=20,0", "plants=0 is out of range"),
        ("equilibrium rh=115 c=25 oil=29", "Give relative humidity of the air: 0 or more and less than 100 %"),
        ("equilibrium rh=13 c=25 oil=125", "oil=125 is out of range"),
        ("moisture container=20 wet=25", "still needs dry= (container and seed after drying)"),
        ("moisture container=20 wet=25 dry=26", "the wet seed most"),
        ("drying from=6 to=12 grams=100", "is wetting, not drying"),
        ("seeds-from-weight grams=3,75 tsw=2", "Decimals are written with a dot"),
        ("seeds-from-weight grams=3.75 tsw=0", "0.0001 to 100000 g"),
        ("compare a=45 b=38/50", "is no tally. Write germinated/sown, for instance 45/50"),
        ("compare a=51/50 b=38/50", "51 of 50 seeds cannot have germinated"),
        ("sequential standard=85 tested=40,80 germinated=35,30", "cannot follow"),
        ("sequential standard=100 tested=40 germinated=35", "more than 0 and less than 100 %"),
        ("germination-speed days=3,5 counts=4,9 of=10", "not running totals"),
        ("germination of=50 normal=51", "only 50 were sown"),
        ("plants-for-allele frequency=0 chance=95", "frequency=0 is out of range"),
        ("packet-fill seeds=40 tsw=2.5 viable=perhaps", "say yes or no"),
        ("packet-fill seeds=40 tsw=2.5 viable=yes", "a germination figure is needed"),
        ("seeds-to-sow plants=x germination=80", "plants=x is no whole number"),
        ("seeds-to-sow plants=5 germination=80 rain=2", "takes no “rain”. Its inputs are plants, germination, losses"),
        ("seeds-to-sow plants=5 plants=6 germination=80", "plants= stands there twice"),
        ("seeds-to-sow 5", "is not of the form key=value"),
        ("seeds-to-sow plants= germination=80", "plants= is empty"),
        ("sigmaa", "Is sigma meant?"),
        ("forecasting", "There are: germination, tolerance"),
        ("check-character text=LEK%25", "letters A-Z and digits only"),
        ("check-character text=--", "text=-- holds no letter and no digit"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_naming_the_range(call: str, words: str):
    """Exit 2, nothing on standard output, one line that says what to give."""
    called = hilum("reckon", *call.split(), "--json")
    assert (called.code, called.out) == (2, "")
    assert words in called.err
    assert called.err.count("\n") <= 2
