"""The guard before the freezer: seed frozen wet dies."""

from datetime import date, timedelta

import pytest

from hilum.seedlore.cautions import WORKS, work_cautions
from hilum.seedlore.crops import all_crops, crop
from hilum.seedlore.moisture import (
    EVIDENCE_KINDS,
    DrynessError,
    DrynessEvidence,
    FreezeJudgement,
    freezing_allowed,
    freezing_limit_percent_wb,
)

DAY = date(2026, 1, 12)


def reading(percent: float, days_before: int = 1, sealed: bool = False) -> DrynessEvidence:
    return DrynessEvidence("moisture reading", DAY - timedelta(days_before), percent, sealed=sealed)


def snap(passed: bool = True, days_before: int = 1) -> DrynessEvidence:
    return DrynessEvidence("snap test", DAY - timedelta(days_before), passed=passed)


def judged(
    *evidence: DrynessEvidence, oily: bool | None = False, behaviour: str = "orthodox"
) -> FreezeJudgement:
    return freezing_allowed(behaviour, oily, evidence, DAY)


@pytest.mark.parametrize(
    ("percent", "oily", "allowed"),
    [(8.0, False, True), (8.1, False, False), (5.0, True, True), (5.1, True, False), (5.1, None, False)],
)
def test_a_moisture_reading_is_held_against_the_limit(percent: float, oily: bool | None, allowed: bool):
    """8 % for seed that is not oily, 5 % for oily seed and where it is not known."""
    found = judged(reading(percent), oily=oily)
    assert found.allowed is allowed
    assert found.limit_percent == freezing_limit_percent_wb(oily)


def test_the_limit_says_which_it_is_and_where_it_comes_from():
    """A keeper can see why the careful one was taken."""
    refused = judged(reading(6), oily=None)
    assert refused.why == (
        "Do not freeze: 6 % moisture on 2026-01-11 is more than 5 % of fresh weight, the limit for oily seed, since "
        "it is not known whether this seed is oily. Seed frozen wet dies. Dry it on, and test again."
    )
    assert "Cromarty" in refused.source
    assert "from memory" in judged(reading(6)).source


@pytest.mark.parametrize(("humidity", "allowed"), [(25, True), (25.5, False)])
def test_jar_humidity_serves_for_oily_seed_too(humidity: float, allowed: bool):
    """Air and seed come to one balance whatever the oil."""
    found = judged(DrynessEvidence("jar humidity", DAY, humidity), oily=True)
    assert found.allowed is allowed
    assert "Center for Plant Conservation" in found.source


def test_without_evidence_seed_is_not_frozen():
    """The message says what would do."""
    found = judged()
    assert not found.allowed
    assert found.why.startswith("Do not freeze: there is no evidence that the seed is dry.")
    for way in ("moisture reading", "jar humidity", "snaps", "weight no longer changes"):
        assert way in found.why


def test_old_evidence_counts_only_for_sealed_seed():
    """Seed in open air takes up water again."""
    assert judged(reading(6, days_before=7)).allowed
    stale = judged(reading(6, days_before=8))
    assert not stale.allowed
    assert "of 2026-01-04, is older than 7 days and the seed was not sealed since" in stale.why
    assert judged(reading(6, days_before=300, sealed=True)).allowed


def test_evidence_of_tomorrow_is_no_evidence():
    """It must be dated on or before the day of freezing."""
    found = judged(reading(6, days_before=-1))
    assert not found.allowed
    assert "dated after 2026-01-12" in found.why


def test_the_latest_evidence_decides():
    """Dry last week and damp yesterday is damp; the other way round is dry."""
    assert not judged(reading(6, days_before=5), reading(11, days_before=1)).allowed
    assert judged(reading(11, days_before=5), reading(6, days_before=1)).allowed


def test_on_one_day_a_figure_goes_before_a_test_by_hand_and_damp_before_dry():
    """In whichever order they were recorded."""
    for evidence in ([snap(), reading(11)], [reading(11), snap()]):
        assert not judged(*evidence).allowed
    assert judged(snap(passed=False), reading(6)).allowed
    assert not judged(snap(passed=False), snap()).allowed
    assert not judged(reading(6), reading(11)).allowed


def test_snap_test_and_constant_weight_are_taken_and_say_what_they_are_worth():
    """Common practice, with a better way named."""
    assert judged(snap()).why.endswith("A jar humidity of at most 25 % is surer.")
    steady = judged(DrynessEvidence("constant weight", DAY))
    assert steady.allowed
    assert "only that it is as dry as the air it lay in" in steady.why
    assert steady.source == "common practice, no source"
    assert not judged(snap(passed=False)).allowed
    assert not judged(DrynessEvidence("constant weight", DAY, passed=False)).allowed


def test_constant_weight_in_damp_air_is_no_dryness():
    """Where the humidity of the air is given it counts."""
    assert not judged(DrynessEvidence("constant weight", DAY, 55)).allowed
    assert judged(DrynessEvidence("constant weight", DAY, 20)).allowed


@pytest.mark.parametrize("key", [one.key for one in all_crops() if one.seed_behaviour != "orthodox"])
def test_seed_that_does_not_bear_it_is_refused_however_dry(key: str):
    """Chayote, wild rice, pawpaw, papaya."""
    one = crop(key)
    found = judged(reading(3), oily=one.oily, behaviour=one.seed_behaviour)
    assert not found.allowed
    assert found.limit_percent is None
    assert one.seed_behaviour in found.why


@pytest.mark.parametrize(
    ("kind", "value", "words"),
    [
        ("moisture reading", None, "needs its figure"),
        ("jar humidity", None, "needs its figure"),
        ("snap test", 5, "has no figure"),
        ("jar humidity", 101, "Give 0 to 100"),
        ("moisture reading", -1, "Give 0 to 100"),
        ("looked dry", None, "is no evidence of dryness. There are: moisture reading"),
    ],
)
def test_evidence_that_cannot_be_is_refused(kind: str, value: float | None, words: str):
    """When it is recorded, not when it is needed."""
    with pytest.raises(DrynessError, match=words):
        DrynessEvidence(kind, DAY, value)


def test_there_are_four_kinds_of_evidence():
    """Reading, jar, weight, snap."""
    assert len(EVIDENCE_KINDS) == 4


@pytest.mark.parametrize("work", WORKS)
def test_every_work_has_its_cautions_with_a_source(work: str):
    """Short enough to stand beside the work."""
    found = work_cautions(work)
    assert found
    assert all(len(one.words) <= 140 and one.source for one in found)
