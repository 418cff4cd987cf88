"""Season's lists and packings that are taken back, on both engines."""

from datetime import date

import pytest

from hilum.catalogue import ledger, season, steps
from hilum.catalogue.history import change
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.records import packet_batch
from hilum.catalogue.taking_back import take_back
from hilum.errors import KeeperError
from tests.catalogue.builders import A_DAY, a_lot


def packed_row(catalogue: Catalogue) -> tuple[str, int, int]:
    """Put a lot on a list and pack two packets of 100 mg for it; gives job, list and batch."""
    lot_id = a_lot(catalogue)
    with catalogue.job("begin") as job:
        list_id = season.make_list(job, "Spring", A_DAY)
        row_id = season.add_row(job, list_id, {"lot_id": lot_id, "seeds_per_packet": 40, "packets": 5})
    with catalogue.job("pack it") as job:
        batch = steps.add_batch(job, lot_id, A_DAY, packets=2, seeds_per_packet=40, fill_mg=100)
        ledger.move(job, lot_id, "packed", -200, on=A_DAY, batch_id=batch)
        season.note_batch(job, row_id, batch)
        return job.id, list_id, batch


def test_a_row_counts_its_packets_until_they_are_taken_back(catalogue: Catalogue) -> None:
    """Two of five; none again after taking back, and the stock is whole."""
    packing, list_id, _ = packed_row(catalogue)
    with catalogue.look() as connection:
        [row] = season.rows_of(connection, list_id)
        assert (row.packed, row.packets, row.by_germination) == (2, 5, False)
    with catalogue.job("take back") as job:
        what, touched = take_back(job, packing)
    assert (what, touched) == ("pack it", (row.lot_id,))
    with catalogue.look() as connection:
        [row] = season.rows_of(connection, list_id)
        assert row.packed == 0
        assert steps.batches_of(connection, row.lot_id) == ()
        [one] = season.season_lists(connection)
        assert (one.name, one.rows) == ("Spring", 1)


def test_packets_that_were_handed_out_cannot_be_poured_back(catalogue: Catalogue) -> None:
    """Refused with the number, and the stock stays as it is."""
    packing, list_id, batch = packed_row(catalogue)
    with catalogue.job("hand out") as job:
        change(job, packet_batch, batch, {"packets_left": 1})
    with pytest.raises(KeeperError, match="1 of its 2 packets"), catalogue.job("take back") as job:
        take_back(job, packing)
    with catalogue.look() as connection:
        assert season.rows_of(connection, list_id)[0].packed == 2


def test_the_newest_spoon_counts(catalogue: Catalogue) -> None:
    """A spoon counted again stands before the older one."""
    lot_id = a_lot(catalogue)
    with catalogue.job("count spoons") as job:
        season.add_spoon(job, lot_id, "brass", 100, date(2026, 1, 1))
        season.add_spoon(job, lot_id, "tin", 300, date(2026, 2, 1))
    with catalogue.look() as connection:
        assert season.spoons(connection)[lot_id].name == "tin"
        assert season.spoons(connection, lot_id + 1) == {}
