"""Counter: every scan written at once and taken back at once; holds, last packets and the reserve guarded."""

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from hilum.benches import (
    counter,
    counts,
    keeping,
    lots,
    packing,
    people,
    recall,
    returns,
    school_list,
)
from hilum.benches.counter import Occasion, ReasonWanted
from hilum.benches.keeping import Catalogue
from hilum.errors import BadInput, KeeperError
from hilum.exchange.tables import read_table
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, SQUASH, TODAY, clock, take_in

SWAP = Occasion("Spring swap", "swap day")
SCHOOL = Occasion("Hollin Road School", "school")


@pytest.fixture(params=["file", pytest.param("server", marks=pytest.mark.postgresql)])
def catalogue(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue in a file, then one on a server."""
    server = request.param == "server"
    where = request.getfixturevalue("postgresql_url") if server else tmp_path / "library.hilum"
    with keeping.make(where, clock=clock) as opened:
        yield opened


@pytest.fixture
def file_catalogue(tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue in a file, for what is done with files."""
    with keeping.make(tmp_path / "library.hilum", clock=clock) as opened:
        yield opened


def packed(catalogue: Catalogue, row: str = LEEK, packets: int = 12, seeds: int = 40) -> str:
    """Take in a lot and pack some of it; gives its number."""
    [number] = take_in(catalogue, row)
    with catalogue.job("pack") as job:
        lot_id = packing.resolve_lot(job.connection, number)
        packing.book_packets(job, lot_id, packets=packets, seeds=seeds, on=TODAY)
    return number


def test_a_scan_is_written_at_once_and_read_by_another_desk(catalogue: Catalogue) -> None:
    """What was scanned is in the file before the next scan: nothing is lost when the power fails."""
    leek = packed(catalogue)
    given = counter.hand_out(
        catalogue, leek.replace("-", "").lower(), on=TODAY, occasion=SWAP, to="Ada Quill"
    )
    assert (given.packets, given.packets_left) == (1, 11)
    with keeping.open_at(where_of(catalogue), clock=clock) as other:
        [out] = counter.out_today(other, on=TODAY)
    assert (out.line.lot, out.line.event, out.to, out.taken_back) == (leek, "Spring swap", "Ada Quill", False)


def test_the_stock_is_not_drawn_again(catalogue: Catalogue) -> None:
    """Packing took the seed; handing its packets out leaves the lot's stock as it is."""
    leek = packed(catalogue)
    before = lots.lot_view(catalogue, leek).line.stock
    counter.hand_out(catalogue, leek, on=TODAY, packets=3)
    assert lots.lot_view(catalogue, leek).line.stock == before
    assert keeping.check(catalogue).ok


def test_the_oldest_batch_goes_first_and_one_hand_out_may_take_from_two(catalogue: Catalogue) -> None:
    """Five packets out of three old and twelve new ones: the old batch is emptied, two come of the new."""
    leek = packed(catalogue, packets=3)
    with catalogue.job("pack more") as job:
        lot_id = packing.resolve_lot(job.connection, leek)
        packing.book_packets(job, lot_id, packets=12, seeds=40, on=TODAY)
    given = counter.hand_out(catalogue, leek, on=TODAY, packets=5)
    assert [batch.packets_left for batch in lots.lot_story(catalogue, leek).batches] == [0, 10]
    assert counter.take_back(catalogue, given.lines, on=TODAY) == 5
    assert [batch.packets_left for batch in lots.lot_story(catalogue, leek).batches] == [3, 12]


def test_more_than_is_left_is_refused_naming_what_there_is(catalogue: Catalogue) -> None:
    """The words say how many are left, and that nothing was done."""
    leek = packed(catalogue, packets=2)
    with pytest.raises(BadInput, match=r"only 2 packets left. Nothing was handed out"):
        counter.hand_out(catalogue, leek, on=TODAY, packets=3)
    assert counter.out_today(catalogue, on=TODAY) == ()


def test_a_wrong_scan_is_taken_back_and_stays_to_be_seen(catalogue: Catalogue) -> None:
    """The packet is on the shelf again; the line is shown as taken back; a second time is refused."""
    leek = packed(catalogue)
    given = counter.hand_out(catalogue, leek, on=TODAY)
    counter.take_back(catalogue, given.lines, on=TODAY)
    assert counter.packets_left(catalogue, leek) == 12
    assert [out.taken_back for out in counter.out_today(catalogue, on=TODAY)] == [True]
    with pytest.raises(BadInput, match="already been taken back"):
        counter.take_back(catalogue, given.lines, on=TODAY)


def test_a_hold_and_an_unknown_identity_bar_the_counter(catalogue: Catalogue) -> None:
    """Packets that are on the shelf already do not go out either."""
    leek, squash = (
        packed(catalogue),
        packed(catalogue, SQUASH.replace("40 seeds", "400 seeds"), packets=2, seeds=3),
    )
    lots.hold_lot(catalogue, leek, "disease", on=TODAY, note="rust")
    lots.change_lot(catalogue, squash, {"identity": "unknown"})
    with pytest.raises(BadInput, match=r"on hold since 2026-11-25: disease \(rust\)"):
        counter.hand_out(catalogue, leek, on=TODAY, why="asked for")
    with pytest.raises(BadInput, match=r"identity of lot .* is unknown"):
        counter.hand_out(catalogue, squash, on=TODAY, why="asked for")


def test_the_last_packet_wants_a_reason(catalogue: Catalogue) -> None:
    """Without a reason nothing is written; with one it is done and the reason is kept."""
    leek = packed(catalogue, packets=1)
    with pytest.raises(ReasonWanted, match="the last packet of lot"):
        counter.hand_out(catalogue, leek, on=TODAY)
    assert counter.out_today(catalogue, on=TODAY) == ()
    counter.hand_out(catalogue, leek, on=TODAY, why="to the sister library")
    assert counter.out_today(catalogue, on=TODAY)[0].line.why == "to the sister library"


def test_the_reserve_wants_a_reason(catalogue: Catalogue) -> None:
    """Loose seed and packets together would fall below what regrowing needs."""
    leek = packed(catalogue, packets=12)
    lots.draw(catalogue, leek, "discarded", on=TODAY, mass_mg=lots.lot_view(catalogue, leek).line.stock)
    with pytest.raises(ReasonWanted, match="its reserve is"):
        counter.hand_out(catalogue, leek, on=TODAY, packets=11)


def test_what_went_out_is_summed_and_a_school_is_not_named(catalogue: Catalogue, tmp_path: Path) -> None:
    """Taken back scans are left out; the CSV holds no school's name and no formula."""
    leek, onion = packed(catalogue), packed(catalogue, ONION)
    counter.hand_out(catalogue, leek, on=TODAY, packets=2, occasion=SWAP)
    counter.hand_out(catalogue, onion, on=TODAY, packets=3, occasion=SCHOOL, to="Class of Ms Reed")
    counter.hand_out(catalogue, onion, on=TODAY, occasion=Occasion("=1+1", "post", 2027))
    wrong = counter.hand_out(catalogue, leek, on=TODAY, occasion=SWAP)
    counter.take_back(catalogue, wrong.lines, on=TODAY)
    found = {
        (row.crop, row.season, row.event): (row.packets, row.seeds) for row in counter.went_out(catalogue)
    }
    assert found == {
        ("Leek", 2026, "Spring swap"): (2, 80),
        ("Onion", 2026, "a school"): (3, 120),
        ("Onion", 2027, "=1+1"): (1, 40),
    }
    assert {out.to for out in counter.out_today(catalogue, on=TODAY)} == {""}
    file = tmp_path / "out.csv"
    assert counter.went_out_csv(counter.went_out(catalogue), file) == 3
    text = file.read_text(encoding="utf-8-sig")
    assert not [name for name in ("Hollin", "Reed") if name in text]
    assert '"\'=1+1"' in text
    assert [row.season for row in counter.went_out(catalogue, season=2027)] == [2027]


def test_counts_come_back_as_one_job_with_bad_rows_refused(catalogue: Catalogue) -> None:
    """Good rows are taken, bad ones told by row; the same list again changes nothing and is told too."""
    leek, onion = packed(catalogue), packed(catalogue, ONION)
    rows = ((leek, "4"), ("", ""), (onion, "many"), ("LEK-99-001-A", "2"), (onion, "99"), (onion, "5"))
    done = counts.take_counts(catalogue, rows, SWAP, on=TODAY)
    assert [(row.row, row.lot, row.packets) for row in done.taken] == [(1, leek, 4), (6, onion, 5)]
    assert [row.row for row in done.refused] == [3, 4, 5]
    assert "not a number of packets" in done.refused[0].why
    assert "only 12 packets left" in done.refused[2].why
    again = counts.take_counts(catalogue, rows, SWAP, on=TODAY)
    assert again.taken == ()
    assert "4 packets of this lot were already counted at this event" in again.refused[0].why
    assert (counter.packets_left(catalogue, leek), counter.packets_left(catalogue, onion)) == (8, 7)
    further = counts.take_counts(catalogue, ((leek, "1"),), SWAP, on=TODAY, again=True)
    assert (len(further.taken), counter.packets_left(catalogue, leek)) == (1, 7)
    assert keeping.check(catalogue).ok


def test_counts_without_an_event_are_refused(catalogue: Catalogue) -> None:
    """Without its event nobody could tell a list that was taken already."""
    with pytest.raises(BadInput, match="Name the event"):
        counts.take_counts(catalogue, (("x", "1"),), Occasion(), on=TODAY)


def test_a_promised_return_comes_back_as_a_lot_with_its_parent(catalogue: Catalogue) -> None:
    """The promise is settled by the new lot, which remembers what it was grown from."""
    leek = packed(catalogue)
    promise = returns.promise_return(
        catalogue, leek, on=TODAY, by=TODAY + timedelta(days=300), who="Ada Quill"
    )
    [waiting] = returns.promised_returns(catalogue)
    assert (waiting.who, waiting.is_overdue(TODAY)) == ("Ada Quill", False)
    assert waiting.is_overdue(TODAY + timedelta(days=301))
    back = returns.take_return(
        catalogue, on=TODAY + timedelta(days=310), parent=leek, weight="12 g", who="Ada Quill",
        promise_id=promise,
    )  # fmt: skip
    story = lots.lot_story(catalogue, back.number)
    assert (story.parents, back.line.variety, back.line.stock) == ((leek,), "Fenlock Grey", 12_000)
    assert lots.lot_story(catalogue, leek).children == (back.number,)
    assert returns.promised_returns(catalogue) == ()


def test_a_return_without_a_name_has_no_identity_and_is_never_packed(catalogue: Catalogue) -> None:
    """A bag with only a crop on it becomes a lot of unknown identity."""
    back = returns.take_return(catalogue, on=TODAY, crop="Leek", weight="9 g")
    assert (back.line.identity, back.line.variety) == ("unknown", "name not known")
    assert "identity" in packing.why_not(catalogue, back.number)
    with pytest.raises(BadInput, match="at least which crop"):
        returns.take_return(catalogue, on=TODAY)


def test_a_return_that_cannot_be_read_leaves_nothing_behind(catalogue: Catalogue) -> None:
    """No lot, no settled promise, no person made on the spot."""
    leek = packed(catalogue)
    promise = returns.promise_return(catalogue, leek, on=TODAY, by=TODAY)
    before = keeping.counted_lots(catalogue)
    with pytest.raises(KeeperError, match="was not taken in"):
        returns.take_return(catalogue, on=TODAY, parent=leek, weight="a handful", promise_id=promise)
    assert keeping.counted_lots(catalogue) == before
    assert [each.id for each in returns.promised_returns(catalogue)] == [promise]


def test_a_promise_is_given_up_only_with_a_reason(catalogue: Catalogue) -> None:
    """And only once."""
    promise = returns.promise_return(catalogue, packed(catalogue), on=TODAY, by=TODAY)
    with pytest.raises(BadInput, match="with a reason"):
        returns.give_up(catalogue, promise, on=TODAY, why=" ")
    returns.give_up(catalogue, promise, on=TODAY, why="eaten by slugs")
    with pytest.raises(BadInput, match="not waited for any more"):
        returns.give_up(catalogue, promise, on=TODAY, why="again")


def test_a_recall_follows_the_descendants(catalogue: Catalogue, tmp_path: Path) -> None:
    """Packets of the lot and of what was grown from it, out and on the shelf; a school is a school."""
    leek = packed(catalogue)
    child = returns.take_return(catalogue, on=TODAY, parent=leek, weight="30 g").number
    with catalogue.job("pack") as job:
        lot_id = packing.resolve_lot(job.connection, child)
        packing.book_packets(job, lot_id, packets=6, seeds=40, on=TODAY)
    counter.hand_out(catalogue, leek, on=TODAY, packets=2, occasion=SWAP, to="Ada Quill")
    counter.hand_out(
        catalogue, child, on=TODAY, packets=1, occasion=Occasion("Marsh Library", "other library")
    )
    counter.hand_out(catalogue, child, on=TODAY, packets=1, occasion=SCHOOL, to="Ms Reed")
    wrong = counter.hand_out(catalogue, leek, on=TODAY, to="Tomas")
    counter.take_back(catalogue, wrong.lines, on=TODAY)
    found = recall.recall(catalogue, leek)
    assert found.lots == (leek, child)
    assert (found.packets_out, found.packets_on_shelf, found.loose_out) == (4, 14, 0)
    out = {(row.lot, row.event, row.to, row.packets) for row in found.rows if row.on}
    assert out == {
        (leek, "Spring swap", "Ada Quill", 2), (child, "Marsh Library", "", 1), (child, "a school", "", 1),
    }  # fmt: skip
    file = tmp_path / "recall.csv"
    assert recall.recall_csv(found, file) == len(found.rows) == 7
    assert "Reed" not in file.read_text(encoding="utf-8-sig")
    assert recall.recall_on_paper(found, on=TODAY).startswith(b"%PDF")


def test_the_school_list_leaves_out_what_is_not_for_children(catalogue: Catalogue, tmp_path: Path) -> None:
    """Poisonous, hot and treated seed stay at home, counted by reason."""
    leek, onion = packed(catalogue), packed(catalogue, ONION)
    packed(catalogue, FOXGLOVE, packets=2, seeds=20)
    packed(catalogue, "Habanero pepper | Ember | 2025 | 20 g", packets=3, seeds=10)
    lots.hold_lot(catalogue, onion, "treated seed", on=TODAY)
    found = school_list.school_list(catalogue, on=TODAY)
    assert [line.number for line in found.lots] == [leek]
    assert dict(found.left_out)["poisonous"] == 1
    assert dict(found.left_out)["treated"] == 1
    assert sum(count for _, count in found.left_out) == 3
    assert school_list.as_csv(found.lots, tmp_path / "s.csv") == 1
    assert [line.number for line in school_list.take_away_list(catalogue, on=TODAY)].count(onion) == 0
    pdf = school_list.on_paper("For schools", "Ours", found.lots, on=TODAY, words=found.left_out_words)
    assert pdf.startswith(b"%PDF")


def where_of(catalogue: Catalogue) -> str:
    """Give the whole address, with the password that is never shown."""
    return catalogue.engine.url.render_as_string(hide_password=False)


def known(catalogue: Catalogue, name: str, on: date = TODAY) -> people.PersonLine:
    return next(each for each in people.people_kept(catalogue, on=on).people if each.name == name)


def test_names_over_the_time_are_shown_and_then_blanked(catalogue: Catalogue) -> None:
    """Three years on, who only once took a packet is over the time; a grower of seed in hand is not."""
    leek = packed(catalogue)
    counter.hand_out(catalogue, leek, on=TODAY, packets=2, to="Ada Quill")
    later = date(2029, 11, 26)
    assert people.people_kept(catalogue, on=date(2029, 11, 25)).over_time == ()
    over = people.people_kept(catalogue, on=later).over_time
    assert [each.name for each in over] == ["Ada Quill"]
    assert people.erase(catalogue, [each.id for each in over], on=later).names == 1
    assert [out.to for out in counter.out_today(catalogue, on=TODAY)] == ["(erased)"]
    assert counter.packets_left(catalogue, leek) == 10
    assert keeping.check(catalogue).ok
    keeping.change_settings(catalogue, {"names_kept_months": 0})
    assert people.people_kept(catalogue, on=date(2060, 1, 1)).over_time == ()


def test_what_is_held_about_a_person_can_be_exported_and_erased(catalogue: Catalogue, tmp_path: Path) -> None:
    """Their seed, packets and promises; after erasing neither list nor find knows the name."""
    leek = packed(catalogue)
    counter.hand_out(catalogue, leek, on=TODAY, to="Marit", occasion=SCHOOL)
    returns.promise_return(catalogue, leek, on=TODAY, by=TODAY, who="Marit")
    marit = known(catalogue, "Marit")
    file = tmp_path / "marit.csv"
    assert people.export_person(catalogue, marit.id, file) == 4
    assert {row.cells[0] for row in read_table(file).rows} == {
        "name", "seed grown or given", "packets handed out", "promised return",
    }  # fmt: skip
    assert "Hollin" not in file.read_text(encoding="utf-8-sig")
    people.erase(catalogue, [marit.id], on=TODAY)
    assert lots.find_lots(catalogue, lots.LotFilter(words="Marit"), on=TODAY).total == 0
    assert b"Marit" not in "".join(map(str, lots.recent_jobs(catalogue))).encode()
    with pytest.raises(BadInput, match="Nothing is held"):
        people.held_about(catalogue, marit.id)


def test_a_restore_erases_again_whom_the_library_erased(file_catalogue: Catalogue, tmp_path: Path) -> None:
    """The copy holds the name; what is restored from it does not, and nor does find."""
    leek = packed(file_catalogue)
    counter.hand_out(file_catalogue, leek, on=TODAY, to="Ada Quill")
    copy = keeping.backup(file_catalogue, tmp_path / "copy.hilum")
    ids = [known(file_catalogue, name).id for name in ("Ada Quill", "Marit")]
    people.erase(file_catalogue, ids, on=TODAY)
    file_catalogue.close()
    file = Path(file_catalogue.where)
    keeping.restore(copy, file, clock=clock)
    with keeping.open_at(file, clock=clock) as restored:
        assert {"Ada Quill", "Marit"}.isdisjoint(
            each.name for each in people.people_kept(restored, on=TODAY).people
        )
        assert lots.find_lots(restored, lots.LotFilter(words="Marit"), on=TODAY).total == 0
        assert counter.packets_left(restored, leek) == 11
        assert keeping.check(restored).ok


def test_another_library_that_is_restored_here_keeps_its_people(
    file_catalogue: Catalogue, tmp_path: Path
) -> None:
    """Ids mean other people there: the list is replayed only in copies of the same library."""
    packed(file_catalogue)
    people.erase(file_catalogue, [known(file_catalogue, "Marit").id], on=TODAY)
    with keeping.make(tmp_path / "other.hilum", clock=clock) as other:
        take_in(other, "Leek | Other | 2025 | 10 g | There | Oduya")
    file_catalogue.close()
    keeping.restore(tmp_path / "other.hilum", Path(file_catalogue.where), clock=clock)
    with keeping.open_at(file_catalogue.where, clock=clock) as restored:
        assert [each.name for each in people.people_kept(restored, on=TODAY).people] == ["Oduya"]


def test_a_damaged_list_of_erasures_stops_the_restore(file_catalogue: Catalogue, tmp_path: Path) -> None:
    """Rather nothing than names that come back."""
    packed(file_catalogue)
    copy = keeping.backup(file_catalogue, tmp_path / "copy.hilum")
    people.erase(file_catalogue, [known(file_catalogue, "Marit").id], on=TODAY)
    file_catalogue.close()
    (tmp_path / "library.erasures.json").write_text("{", encoding="ascii")
    with pytest.raises(KeeperError, match="Nothing was restored"):
        keeping.restore(copy, file_catalogue.where, clock=clock)


def names_told(catalogue: Catalogue, leek: str) -> list[Callable[[], object]]:
    """Give every way in which a face may ask for people."""
    return [
        lambda: lots.lot_story(catalogue, leek),
        lambda: lots.find_lots(catalogue, lots.LotFilter(), on=TODAY),
        lambda: counter.out_today(catalogue, on=TODAY),
        lambda: returns.promised_returns(catalogue),
        lambda: recall.recall(catalogue, leek),
        lambda: people.people_kept(catalogue, on=TODAY),
        lambda: keeping.bench_people(catalogue),
        lambda: counter.people_like(catalogue, "a"),
        lambda: school_list.take_away_list(catalogue, on=TODAY),
    ]


def test_the_visitors_view_tells_nobodys_name(catalogue: Catalogue) -> None:
    """Whatever is asked, no name comes; switched off, they are all there."""
    leek = packed(catalogue)
    keeping.come_to_bench(catalogue, "Tomas Reed")
    counter.hand_out(catalogue, leek, on=TODAY, to="Ada Quill")
    returns.promise_return(catalogue, leek, on=TODAY, by=TODAY, who="Ada Quill")
    told = "".join(repr(ask()) for ask in names_told(catalogue, leek))
    assert all(name in told for name in ("Marit", "Ada Quill", "Tomas Reed"))
    catalogue.hides_people = True
    told = "".join(repr(ask()) for ask in names_told(catalogue, leek))
    assert [name for name in ("Marit", "Ada Quill", "Tomas Reed") if name in told] == []
    with pytest.raises(BadInput, match="visitors' view"):
        people.held_about(catalogue, 1)
    with pytest.raises(BadInput, match="visitors' view"):
        lots.change_lot(catalogue, leek, {"grower": ""})
