"""Taking back whole jobs: what moved stock by corrections, what was made by marks, and all of it forth again."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select, text

from hilum.catalogue import due, germination_tests, joining, listing, numbering, steps
from hilum.catalogue.checking import check
from hilum.catalogue.germination_tests import DishDays
from hilum.catalogue.history import change, recent_jobs
from hilum.catalogue.ledger import StockError, correct, move
from hilum.catalogue.listing import LotFilter, list_lots
from hilum.catalogue.lots import NewLot
from hilum.catalogue.opening import Catalogue, Job, new_catalogue, open_catalogue
from hilum.catalogue.records import germination_test, hold, lot, movement
from hilum.catalogue.related import child_numbers
from hilum.catalogue.taking_back import take_back
from hilum.errors import KeeperError
from tests.catalogue.builders import A_DAY, TickingClock, a_lot, stock_of, write_lot


def done(catalogue: Catalogue, what: str, work: Callable[[Job], object]) -> str:
    """Do some work in a job of its own; gives the job's id."""
    with catalogue.job(what) as job:
        work(job)
        return job.id


def undo(catalogue: Catalogue, job_id: str) -> str:
    """Take a job back as a bench does; gives the id of the job that did it."""
    with catalogue.job("take back") as job:
        _, touched = take_back(job, job_id)
        due.recompute(job, touched)
        return job.id


def state_of(catalogue: Catalogue, lot_id: int) -> str:
    with catalogue.look() as connection:
        return str(connection.execute(select(lot.c.state).where(lot.c.id == lot_id)).scalar_one())


def listed(catalogue: Catalogue, state: str = "") -> list[int]:
    with catalogue.look() as connection:
        lines, total = list_lots(connection, LotFilter(state=state), on=A_DAY)
        assert len(lines) == total
        return [line.id for line in lines]


def test_a_draw_is_taken_back_by_a_correction_and_made_again(catalogue: Catalogue, where: str | Path) -> None:
    """Back and forth, in a later session too, as often as one likes; every line of it stands in the ledger."""
    lot_id = a_lot(catalogue)
    drawn = done(catalogue, "sow", lambda job: move(job, lot_id, "sown", -5_000, on=A_DAY, why="bed 4"))
    with open_catalogue(where, clock=TickingClock()) as later:
        for _ in range(3):
            back = undo(later, drawn)
            assert stock_of(later, lot_id) == 20_000
            undo(later, back)
            assert stock_of(later, lot_id) == 15_000
        assert check(later) == ()
        with later.look() as connection:
            lines = listing.movements(connection, lot_id)
    assert [line.kind for line in lines] == ["received", "sown", *(("corrected", "sown") * 3)]
    assert {line.why for line in lines if line.kind == "sown"} == {"bed 4"}


def test_what_made_again_is_the_first_job_again(catalogue: Catalogue) -> None:
    """Asked to take back the job that redid it, the first job is taken back, and both tell the truth of it."""
    lot_id = a_lot(catalogue)
    drawn = done(catalogue, "sow", lambda job: move(job, lot_id, "sown", -5_000, on=A_DAY))
    again = undo(catalogue, undo(catalogue, drawn))
    undo(catalogue, again)
    assert stock_of(catalogue, lot_id) == 20_000
    with catalogue.look() as connection:
        by_id = {past.id: past for past in recent_jobs(connection, 20)}
    assert by_id[drawn].taken_back
    with pytest.raises(KeeperError, match="already been taken back"):
        undo(catalogue, drawn)


def test_a_step_with_its_weighing_goes_whole(catalogue: Catalogue) -> None:
    """A hold, a step and the seed lost in it go together and come together."""
    lot_id = a_lot(catalogue)

    def clean(job: Job) -> None:
        steps.add_hold(job, lot_id, "wet", A_DAY, "")
        steps.add_step(job, lot_id, "cleaned", A_DAY, {"mass_mg": 19_000})
        move(job, lot_id, "cleaned", -1_000, on=A_DAY)

    cleaned = done(catalogue, "clean", clean)
    back = undo(catalogue, cleaned)
    assert stock_of(catalogue, lot_id) == 20_000
    with catalogue.look() as connection:
        assert steps.steps_of(connection, lot_id) == ()
        assert steps.holds_of(connection, lot_id) == ()
    undo(catalogue, back)
    assert stock_of(catalogue, lot_id) == 19_000
    with catalogue.look() as connection:
        assert [step.mass_mg for step in steps.steps_of(connection, lot_id)] == [19_000]


