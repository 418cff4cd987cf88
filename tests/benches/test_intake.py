"""Taking in: what is already here, what is asked, and that nothing goes in by halves."""

from datetime import date
from pathlib import Path

import pytest

from hilum.benches import intake, keeping, lots
from hilum.benches.lots import LotFilter
from tests.benches.conftest import LEEK, TODAY, take_in

DATA = Path(__file__).parents[1] / "data"


def test_the_tidy_list_becomes_thirty_lots(catalogue):
    """Every row of the autumn list is a lot, with its own number, and the books add up."""
    done = intake.take_in(catalogue, intake.plan_file(catalogue, DATA / "autumn_intake.csv", today=TODAY))
    assert [accepted.row for accepted in done.accepted] == list(range(2, 32))
    assert done.refused == ()
    assert len({accepted.lot for accepted in done.accepted}) == 30
    assert keeping.check(catalogue).findings == ()


def test_the_untidy_list_is_taken_in_where_it_can_be_understood(catalogue):
    """After the autumn list, the swap table gives five lots; every other row is refused with its reason."""
    intake.take_in(catalogue, intake.plan_file(catalogue, DATA / "autumn_intake.csv", today=TODAY))
    plan = intake.plan_file(catalogue, DATA / "swap_table_cp1252.csv", today=TODAY)
    done = intake.take_in(catalogue, plan)
    assert [accepted.row for accepted in done.accepted] == [4, 8, 13, 15, 16]
    reasons = {refusal.row: refusal.why for refusal in done.refused}
    assert sorted(reasons) == [2, 3, 5, 7, 10, 11, 12, 14, 17]
    assert "Already here as lot CAR-25-" in reasons[11]
    assert "Lettuce" in reasons[2]
    assert "1200 g or 1.2 g" in reasons[17]
    assert [skipped.row for skipped in plan.reading.skipped] == [6, 9]


def test_ounces_and_kilograms_go_in_as_whole_milligrams(catalogue):
    """2 oz is 56.699 g (international avoirdupois ounce of 28.349523125 g) and 0,35 kg is 350 g."""
    intake.take_in(catalogue, intake.plan_file(catalogue, DATA / "swap_table_cp1252.csv", today=TODAY))
    found = lots.find_lots(catalogue, LotFilter(words="sexton"), on=TODAY).lots
    assert [shown.stock_mg for shown in found] == [56_699]
    found = lots.find_lots(catalogue, LotFilter(words="sparrow egg"), on=TODAY).lots
    assert [shown.stock_mg for shown in found] == [350_000]


def test_the_same_list_twice_doubles_nothing(catalogue):
    """Every row of the second time is pointed out with the lot it already is."""
    for _ in range(2):
        done = intake.take_in(catalogue, intake.plan_file(catalogue, DATA / "autumn_intake.csv", today=TODAY))
    assert done.accepted == ()
    assert len(done.refused) == 30
    assert all("Already here as lot" in refusal.why for refusal in done.refused)
    assert keeping.counted_lots(catalogue) == 30


def test_the_same_but_for_the_quantity_is_asked(catalogue):
    """Another weight of the same harvest may be a second bag: it goes in only when the keeper says so."""
    take_in(catalogue, LEEK)
    row = ("Leek", "Fenlock Grey", "2025", "12 g", "Ashmere plot 14", "Marit", "2025-10-04", "", "", "")
    plan = intake.plan_rows(catalogue, [row], today=TODAY)
    assert [planned.status for planned in plan.rows] == ["ask"]
    assert "12 g, 2025-10-04 here; 38.5 g, 2025-10-04 there" in plan.rows[0].words
    assert intake.take_in(catalogue, plan).accepted == ()
    done = intake.take_in(catalogue, plan, anyway=frozenset({plan.rows[0].read.row}))
    assert len(done.accepted) == 1


def test_a_row_twice_in_one_list_is_one_lot(catalogue):
    """The second of two equal rows is refused, naming the first."""
    cells = (*(cell.strip() for cell in LEEK.split("|")), "", "", "")
    plan = intake.plan_rows(catalogue, [cells, cells], today=TODAY)
    assert [planned.status for planned in plan.rows] == ["new", "already here"]
    assert "row" in plan.rows[1].words


def test_a_missing_weight_is_unknown_and_not_nought(catalogue):
    """The lot waits to be weighed; its stock is None."""
    [number] = take_in(catalogue, "Radish | Glass Plum | 2024 | | Tunnel 2 | Oduya | 2024-08-22")
    shown = lots.lot_view(catalogue, number)
    assert (shown.line.stock, shown.stock_mg, shown.stock_seeds) == (None, None, None)
    assert shown.line.state == "to be weighed"


def test_a_botanical_name_of_several_groups_leaves_the_group_open(catalogue, tmp_path):
    """Brassica oleracea alone is taken in; its group is chosen later and the lot keeps its number."""
    from hilum.benches import reference

    file = tmp_path / "list.csv"
    file.write_text(
        "Botanical name,Variety,Year,Weight\nBrassica oleracea,Storm Lid,2025,12 g\n", encoding="utf-8"
    )
    done = intake.take_in(catalogue, intake.plan_file(catalogue, file, today=TODAY))
    [accepted] = done.accepted
    shown = lots.lot_view(catalogue, accepted.lot)
    assert shown.line.crop == "Brassica oleracea, group open"
    [variety] = reference.varieties(catalogue, words="Storm Lid")
    reference.choose_group(catalogue, variety.id, "cabbage")
    assert lots.lot_view(catalogue, accepted.lot).line.crop == "Cabbage"


def test_a_failure_in_the_middle_takes_in_nothing(catalogue, monkeypatch):
    """When the books refuse the last row the first ones are not there either."""
    cells = [
        ("Leek", "One", "2025", "5 g", "", "", "2025-10-04", "", "", ""),
        ("Leek", "Two", "2025", "5 g", "", "", "2025-10-04", "", "", ""),
    ]
    plan = intake.plan_rows(catalogue, cells, today=TODAY)
    with catalogue.engine.connect() as raw, raw.begin():
        raw.exec_driver_sql(
            "CREATE TRIGGER stop BEFORE INSERT ON variety WHEN NEW.name = 'Two' BEGIN SELECT RAISE(ABORT, 'stop'); END"
        )
    with pytest.raises(Exception, match="stop"):
        intake.take_in(catalogue, plan)
    assert keeping.counted_lots(catalogue) == 0


def test_type_ahead_offers_crops_varieties_and_people(catalogue):
    """What begins with the typed letters comes first, in the language of the library."""
    take_in(catalogue, LEEK)
    assert "Leek" in intake.suggest(catalogue, "Crop", "lee")
    assert intake.suggest(catalogue, "Variety", "fen", crop="Leek") == ("Fenlock Grey",)
    assert intake.suggest(catalogue, "Grower", "mar") == ("Marit",)
    assert intake.suggest(catalogue, "Place grown", "plot") == ("Ashmere plot 14",)


def test_a_date_in_the_future_is_refused(catalogue):
    """A lot cannot have come in after today."""
    row = ("Leek", "Fenlock Grey", "2025", "12 g", "", "", "2027-01-04", "", "", "")
    plan = intake.plan_rows(catalogue, [row], today=date(2026, 11, 25))
    assert plan.rows == ()
    assert "future" in plan.refused[0].why
