"""A copy of a catalogue without people's names: for handing on what may be seen by anybody."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sqlalchemy import select, update

from hilum.catalogue.find import rebuild_index
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.opening import open_catalogue
from hilum.catalogue.records import lot, person


def blank_people(copy: Path, clock: Callable[[], datetime]) -> None:
    """Take every person's name out of a catalogue's copy, and out of what find looks through.

    Ids stay, so that the ledger and the history still add up. What somebody wrote into notes is not looked at.
    """
    with open_catalogue(copy, clock=clock) as opened:
        with opened.job("hand over without names") as job:
            job.run(
                update(person)
                .where(person.c.name.is_not(None))
                .values(name=None, folded="", note="", erased_on=job.at.date())
            )
            refresh_find_text(job, job.run(select(lot.c.id)).scalars().all())
            rebuild_index(job)
        raw = opened.engine.raw_connection()
        try:
            # Deleted text lies in free pages until the file is written anew; one file is easier to carry than three.
            raw.driver_connection.execute("VACUUM")  # type: ignore[union-attr]
            raw.driver_connection.execute("PRAGMA journal_mode=DELETE")  # type: ignore[union-attr]
        finally:
            raw.close()
