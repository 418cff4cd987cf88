"""Short cautions that stand where the work is done, each with its source."""

from dataclasses import dataclass

from hilum.seedlore.tables import table

WORKS = ("intake", "cleaning", "drying", "freezing", "testing", "packing", "regrowing", "crop")


@dataclass(frozen=True, slots=True)
class WorkCaution:
    """One caution for one kind of work."""

    work: str
    words: str
    source: str


def work_cautions(work: str) -> tuple[WorkCaution, ...]:
    """Give the cautions for one kind of work, most needed first.

    Parameters
    ----------
    work : str
        One of `WORKS`.

    Returns
    -------
    tuple of WorkCaution
        None at all for work that is not known.

    Source
    ------
    Each caution names its own.

    Examples
    --------
    >>> work_cautions("freezing")[0].words
    'Freeze only dry, sealed seed: seed frozen wet dies.'
    """
    found = (
        WorkCaution(line.one_of("work", WORKS), line.text("words"), line.text("source"))
        for line in table("cautions")
    )
    return tuple(one for one in found if one.work == work)