def test_a_whole_import_is_withdrawn_and_comes_again(catalogue: Catalogue) -> None:
    """Its lots leave every list and keep their numbers spent; taken back again, they are there as before."""
    other = a_lot(catalogue, crop="onion", variety="Sexton's Keeper")
    made: list[int] = []
    taken_in = done(
        catalogue,
        "take in 3 lots",
        lambda job: made.extend(write_lot(job, amount=amount)[0] for amount in (20_000, None, 500)),
    )
    back = undo(catalogue, taken_in)
    assert listed(catalogue) == [other]
    assert listed(catalogue, "withdrawn") == made
    assert [stock_of(catalogue, lot_id) for lot_id in made] == [0, None, 0]
    with catalogue.look() as connection:
        assert listing.count_lots(connection) == 1
        assert (
            connection.execute(
                select(func.count()).where(lot.c.id.in_(made), lot.c.due_on.is_not(None))
            ).scalar()
            == 0
        )
        numbers = set(connection.execute(select(lot.c.number)).scalars())
    with catalogue.job("take in") as job:
        _, fresh = write_lot(job)
    assert fresh not in numbers
    assert numbering.is_well_formed(fresh)
    undo(catalogue, back)
    assert [stock_of(catalogue, lot_id) for lot_id in made] == [20_000, None, 500]
    assert set(made) < set(listed(catalogue))
    assert check(catalogue) == ()


@pytest.mark.parametrize(
    ("what", "use"),
    [
        ("hold it", lambda job, at: steps.add_hold(job, at, "wet", A_DAY, "")),
        ("sow some", lambda job, at: move(job, at, "sown", -5, on=A_DAY)),
        ("note", lambda job, at: change(job, lot, at, {"notes": "tall"})),
    ],
)
def test_an_import_stays_while_something_stands_on_it(
    catalogue: Catalogue, what: str, use: Callable[[Job, int], object]
) -> None:
    """The refusal names what was done since; with that taken back the import goes too."""
    made: list[int] = []
    taken_in = done(catalogue, "take in", lambda job: made.extend(write_lot(job)[0] for _ in range(2)))
    later = done(catalogue, what, lambda job: use(job, made[1]))
    with pytest.raises(KeeperError, match=f"later change .“{what}”. stands on it"):
        undo(catalogue, taken_in)
    assert len(listed(catalogue)) == 2
    undo(catalogue, later)
    undo(catalogue, taken_in)
    assert listed(catalogue) == []


def test_a_movement_corrected_by_hand_is_not_taken_back_as_well(catalogue: Catalogue) -> None:
    """The correction stands on it; taken back itself, the movement counts again."""
    lot_id = a_lot(catalogue)
    moved: list[int] = []
    drawn = done(catalogue, "sow", lambda job: moved.append(move(job, lot_id, "sown", -5_000, on=A_DAY)))
    by_hand = done(
        catalogue, "correct", lambda job: correct(job, moved[0], on=A_DAY, why="slip", right_amount=-500)
    )
    with pytest.raises(KeeperError, match="a correction of its movement"):
        undo(catalogue, drawn)
    undo(catalogue, by_hand)
    assert stock_of(catalogue, lot_id) == 15_000
    undo(catalogue, drawn)
    assert stock_of(catalogue, lot_id) == 20_000
    assert check(catalogue) == ()


def test_a_receipt_that_was_drawn_from_stays(catalogue: Catalogue) -> None:
    """A return of seed cannot be taken back once less than it is left, and the refusal names what took it."""
    lot_id = a_lot(catalogue, amount=0)
    returned = done(catalogue, "return", lambda job: move(job, lot_id, "returned", 900, on=A_DAY))
    done(catalogue, "sow", lambda job: move(job, lot_id, "sown", -500, on=A_DAY))
    with pytest.raises(KeeperError, match=r"later change .“sow”. stands on it"):
        undo(catalogue, returned)
    assert stock_of(catalogue, lot_id) == 400


