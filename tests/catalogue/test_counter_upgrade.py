"""The step that brings the counter to a catalogue which had none: everything stays, and the guards are there."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from hilum.catalogue import handouts, steps
from hilum.catalogue.checking import check
from hilum.catalogue.crops import fill_crops
from hilum.catalogue.engines import make_engine
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Catalogue, place, revision_of, shown
from hilum.catalogue.upgrading import STEPS, create, newest_revision, upgrade
from tests.catalogue.builders import A_DAY, TickingClock, a_lot, stock_of


@pytest.fixture
def before(where: str | Path, tmp_path: Path) -> Iterator[Catalogue]:
    """Give a catalogue as it was made before there was a counter."""
    folder = tmp_path / "first steps"
    shutil.copytree(STEPS, folder, ignore=shutil.ignore_patterns("__pycache__"))
    for step in (folder / "versions").glob("0*.py"):
        if step.name >= "0005":
            step.unlink()
    url = place(where)
    with Catalogue(make_engine(url, 10), shown(url), TickingClock()) as catalogue:
        create(catalogue, fill=fill_crops, steps=folder)
        yield catalogue


def test_packets_of_before_are_handed_out_after_the_step(before: Catalogue) -> None:
    """Lots, stock and batches are what they were; hand-outs begin, guarded by the database itself."""
    lot_id = a_lot(before)
    with before.job("pack") as job:
        batch = steps.add_batch(job, lot_id, A_DAY, packets=8, seeds_per_packet=40, fill_mg=100)
        move(job, lot_id, "packed", -800, on=A_DAY, batch_id=batch)
    upgrade(before, "0001")
    with before.look() as connection:
        assert revision_of(connection) == newest_revision()
        assert [shelf.packets_left for shelf in handouts.shelf_of(connection, lot_id)] == [8]
    assert stock_of(before, lot_id) == 19_200
    with before.job("hand out") as job:
        handouts.give(job, batch, 3, on=A_DAY)
    with pytest.raises(IntegrityError, match="never changed"), before.engine.begin() as connection:
        connection.execute(text("DELETE FROM hand_out"))
    assert check(before) == ()
