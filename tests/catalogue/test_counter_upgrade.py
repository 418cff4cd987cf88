"""The step that brings the counter to a catalogue which had none: everything stays, and the guards are there."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from hilum.catalogue import handouts
from hilum.catalogue.checking import check
from hilum.catalogue.opening import Catalogue, open_catalogue
from tests.catalogue.builders import A_DAY, TickingClock, put_stored


@pytest.fixture
def stored(where: str | Path) -> Iterator[Catalogue]:
    """Give the catalogue that was stored before there was a counter, brought up by opening it."""
    put_stored(where, "0001")
    with open_catalogue(where, clock=TickingClock()) as catalogue:
        yield catalogue


def test_packets_of_before_are_handed_out_after_the_step(stored: Catalogue) -> None:
    """The batch of four packets stands on the shelf; hand-outs begin, guarded by the database itself."""
    with stored.look() as connection:
        batch_id, lot_id = connection.execute(text("SELECT id, lot_id FROM packet_batch")).one()
        assert [shelf.packets_left for shelf in handouts.shelf_of(connection, lot_id)] == [4]
    with stored.job("hand out") as job:
        handouts.give(job, batch_id, 3, on=A_DAY)
    with pytest.raises(IntegrityError, match="never changed"), stored.engine.begin() as connection:
        connection.execute(text("DELETE FROM hand_out"))
    assert check(stored) == ()
