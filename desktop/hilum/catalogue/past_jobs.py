"""Jobs of the past as they are asked for: by the beginning of their name, and with how many lots each concerned."""

from collections.abc import Iterable

from sqlalchemy import Connection, case, func, select

from hilum.catalogue.records import history, lot, movement
from hilum.errors import BadInput


def lots_of_jobs(connection: Connection, jobs: Iterable[str]) -> dict[str, int]:
    """Give how many lots each of some jobs made, changed or moved seed of."""
    of_lot = case(
        (history.c.table_name == lot.name, history.c.row_id), else_=history.c.after["lot_id"].as_integer()
    )
    rows = connection.execute(
        select(history.c.job, func.count(of_lot.distinct()))
        .where(history.c.job.in_(tuple(jobs)), history.c.table_name.in_((lot.name, movement.name)))
        .group_by(history.c.job)
    )
    return {job: int(lots) for job, lots in rows}


def job_named(connection: Connection, begins: str, *, least: int) -> str:
    """Give the one job whose name begins so; refused where none or several do."""
    if len(begins) < least:
        raise BadInput(f"Name a job by at least {least} of its letters and digits, as the history shows it.")
    query = select(history.c.job).distinct().where(history.c.job.startswith(begins, autoescape=True)).limit(2)
    found = connection.execute(query).scalars().all()
    if len(found) != 1:
        trouble = "No job begins" if not found else "More than one job begins"
        raise BadInput(f"{trouble} with {begins}. The history names them: hilum history")
    return str(found[0])
