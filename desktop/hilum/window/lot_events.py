"""A lot's life as dated events, for the painted line and for the table beside it: the same events in both."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.counter import event_words
from hilum.benches.lots import LotStory, shown_amount

# The lanes of the life line from top to bottom.
STORE, TESTS, STEPS, STOCK = "store", "tests", "steps", "stock"
STEP_WORDS = {
    "cleaned": "Cleaned",
    "dried": "Dried",
    "weighed": "Weighed",
    "counted": "Thousand seeds counted",
    "frozen": "Frozen",
}


@dataclass(frozen=True, slots=True)
class LifeEvent:
    """One thing that happened to a lot; `until` where it lasted, `sign` what stands on the line."""

    on: date
    lane: str
    what: str
    words: str
    sign: str = ""
    until: date | None = None
    tone: str = ""


def events_of(story: LotStory) -> tuple[LifeEvent, ...]:
    """Give everything dated in a lot's story, oldest first."""
    found = [*_stays(story), *_germination(story), *_steps(story), *_movements(story), *_holds(story)]
    found += _failures(story)
    found += [*_grow_outs(story), *_edits(story)]
    return tuple(sorted(found, key=lambda event: event.on))


def _stays(story: LotStory) -> list[LifeEvent]:
    events = []
    for stay in story.stays:
        cold = "" if stay.temperature_c is None else f", {stay.temperature_c:g} °C"
        box = f", in {stay.container}" if stay.container else ""
        tight = {True: ", airtight", False: ", not airtight", None: ""}[stay.airtight]
        until = "" if stay.until_on is None else f", until {stay.until_on.isoformat()}"
        events.append(
            LifeEvent(
                stay.from_on,
                STORE,
                "Stored",
                f"{stay.path}{cold}{box}{tight}{until}",
                stay.path,
                stay.until_on,
            )
        )
    return events


def _germination(story: LotStory) -> list[LifeEvent]:
    events = []
    for run in story.tests:
        if run.state == "finished" and run.normal_percent is not None:
            on = run.finished_on or run.started_on
            words = f"{run.normal_percent} % of {run.seeds} seeds, {run.verdict or 'no verdict'}"
            if run.origin != "here":
                words += f", result of {run.origin}"
            # Plain where nothing can be said against or for it.
            tone = {"keep": "good", "regrow": "bad", "retest": "warn"}.get(run.verdict or "", "")
            events.append(
                LifeEvent(on, TESTS, "Germination test", words, f"{run.normal_percent} %", tone=tone)
            )
        else:
            words = f"{run.seeds} seeds laid, {run.state}"
            events.append(
                LifeEvent(run.started_on, TESTS, "Germination test", words, run.state, tone="quiet")
            )
    return events


def _steps(story: LotStory) -> list[LifeEvent]:
    events = []
    for step in story.steps:
        said = []
        if step.mass_mg is not None:
            said.append(shown_amount(step.mass_mg, "mg"))
        if step.evidence:
            figure = "" if step.evidence_value is None else f" {step.evidence_value:g} %"
            said.append(f"{step.evidence}{figure}")
        if step.thousand_seed_weight_ug is not None:
            said.append(f"a thousand weigh {step.thousand_seed_weight_ug / 1_000_000:.4g} g")
        if step.temperature_c is not None:
            said.append(f"{step.temperature_c:g} °C")
        if step.until_on is not None:
            said.append(f"until {step.until_on.isoformat()}")
        if step.note:
            said.append(step.note)
        what = STEP_WORDS.get(step.kind, step.kind)
        events.append(LifeEvent(step.on, STEPS, what, ", ".join(said), what, step.until_on))
    return events


def _movements(story: LotStory) -> list[LifeEvent]:
    events, unit = [], story.lot.line.unit
    for line in story.movements:
        left = shown_amount(line.stock_after, unit)
        amount = "not weighed" if line.amount is None else signed(line.amount, unit)
        why = f", {line.why}" if line.why else ""
        events.append(
            LifeEvent(line.on, STOCK, f"Ledger: {line.kind}", f"{amount}, {left} left{why}", line.kind)
        )
    for batch in story.batches:
        words = f"{batch.packets} packets of {batch.seeds_per_packet} seeds, {batch.packets_left} left"
        events.append(LifeEvent(batch.packed_on, STOCK, "Packets", words, "packets"))
    return [*events, *_hand_outs(story)]


def _hand_outs(story: LotStory) -> list[LifeEvent]:
    """Give one event for each day and occasion at which packets went out; what came back is taken off."""
    out: dict[tuple[date, str], int] = {}
    for line in story.hand_outs:
        key = (line.on, event_words(line.event, line.event_kind))
        out[key] = out.get(key, 0) + line.packets
    return [
        LifeEvent(on, STOCK, "Handed out", f"{packets} packets, {where}", "handed out")
        for (on, where), packets in out.items()
        if packets > 0
    ]


def _holds(story: LotStory) -> list[LifeEvent]:
    events = []
    for hold in story.holds:
        note = f", {hold.note}" if hold.note else ""
        events.append(
            LifeEvent(hold.set_on, STEPS, "Put on hold", f"{hold.kind}{note}", "hold", hold.lifted_on, "bad")
        )
        if hold.lifted_on is not None:
            events.append(
                LifeEvent(hold.lifted_on, STEPS, "Hold lifted", hold.lifted_why, "lifted", tone="good")
            )
    return events


def _failures(story: LotStory) -> list[LifeEvent]:
    events = []
    for each in story.failures:
        reached = "" if each.temperature_c is None else f", reached {each.temperature_c:g} °C"
        until = "" if each.until_on == each.from_on else f", until {each.until_on.isoformat()}"
        note = f", {each.note}" if each.note else ""
        words = f"{each.kind}{reached}{until}{note}"
        events.append(
            LifeEvent(each.from_on, STORE, "Failure of the store", words, each.kind, each.until_on, "bad")
        )
    return events


def _grow_outs(story: LotStory) -> list[LifeEvent]:
    events = []
    for each in story.grow_outs:
        off = "" if each.off_type is None else f", {each.off_type} off type"
        plants = "" if each.plants is None else f", {each.plants} plants{off}"
        note = f", {each.note}" if each.note else ""
        tone = {"seen true": "good", "not true": "bad"}.get(each.result, "")
        events.append(
            LifeEvent(each.on, TESTS, "Grow-out", f"{each.result}{plants}{note}", each.result, tone=tone)
        )
    return events


def _edits(story: LotStory) -> list[LifeEvent]:
    """Tell what was written otherwise of the lot; what moved, stored or tested it stands on the line already."""
    return [
        LifeEvent(line.at.date(), STEPS, "Written", f"{line.what}: {line.words}", tone="quiet")
        for line in reversed(story.past)
        if line.changed_lot and not line.taken_back and line.takes_back is None
    ]


def signed(amount: int, unit: str) -> str:
    """Give an amount that came in or went out, with its sign."""
    return f"{'+' if amount >= 0 else '−'}{shown_amount(abs(amount), unit)}"
