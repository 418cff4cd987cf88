"""The tables of a lot's page: its life in words, its ledger, its tests, and what was edited."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hilum.benches.lots import LotStory, shown_amount
from hilum.window import lot_words
from hilum.window.lot_events import signed
from hilum.window.models import Column

LIFE = (
    Column("Day", lambda event: event.on.isoformat(), sort=lambda event: event.on),
    Column("What", lambda event: event.what, least_px=140),
    Column("Details", lambda event: event.words, least_px=260),
)


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One line of the ledger as it is shown."""

    id: int
    day: str
    kind: str
    amount: str
    after: str
    who: str
    why: str
    amount_mg: int | None
    amount_seeds: int | None
    can_be_corrected: bool


LEDGER = (
    Column("Day", lambda row: row.day),
    Column("Movement", lambda row: row.kind),
    Column("Amount", lambda row: row.amount, right=True),
    Column("Stock after", lambda row: row.after, right=True),
    Column("Who", lambda row: row.who),
    Column("Why", lambda row: row.why, least_px=200),
)


def ledger_rows(story: LotStory) -> tuple[LedgerRow, ...]:
    """Give the ledger, oldest line first, with the running stock."""
    unit = story.lot.line.unit
    corrected = {line.corrects_id for line in story.movements if line.corrects_id is not None}
    days = {line.id: line.on.isoformat() for line in story.movements}
    rows = []
    for line in story.movements:
        why = line.why
        if line.corrects_id is not None:
            why = f"corrects the line of {days.get(line.corrects_id, 'before')}: {why}"
        elif line.id in corrected:
            why = f"{why} (corrected below)".strip()
        rows.append(
            LedgerRow(
                line.id,
                line.on.isoformat(),
                line.kind,
                "not weighed" if line.amount is None else signed(line.amount, unit),
                shown_amount(line.stock_after, unit),
                _who(story.people, line.person_id),
                why,
                line.amount if unit == "mg" else None,
                line.amount if unit == "seeds" else None,
                line.corrects_id is None and line.id not in corrected,
            )
        )
    return tuple(rows)


def _interval(run: Any) -> str:
    if run.low_percent is None or run.high_percent is None:
        return lot_words.NOT_KNOWN
    return f"{run.low_percent:.0f} to {run.high_percent:.0f} %"


def _classes(run: Any) -> str:
    figures = (
        ("abnormal", run.abnormal_percent),
        ("hard", run.hard_percent),
        ("fresh", run.fresh_percent),
        ("dead", run.dead_percent),
        ("not classed", run.not_classed_percent),
    )
    return ", ".join(f"{figure} % {name}" for name, figure in figures if figure)


GERMINATION = (
    Column("Ended", lambda run: lot_words.day(run.finished_on), sort=lambda run: run.finished_on),
    Column("Laid", lambda run: lot_words.day(run.started_on), sort=lambda run: run.started_on),
    Column(
        "Normal",
        lambda run: lot_words.NOT_KNOWN if run.normal_percent is None else f"{run.normal_percent} %",
        sort=lambda run: run.normal_percent,
        right=True,
    ),
    Column("90 % interval", _interval),
    Column("Seeds", lambda run: f"{run.seeds}", sort=lambda run: run.seeds, right=True),
    Column("Verdict", lambda run: run.verdict or run.state, tip=lambda run: run.verdict_why),
    Column("Other classes", _classes),
    Column("How", lambda run: run.rules if run.origin == "here" else f"{run.rules}, {run.origin}"),
    Column("Why", lambda run: run.verdict_why or run.note, least_px=160),
)


PAST = (
    Column("When", lambda row: row.at.strftime("%Y-%m-%d %H:%M"), sort=lambda row: row.at, least_px=130),
    Column("Who", lambda row: row.who or lot_words.NOT_KNOWN),
    Column("What", lambda row: row.what, least_px=160, tip=lambda row: row.what),
    Column("What it wrote", lambda row: row.words, least_px=220, tip=lambda row: row.words),
    Column(
        "",
        lambda row: "taken back" if row.taken_back else "",
        tone=lambda row: "quiet" if row.taken_back else "",
        least_px=92,
    ),
)


def _who(people: Mapping[int, str], person_id: int | None) -> str:
    return lot_words.NOT_KNOWN if person_id is None else people.get(person_id, lot_words.NOT_KNOWN)
