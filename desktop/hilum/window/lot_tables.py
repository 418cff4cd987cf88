"""The tables of a lot's page: its life in words, its ledger, its tests, and what was edited."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hilum.benches.lots import Edit, LotStory, shown_amount
from hilum.window import lot_words
from hilum.window.lot_events import signed
from hilum.window.models import Column

# What the columns of the catalogue's tables are called here.
FIELD_WORDS = {
    "variety_id": "variety",
    "place_id": "place grown",
    "grower_id": "grower",
    "donor_id": "donor",
    "store_place_id": "store place",
    "thousand_seed_weight_ug": "thousand-seed weight",
    "moisture_percent_wb": "moisture",
    "stock_is_estimate": "stock is an estimate",
    "set_on": "hold set on",
    "lifted_on": "hold lifted on",
    "lifted_why": "lifted because",
    "from_on": "from",
    "until_on": "until",
    "on_date": "on",
}
# What only the catalogue itself needs.
INNER = {"lot_id", "id", "person_id", "set_by", "lifted_by", "version", "find_text", "folded"}

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


@dataclass(frozen=True, slots=True)
class EditRow:
    """One job that edited the lot, as it is shown."""

    id: str
    when: str
    who: str
    what: str
    change: str
    taken_back: bool


EDITS = (
    Column("When", lambda row: row.when),
    Column("Who", lambda row: row.who),
    Column("What", lambda row: row.what, least_px=160),
    Column("Before → after", lambda row: row.change, least_px=220),
    Column("", lambda row: "taken back" if row.taken_back else ""),
)


def edit_rows(story: LotStory) -> tuple[EditRow, ...]:
    """Give the edits by the job they were made in, the newest first."""
    jobs: dict[str, list[Edit]] = {}
    for edit in story.edits:
        jobs.setdefault(edit.job, []).append(edit)
    return tuple(
        EditRow(
            job,
            edits[0].at.strftime("%Y-%m-%d %H:%M"),
            _who(story.people, edits[0].person_id),
            edits[0].what,
            "; ".join(text for text in (_change(edit.before, edit.after) for edit in edits) if text),
            edits[0].taken_back,
        )
        for job, edits in reversed(jobs.items())
    )


def _change(before: Mapping[str, Any] | None, after: Mapping[str, Any] | None) -> str:
    if before is None:
        said = [f"{_field(name)} {value}" for name, value in (after or {}).items() if _is_told(name, value)]
        return f"new: {', '.join(said)}" if said else "new"
    if after is None:
        return "removed"
    said = []
    for name, value in after.items():
        if name in INNER:
            continue
        if name.endswith("_id"):
            said.append(f"another {_field(name)}")
        else:
            said.append(f"{_field(name)} {_value(before.get(name))} → {_value(value)}")
    return ", ".join(said)


def _is_told(name: str, value: Any) -> bool:
    return (
        name not in INNER and not name.endswith("_id") and value not in (None, "", False) and name != "number"
    )


def _field(name: str) -> str:
    return FIELD_WORDS.get(name, name.replace("_", " "))


def _value(value: Any) -> str:
    return "nothing" if value in (None, "") else str(value)


def _who(people: Mapping[int, str], person_id: int | None) -> str:
    return lot_words.NOT_KNOWN if person_id is None else people.get(person_id, lot_words.NOT_KNOWN)
