"""Looking a catalogue over: every kind of disagreement is found and said in words."""

from collections.abc import Callable
from datetime import date

import pytest
from sqlalchemy import insert, text, update

from hilum.catalogue.checking import check
from hilum.catalogue.counter_records import hand_out
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.records import dish, dish_count, germination_test, lot, packet_batch, stay, store_place
from tests.catalogue.builders import A_DAY, a_lot

Spoil = Callable[[Job, int], object]


def a_sound_catalogue(catalogue: Catalogue) -> int:
    """Write a lot with everything that is checked, all of it in order; gives the lot's id."""
    lot_id = a_lot(catalogue)
    a_lot(catalogue, amount=None)
    with catalogue.job("use it") as job:
        job.run(
            insert(germination_test).values(id=5, lot_id=lot_id, state="running", started_on=A_DAY, seeds=100)
        )
        job.run(insert(dish).values(id=7, test_id=5, number=1, seeds=50))
        job.run(insert(dish).values(id=8, test_id=5, number=2, seeds=50))
        job.run(insert(dish_count).values(dish_id=7, on_date=A_DAY, normal=40, dead=10))
        batch = {
            "lot_id": lot_id,
            "packed_on": A_DAY,
            "packets": 10,
            "seeds_per_packet": 50,
            "packets_left": 9,
        }
        job.run(insert(packet_batch).values(id=3, **batch))
        job.run(insert(hand_out).values(batch_id=3, packets=1, on_date=A_DAY, entered_at=job.at))
        move(job, lot_id, "packed", -1_500, on=A_DAY, batch_id=3)
        job.run(insert(store_place).values(id=1, kind="shelf", name="Shelf A"))
        job.run(insert(store_place).values(id=2, kind="box", name="Box 4"))
        job.run(
            insert(stay).values(lot_id=lot_id, store_place_id=1, from_on=date(2026, 1, 1), until_on=A_DAY)
        )
        job.run(insert(stay).values(lot_id=lot_id, store_place_id=2, from_on=A_DAY))
    return lot_id


def move_batch_to(job: Job, lot_id: int) -> None:
    """Do what the database refuses: a file whose guards were taken away is looked over all the same."""
    guard = "no_update" if job.connection.dialect.name == "sqlite" else "no_change ON packet_batch"
    job.run(text(f"DROP TRIGGER packet_batch_{guard}"))
    job.run(update(packet_batch).values(lot_id=lot_id))


def give_a_wrong_number(job: Job, lot_id: int) -> None:
    """Write over a lot's number in a file whose guard was taken away."""
    table = "" if job.connection.dialect.name == "sqlite" else " ON lot"
    job.run(text(f"DROP TRIGGER lot_no_other_number{table}"))
    job.run(update(lot).where(lot.c.id == lot_id).values(number="LEK-25-001-Q"))


def test_a_sound_catalogue_has_no_findings(catalogue: Catalogue) -> None:
    """Everything in order gives nothing to say."""
    a_sound_catalogue(catalogue)
    assert check(catalogue) == ()


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (
            lambda job, at: job.run(update(lot).where(lot.c.id == at).values(stock=1)),
            "is shown with 0.001 g, but its movements add up to 18.5 g.",
        ),
        (
            lambda job, at: job.run(update(lot).where(lot.c.id == at).values(stock=None)),
            "is shown with not weighed yet, but its movements add up to 18.5 g.",
        ),
        (
            lambda job, at: job.run(update(lot).where(lot.c.id == at + 1).values(stock=5)),
            "is shown with 0.005 g, but its movements add up to not weighed yet.",
        ),
        (
            give_a_wrong_number,
            "Lot LEK-25-001-Q has a wrong check character",
        ),
        (
            lambda job, at: job.run(
                insert(packet_batch).values(
                    lot_id=at, packed_on=A_DAY, packets=5, seeds_per_packet=9, packets_left=5
                )
            ),
            "packed 2026-11-25: no movement took the seed for the packets out of stock.",
        ),
        (
            lambda job, at: move_batch_to(job, at + 1),
            "packed 2026-11-25: the seed was taken out of another lot.",
        ),
        (
            lambda job, at: job.run(
                insert(germination_test).values(lot_id=at, state="running", started_on=A_DAY, seeds=50)
            ),
            "the test begun 2026-11-25 is running but has no dishes.",
        ),
        (
            lambda job, at: job.run(update(germination_test).values(seeds=200)),
            "the test begun 2026-11-25 is of 200 seeds, but its dishes hold 100.",
        ),
        (
            lambda job, at: job.run(insert(dish_count).values(dish_id=7, on_date=date(2026, 11, 26), hard=1)),
            "in dish 1 of the test begun 2026-11-25, 51 seeds were counted of 50.",
        ),
        (
            lambda job, at: job.run(
                insert(stay).values(lot_id=at, store_place_id=1, from_on=date(2026, 12, 1))
            ),
            "is said to be in two places at once from 2026-12-01: Box 4 and Shelf A.",
        ),
    ],
)
def test_what_does_not_add_up_is_found(catalogue: Catalogue, spoil: Spoil, words: str) -> None:
    """Each disagreement is found alone, with the lot and the figures."""
    lot_id = a_sound_catalogue(catalogue)
    with catalogue.job("spoil") as job:
        spoil(job, lot_id)
    [finding] = check(catalogue)
    assert words in finding


def test_an_orphan_is_found(file_catalogue: Catalogue) -> None:
    """Rows that another program left without what they belong to are named."""
    import sqlite3

    a_sound_catalogue(file_catalogue)
    raw = sqlite3.connect(str(file_catalogue.file))
    raw.execute("DELETE FROM store_place WHERE id = 2")
    raw.commit()
    raw.close()
    assert check(file_catalogue) == ("Row 2 of stay belongs to a store_place that is not in the catalogue.",)


def test_an_incomplete_find_index_is_found(file_catalogue: Catalogue) -> None:
    """Lots that find would miss are worth a warning; asking changes nothing."""
    lot_id = a_sound_catalogue(file_catalogue)
    with file_catalogue.job("lose") as job:
        job.run(
            text(
                "INSERT INTO lot_find (lot_find, rowid, find_text) "
                "SELECT 'delete', id, find_text FROM lot WHERE id = :id"
            ),
            {"id": lot_id},
        )
    for _ in range(2):
        assert check(file_catalogue) == (
            "The find index does not say what the lots say, so find would miss some lots.",
        )


def test_a_damaged_page_is_found(file_catalogue: Catalogue) -> None:
    """A page overwritten on disk is reported, with what to do."""
    with file_catalogue.job("fill") as job:
        job.run(text("INSERT INTO place (name, folded) VALUES (:name, 'x')"), {"name": "y" * 100_000})
        job.run(text("CREATE TABLE spare AS SELECT * FROM crop"))
    file = file_catalogue.file
    assert file is not None
    file_catalogue.close()
    content = bytearray(file.read_bytes())
    content[-4096:] = b"\xaa" * 4096
    file.write_bytes(bytes(content))
    findings = check(file_catalogue)
    assert findings
    assert "is damaged" in findings[0]
    assert "hilum restore FILE" in findings[0]


def test_a_long_list_is_shortened(catalogue: Catalogue) -> None:
    """Of many findings of one kind the first twenty are shown and the rest counted."""
    for _ in range(23):
        a_lot(catalogue)
    with catalogue.job("spoil") as job:
        job.run(update(lot).values(stock=1))
    findings = check(catalogue)
    assert len(findings) == 21
    assert findings[-1] == "… and 3 more like the last."