def test_a_laid_test_is_given_up_with_its_seed_back(catalogue: Catalogue) -> None:
    """The dishes stay in the record, the seed comes back, and the lot is no longer under test."""
    lot_id = a_lot(catalogue)

    def lay(job: Job) -> None:
        values = {"lot_id": lot_id, "state": "running"}
        test_id = germination_tests.add_test(job, values, (50, 50), DishDays(A_DAY))
        move(job, lot_id, "test", -300, on=A_DAY, test_id=test_id)

    laid = done(catalogue, "start a test", lay)
    back = undo(catalogue, laid)
    assert (stock_of(catalogue, lot_id), state_of(catalogue, lot_id)) == (20_000, "in hand")
    undo(catalogue, back)
    assert (stock_of(catalogue, lot_id), state_of(catalogue, lot_id)) == (19_700, "under test")
    with catalogue.look() as connection:
        assert connection.execute(select(germination_test.c.state)).scalar_one() == "running"


def joined(catalogue: Catalogue, kind: str, *parts: tuple[int, int]) -> tuple[str, int]:
    """Join some lots with 25 % for each gram; gives the job and the new lot."""
    made: list[int] = []

    def join(job: Job) -> None:
        crop_id = listing.crop_of(job.connection, parts[0][0])
        variety_id = job.run(select(lot.c.variety_id).where(lot.c.id == parts[0][0])).scalar_one()
        total = sum(amount for _, amount in parts)
        new = NewLot(crop_id, variety_id, None, "mg", total, A_DAY, made_as=kind)
        shares = [joining.Part(at, amount, amount, 1_000_000 * amount // total, "mg") for at, amount in parts]
        made.append(joining.join_lots(job, new, shares, on=A_DAY, words="joined")[0])
        due.recompute(job, [made[0], *(at for at, _ in parts)])

    return done(catalogue, "pour together", join), made[0]


def test_lots_poured_together_are_one_job_and_go_back_as_one(catalogue: Catalogue) -> None:
    """Both are drawn, both are parents, the shares are stored; taken back, all the seed is where it was."""
    first, second = a_lot(catalogue, amount=3_000), a_lot(catalogue, amount=2_000)
    job_id, made = joined(catalogue, joining.BULKED, (first, 3_000), (second, 1_000))
    assert [stock_of(catalogue, at) for at in (first, second, made)] == [0, 1_000, 4_000]
    with catalogue.look() as connection:
        components = joining.components_of(connection, made)
    assert [(each.amount, each.share_ppm) for each in components] == [(3_000, 750_000), (1_000, 250_000)]
    assert check(catalogue) == ()
    back = undo(catalogue, job_id)
    assert [stock_of(catalogue, at) for at in (first, second, made)] == [3_000, 2_000, 0]
    assert listed(catalogue) == [first, second]
    with catalogue.look() as connection:
        assert child_numbers(connection, first) == ()
    undo(catalogue, back)
    assert [stock_of(catalogue, at) for at in (first, second, made)] == [0, 1_000, 4_000]
    assert check(catalogue) == ()


def test_joining_is_whole_or_not_at_all(catalogue: Catalogue) -> None:
    """With too little of the second lot there is no new lot, and the first still holds its seed."""
    first, second = a_lot(catalogue, amount=3_000), a_lot(catalogue, amount=2_000)
    with pytest.raises(StockError, match="cannot be taken from it"):
        joined(catalogue, joining.MIXED, (first, 3_000), (second, 2_001))
    assert listed(catalogue) == [first, second]
    assert [stock_of(catalogue, at) for at in (first, second)] == [3_000, 2_000]


def test_a_mix_is_due_by_the_oldest_test_of_its_components(catalogue: Catalogue) -> None:
    """The older of the two tests counts; where one was never tested, none does."""
    first, second, third = (a_lot(catalogue, amount=3_000) for _ in range(3))
    with catalogue.job("tests") as job:
        for at, on in ((first, date(2024, 3, 1)), (second, date(2026, 2, 1))):
            values = {"lot_id": at, "state": "running"}
            test_id = germination_tests.add_test(job, values, (50,), DishDays(on))
            germination_tests.change_test(
                job, test_id, {"state": "finished", "finished_on": on, "normal_percent": 90}
            )
            germination_tests.carry_to_lot(job, at)
    _, tested = joined(catalogue, joining.MIXED, (first, 100), (second, 100))
    _, untested = joined(catalogue, joining.MIXED, (first, 100), (third, 100))
    with catalogue.job("carry") as job:
        for at in (tested, untested):
            germination_tests.carry_to_lot(job, at)
        due.recompute(job, [tested, untested])
    with catalogue.look() as connection:
        mix, other = listing.one_lot(connection, tested), listing.one_lot(connection, untested)
    assert (mix.tested_on, mix.germination_percent) == (date(2024, 3, 1), None)
    assert "last tested Mar 2024" in mix.due_why
    assert other.tested_on is None


@pytest.fixture(scope="module")
def shared_catalogue(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    """Give one file for many examples; each example makes lots of its own and reads only those."""
    return new_catalogue(tmp_path_factory.mktemp("back") / "library.hilum", clock=TickingClock())


WORKS = st.one_of(
    st.tuples(st.just("move"), st.integers(0, 1), st.integers(-60, 60)),
    st.tuples(st.just("correct"), st.integers(0, 9), st.one_of(st.none(), st.integers(-60, 60))),
    st.tuples(st.just("join"), st.integers(1, 60), st.integers(1, 60)),
    st.tuples(st.just("hold"), st.integers(0, 1), st.none()),
    st.tuples(st.just("back"), st.integers(0, 9), st.none()),
)


@settings(max_examples=40)
@given(works=st.lists(WORKS, max_size=14))
def test_stock_is_the_sum_of_movements_whatever_is_taken_back(
    shared_catalogue: Catalogue, works: list[tuple[str, int, int | None]]
) -> None:
    """Any sequence of movements, corrections, joinings and takings-back, refused or not, leaves the books right."""
    catalogue = shared_catalogue
    made, jobs, lines = [a_lot(catalogue, amount=100), a_lot(catalogue, amount=None)], [], []

    def do(work: tuple[str, int, int | None]) -> None:
        what, which, figure = work
        if what == "move":
            at = made[which]
            with catalogue.job("move") as job:
                lines.append(move(job, at, "stocktake", figure, on=A_DAY))
            jobs.append(job.id)
        elif what == "correct" and lines:
            line = lines[which % len(lines)]
            jobs.append(
                done(
                    catalogue,
                    "fix",
                    lambda job: correct(job, line, on=A_DAY, why="slip", right_amount=figure),
                )
            )
        elif what == "join":
            job_id, new = joined(catalogue, joining.BULKED, (made[0], which), (made[1], figure or 1))
            jobs.append(job_id)
            made.append(new)
        elif what == "hold":
            at = made[which]
            jobs.append(done(catalogue, "hold", lambda job: steps.add_hold(job, at, "wet", A_DAY, "")))
        elif what == "back" and jobs:
            jobs.append(undo(catalogue, jobs[which % len(jobs)]))

    for work in works:
        before = ledger_of(catalogue, made)
        try:
            do(work)
        except KeeperError:
            assert ledger_of(catalogue, made) == before, "what was refused left something behind"
    for stock, total, _ in ledger_of(catalogue, made):
        assert stock == total
        assert stock is None or stock >= 0


def ledger_of(catalogue: Catalogue, lots: list[int]) -> list[tuple[object, ...]]:
    """Give each lot's kept stock, its recomputed sum, and how many movements and holds it has."""
    count = select(func.count()).where(hold.c.lot_id == lot.c.id).scalar_subquery()
    with catalogue.look() as connection:
        rows = connection.execute(
            select(lot.c.stock, func.sum(movement.c.amount), func.count(movement.c.id) + count)
            .join(movement, movement.c.lot_id == lot.c.id)
            .where(lot.c.id.in_(lots))
            .group_by(lot.c.id)
            .order_by(lot.c.id)
        )
        return [tuple(row) for row in rows]


def test_an_older_catalogues_takings_back_are_understood(catalogue: Catalogue) -> None:
    """Before this revision only one direction was noted; the step works the other one out."""
    lot_id = a_lot(catalogue)
    noted = done(catalogue, "note", lambda job: change(job, lot, lot_id, {"notes": "tall"}))
    back = undo(catalogue, noted)
    with catalogue.look() as connection:
        rows = connection.execute(
            text(
                "SELECT job, (SELECT min(taken.job) FROM history AS taken WHERE taken.taken_back_by = history.job) "
                "FROM history WHERE what = 'take back'"
            )
        )
        assert [tuple(row) for row in rows] == [(back, noted)]
