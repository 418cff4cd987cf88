"""A catalogue moves whole: from a file to a server and back, every row compared, and goes on working there."""

from datetime import date
from pathlib import Path

import pytest

from hilum.benches import intake, keeping, lots, moving, store
from hilum.benches.keeping import Catalogue
from hilum.catalogue.moving import count_all
from hilum.errors import KeeperError
from tests.benches.conftest import TODAY, clock
from tests.catalogue.builders import put_stored

LOT = "BNB-26-001-Z"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a small library with every kind of row, as an earlier version stored it, brought up to date."""
    file = tmp_path_factory.mktemp("demo") / "library.hilum"
    put_stored(file, "0001")
    with keeping.open_at(file, clock=clock) as opened:
        room = store.add_store_place(opened, name="Room", kind="room", temperature_c=9)
        box = store.add_store_place(opened, name="Box", kind="box")
        # A place that lies in one made after it.
        store.move_place(opened, 1, box.id, on=TODAY)
        store.move_place(opened, box.id, room.id, on=TODAY)
    designs = file.with_name("library label designs")
    designs.mkdir()
    (designs / "ours.toml").write_text("title = 'Ours'\n", "utf-8")
    return file


def rows(catalogue: Catalogue) -> dict[str, int]:
    with catalogue.look() as connection:
        return count_all(connection)


@pytest.mark.postgresql
def test_from_a_file_to_a_server_and_back(demo: Path, postgresql_url: str, tmp_path: Path) -> None:
    """Same counts, same sums, same history on both; work goes on at each, and the check finds nothing."""
    reached: list[tuple[int, int]] = []
    with keeping.open_at(demo, clock=clock) as first:
        there = moving.copy_whole(
            first, postgresql_url, clock=clock, progress=lambda at, of: reached.append((at, of))
        )
        before = rows(first)
        story = lots.lot_story(first, LOT)
    assert there.rows == before
    assert reached[-1][0] == reached[-1][1] == 2 * sum(before.values())
    with keeping.open_at(postgresql_url, clock=clock) as server:
        assert rows(server) == before
        assert keeping.check(server).ok
        assert lots.lot_story(server, LOT).movements == story.movements
        drawn = lots.draw(server, LOT, "sown", on=TODAY, mass_mg=1_000)
        plan = intake.plan_rows(server, [("Leek", "Late One", "2026", "3 g")], today=TODAY)
        assert len(intake.take_in(server, plan).accepted) == 1
        back = moving.copy_whole(server, tmp_path / "back.hilum", clock=clock)
        after = rows(server)
    with keeping.open_at(tmp_path / "back.hilum", clock=clock) as again:
        assert back.rows == rows(again) == after
        assert keeping.check(again).ok
        assert lots.lot_view(again, LOT).line.stock == drawn.line.stock
        assert lots.find_lots(again, lots.LotFilter(words="late one"), on=date(2026, 11, 25)).total == 1


def test_own_designs_go_along_and_a_place_that_is_taken_is_refused(demo: Path, tmp_path: Path) -> None:
    """The copy stands beside its own folder; a second copy to the same name changes nothing."""
    with keeping.open_at(demo, clock=clock) as first:
        made = moving.copy_whole(first, tmp_path / "second.hilum", clock=clock)
        assert made.designs == 1
        assert (tmp_path / "second label designs" / "ours.toml").exists()
        with pytest.raises(KeeperError, match="already exists"):
            moving.copy_whole(first, tmp_path / "second.hilum", clock=clock)


def test_a_stopped_copy_leaves_nothing_behind(demo: Path, tmp_path: Path) -> None:
    """No file, no half catalogue."""
    with keeping.open_at(demo, clock=clock) as first, pytest.raises(moving.MovingStopped):
        moving.copy_whole(first, tmp_path / "half.hilum", clock=clock, stop=lambda: True)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.postgresql
def test_a_stopped_copy_leaves_the_database_empty(demo: Path, postgresql_url: str) -> None:
    """So that it can be used for the next try."""
    with keeping.open_at(demo, clock=clock) as first:
        with pytest.raises(moving.MovingStopped):
            moving.copy_whole(first, postgresql_url, clock=clock, stop=lambda: True)
        assert moving.copy_whole(first, postgresql_url, clock=clock).lots > 0
