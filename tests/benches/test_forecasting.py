"""The forecast of one lot, from what the catalogue knows of it."""

from datetime import date

import pytest

from hilum.benches import forecasting, keeping, lots, preparing, reference, store, testing
from hilum.errors import BadInput
from tests.benches.conftest import LEEK, TODAY, clock, take_in


def stored_leek(catalogue, celsius: float) -> str:
    """Take in, dry, seal and store a leek at a temperature."""
    [number] = take_in(catalogue, LEEK)
    preparing.dry(
        catalogue, number, on=date(2025, 10, 14), evidence="moisture reading", value=6.0, sealed=True
    )
    room = store.add_store_place(catalogue, name=f"at {celsius}", kind="room", temperature_c=celsius)
    store.move_lot(catalogue, number, room.id, on=date(2025, 10, 15), container="jar", airtight=True)
    return number


def test_a_lot_without_tests_is_forecast_from_its_crop_and_says_so(catalogue):
    """The band is wide, the sentence says that nothing was tested."""
    [number] = take_in(catalogue, LEEK)
    _, found = forecasting.lot_forecast(catalogue, number, on=TODAY)
    assert found.interval_90[1] - found.interval_90[0] > 15
    assert found.why.startswith("Never tested")
    assert len(found.curve) == 11


def test_a_test_narrows_the_band_and_moves_the_figure(catalogue):
    """350 of 400 seeds are better evidence than a crop's constants."""
    number = stored_leek(catalogue, 16)
    _, before = forecasting.lot_forecast(catalogue, number, on=TODAY)
    testing.record_test(catalogue, number, on=TODAY, seeds=[100], counts={"normal": [88, 87, 88, 87]})
    _, after = forecasting.lot_forecast(catalogue, number, on=TODAY)
    assert after.interval_90[1] - after.interval_90[0] < before.interval_90[1] - before.interval_90[0]
    assert 80 < after.now_percent < 95


def test_a_warmer_store_never_promises_more(tmp_path):
    """The same lot at 5 and at 25 °C, sealed at 6 % moisture, ten years on."""
    ends = []
    for celsius in (5, 25):
        with keeping.make(tmp_path / f"{celsius}.hilum", clock=clock) as one:
            _, found = forecasting.lot_forecast(one, stored_leek(one, celsius), on=TODAY)
            ends.append(found.curve[-1].percent)
    assert ends[0] > ends[1]


def test_the_due_date_follows_the_forecast_and_a_move_to_the_warm_brings_it_forward(catalogue):
    """After a test the forecast sets the date; it is worked out anew when the lot is moved."""
    number = stored_leek(catalogue, 5)
    done = testing.record_test(
        catalogue, number, on=date(2026, 1, 10), seeds=[100], counts={"normal": [90, 91, 89, 90]}
    )
    assert "the forecast of its viability" in done.lot.line.due_why
    loft = store.add_store_place(catalogue, name="Loft", kind="room", temperature_c=32)
    moved = store.move_lot(
        catalogue, number, loft.id, on=date(2026, 2, 1), container="paper bag", airtight=False
    )
    assert moved.line.due_on < done.lot.line.due_on
    assert keeping.check(catalogue).findings == ()


def test_seed_that_cannot_be_dried_has_no_forecast(catalogue):
    """Chayote is recalcitrant: there is a reason, and no figure."""
    [number] = take_in(catalogue, "Chayote | Hill Green | 2025 | 200 g | | | 2025-10-04")
    _, found = forecasting.lot_forecast(catalogue, number, on=TODAY)
    assert found.is_refused
    assert "recalcitrant" in found.why
    assert forecasting.forecast_as_json(found)["now_percent"] is None


def test_a_crop_of_the_librarys_own_has_no_forecast_and_says_why(catalogue):
    """Nothing published is known of it."""
    [number] = take_in(catalogue, LEEK)
    own = reference.add_crop(catalogue, "Unicorn root")
    [variety] = reference.varieties(catalogue)
    reference.choose_group(catalogue, variety.id, own.line.key)
    _, found = forecasting.lot_forecast(catalogue, number, on=TODAY)
    assert "Unicorn root is not in the table of crops" in found.why
    assert lots.lot_view(catalogue, number).line.crop == "Unicorn root"


def test_years_out_of_range_are_refused(catalogue):
    """A century is enough."""
    [number] = take_in(catalogue, LEEK)
    with pytest.raises(BadInput, match="0 to 100 years"):
        forecasting.lot_forecast(catalogue, number, on=TODAY, years=101)
