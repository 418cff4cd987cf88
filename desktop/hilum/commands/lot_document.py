"""One lot whole, as a document for scripts and as lines for a person."""

from datetime import date
from typing import TYPE_CHECKING, Any

from hilum.commands.terminal import Column, facts, table, wrapped

if TYPE_CHECKING:
    from hilum.benches.lots import LotStory

LEDGER = (
    Column("On", 10),
    Column("Movement", 10),
    Column("Amount", 14, True),
    Column("After", 14, True),
    Column("Why", 44),
)
RESULTS = (
    Column("On", 10),
    Column("Seeds", 6, True),
    Column("Normal", 7, True),
    Column("90 % interval", 14),
    Column("Verdict", 24),
    Column("How", 28),
)
STAYS = (Column("From", 10), Column("Until", 10), Column("Place", 48), Column("Container", 24))
FAILURES = (Column("From", 10), Column("Until", 10), Column("What", 30), Column("Note", 42))
PACKETS = (
    Column("Packed", 10),
    Column("Packets", 7, True),
    Column("Left", 6, True),
    Column("Seeds each", 10, True),
    Column("Fill", 10, True),
)


def whole_document(story: "LotStory", forecast: dict[str, Any]) -> dict[str, Any]:
    """Give all that is known of a lot; what is not known is null, never 0."""
    shown, line = story.lot, story.lot.line
    return {
        **shown.as_json(),
        "grower": line.grower,
        "donor": story.donor,
        "received_on": shown.received_words,
        "identity": line.identity,
        **_to_be_known(story),
        "plants": story.plants,
        "isolation": story.isolation,
        "notes": story.notes,
        "unit": line.unit,
        "thousand_seed_weight_g": grams_of(shown.thousand_seed_weight_ug),
        "thousand_seed_weight_is_estimate": shown.thousand_seed_weight_is_estimate,
        "reserve_seeds": shown.reserve_seeds,
        "standard_percent": shown.standard_percent,
        "movements": [
            {"id": each.id, "kind": each.kind, "on": day(each.on), "amount": each.amount, "unit": line.unit,
             "stock_after": each.stock_after, "why": each.why, "corrects": each.corrects_id}
            for each in story.movements
        ],
        "tests": _tests(story),
        "stays": [
            {"place": each.path, "from_on": day(each.from_on), "until_on": day(each.until_on),
             "temperature_c": each.temperature_c, "container": each.container or None, "airtight": each.airtight}
            for each in story.stays
        ],
        "failures": [
            {"kind": each.kind, "from_on": day(each.from_on), "until_on": day(each.until_on),
             "temperature_c": each.temperature_c, "note": each.note}
            for each in story.failures
        ],
        "parents": list(story.parents),
        "children": list(story.children),
        "steps": [
            {"kind": each.kind, "on": day(each.on), "until_on": day(each.until_on), "mass_mg": each.mass_mg,
             "evidence": each.evidence, "evidence_value": each.evidence_value, "seeds": each.seeds,
             "replicates_mg": list(each.replicates_mg), "cv_percent": each.cv_percent,
             "thousand_seed_weight_g": grams_of(each.thousand_seed_weight_ug),
             "temperature_c": each.temperature_c, "note": each.note}
            for each in story.steps
        ],
        "holds": [
            {"kind": each.kind, "note": each.note, "set_on": day(each.set_on), "lifted_on": day(each.lifted_on),
             "lifted_why": each.lifted_why}
            for each in story.holds
        ],
        "packet_batches": [
            {"packed_on": day(each.packed_on), "packets": each.packets, "packets_left": each.packets_left,
             "seeds_per_packet": each.seeds_per_packet, "fill_mg": each.fill_mg}
            for each in story.batches
        ],
        "forecast": forecast,
    }  # fmt: skip


def _to_be_known(story: "LotStory") -> dict[str, Any]:
    line = story.lot.line
    return {
        "treatment": line.treatment or None,
        "f1": line.is_f1,
        "rights_notice": line.rights_notice or None,
        "supplier_batch": line.supplier_batch or None,
        "growing_notes": line.growing_notes or None,
        "made_as": line.made_as or None,
        "withdrawn_on": day(line.withdrawn_on),
        "components": [
            {"lot": each.lot, "variety": each.variety, "share_percent": each.share_ppm / 10_000,
             "share_by": each.share_by, "germination_percent": each.germination_percent,
             "tested_on": day(each.tested_on)}
            for each in story.components
        ],
        "grow_outs": [
            {"on": day(each.on), "result": each.result, "plants": each.plants, "off_type": each.off_type,
             "note": each.note}
            for each in story.grow_outs
        ],
    }  # fmt: skip


def _tests(story: "LotStory") -> list[dict[str, Any]]:
    return [
        {
            "id": each.id,
            "state": each.state,
            "started_on": day(each.started_on),
            "finished_on": day(each.finished_on),
            "seeds": each.seeds,
            "normal_percent": each.normal_percent,
            "abnormal_percent": each.abnormal_percent,
            "hard_percent": each.hard_percent,
            "fresh_percent": each.fresh_percent,
            "dead_percent": each.dead_percent,
            "not_classed_percent": each.not_classed_percent,
            "interval_90": interval(each.low_percent, each.high_percent),
            "tolerance": {
                "range": each.range_percent,
                "allowed": each.allowed_percent,
                "within": each.within_tolerance,
            },
            "standard_percent": each.standard_percent,
            "verdict": each.verdict,
            "verdict_why": each.verdict_why,
            "origin": each.origin,
            "rules": each.rules,
            "substrate": each.substrate,
            "temperature": each.temperature,
            "note": each.note,
        }
        for each in story.tests
    ]


def whole_lines(story: "LotStory") -> list[str]:
    """Give all that is known of a lot in words and tables."""
    lines = [f"{story.lot.number}  {story.lot.name}", "", *_facts(story), *_holds(story)]
    for title, block in (
        ("Movements", _ledger(story)),
        ("Germination tests", _results(story)),
        ("Made of", _components(story)),
        ("Grow-outs", _grow_outs(story)),
        ("Preparing", _steps(story)),
        ("Packets", _packets(story)),
        ("Store", _stays(story)),
        ("Failures of the store", _failures(story)),
    ):
        if block:
            lines += ["", title, *block]
    return lines


def _facts(story: "LotStory") -> list[str]:
    shown, line = story.lot, story.lot.line
    return facts(
        (
            ("State", line.state),
            ("Botanical name", line.botanical_name),
            ("Grown at", line.place_grown or ""),
            ("Grower", line.grower or ""),
            ("Donor", story.donor or ""),
            ("Received", shown.received_words),
            ("Stock", _stock(story)),
            ("Reserve", f"{shown.reserve_seeds} seeds"),
            ("1000 seeds", _seed_weight(story)),
            ("Germination", _germination(story)),
            ("Next test", _due(story)),
            ("Identity", line.identity),
            ("Withdrawn", day(line.withdrawn_on) or ""),
            ("Treatment", line.treatment),
            ("Hybrid", "F1" if line.is_f1 else ""),
            ("Rights notice", line.rights_notice),
            ("Supplier's batch", line.supplier_batch),
            ("Made as", line.made_as),
            ("Plants", "" if story.plants is None else str(story.plants)),
            ("Isolation", story.isolation),
            ("Parents", ", ".join(story.parents)),
            ("Grown on as", ", ".join(story.children)),
            ("Notes", story.notes),
        )
    )


def _holds(story: "LotStory") -> list[str]:
    lines = []
    for mark in story.holds:
        note = f" ({mark.note})" if mark.note else ""
        ending = "in force" if mark.lifted_on is None else f"lifted {day(mark.lifted_on)}: {mark.lifted_why}"
        lines += wrapped(f"Hold since {day(mark.set_on)}: {mark.kind}{note}; {ending}")
    return lines


def _ledger(story: "LotStory") -> list[str]:
    from hilum.benches.lots import shown_amount

    unit = story.lot.line.unit
    rows = [
        (
            day(each.on) or "",
            each.kind,
            _signed(each.amount, unit),
            shown_amount(each.stock_after, unit),
            each.why,
        )
        for each in story.movements
    ]
    return table(LEDGER, rows)


def _results(story: "LotStory") -> list[str]:
    rows = [
        (
            day(each.finished_on) or each.state,
            str(each.seeds),
            "" if each.normal_percent is None else f"{each.normal_percent} %",
            _between(each.low_percent, each.high_percent),
            each.verdict or "",
            each.rules if each.origin == "here" else f"{each.rules}, {each.origin}",
        )
        for each in story.tests
    ]
    return table(RESULTS, rows)


def _packets(story: "LotStory") -> list[str]:
    from hilum.benches.lots import shown_amount

    rows = [
        (
            day(each.packed_on) or "",
            str(each.packets),
            str(each.packets_left),
            str(each.seeds_per_packet),
            "counted" if each.fill_mg is None else shown_amount(each.fill_mg, "mg"),
        )
        for each in story.batches
    ]
    return table(PACKETS, rows)


def _stays(story: "LotStory") -> list[str]:
    rows = [
        (day(each.from_on) or "", day(each.until_on) or "", each.path, each.container) for each in story.stays
    ]
    return table(STAYS, rows)


def _failures(story: "LotStory") -> list[str]:
    rows = [
        (
            day(each.from_on) or "",
            day(each.until_on) or "",
            each.kind if each.temperature_c is None else f"{each.kind}, reached {each.temperature_c:g} °C",
            each.note,
        )
        for each in story.failures
    ]
    return table(FAILURES, rows)


def _steps(story: "LotStory") -> list[str]:
    from hilum.benches.lots import shown_amount

    lines = []
    for each in story.steps:
        said = [
            "" if each.mass_mg is None else shown_amount(each.mass_mg, "mg"),
            each.evidence or "",
            "" if each.evidence_value is None else f"{each.evidence_value:g} %",
            ""
            if each.thousand_seed_weight_ug is None
            else f"{grams_of(each.thousand_seed_weight_ug):g} g a thousand",
            "" if each.temperature_c is None else f"{each.temperature_c:g} °C",
            "" if each.until_on is None else f"until {day(each.until_on)}",
            each.note,
        ]
        lines += wrapped(f"{day(each.on)}  {each.kind}  {', '.join(part for part in said if part)}")
    return lines


def _components(story: "LotStory") -> list[str]:
    return [
        f"{each.share_ppm / 10_000:5.1f} %  {each.lot}  {each.crop} “{each.variety}”"
        for each in story.components
    ]


def _grow_outs(story: "LotStory") -> list[str]:
    lines = []
    for each in story.grow_outs:
        plants = "" if each.plants is None else f", {each.plants} plants"
        off = "" if each.off_type is None else f", {each.off_type} off type"
        note = f", {each.note}" if each.note else ""
        lines += wrapped(f"{day(each.on)}  {each.result}{plants}{off}{note}")
    return lines


def _stock(story: "LotStory") -> str:
    shown = story.lot
    other = ""
    if shown.line.unit == "mg" and shown.stock_seeds is not None:
        other = f", about {shown.stock_seeds} seeds"
    elif shown.line.unit == "seeds" and shown.stock_mg is not None:
        other = f", about {shown.stock_mg / 1000:g} g"
    return shown.stock_words + other


def _seed_weight(story: "LotStory") -> str:
    weight_g = grams_of(story.lot.thousand_seed_weight_ug)
    if weight_g is None:
        return "not known"
    return f"{weight_g:g} g" + (
        " (the crop's usual figure)" if story.lot.thousand_seed_weight_is_estimate else ""
    )


def _germination(story: "LotStory") -> str:
    line, standard = story.lot.line, story.lot.standard_percent
    bar = "no standard" if standard is None else f"standard {standard} %"
    if line.germination_percent is None:
        return f"never tested ({bar})"
    return f"{line.germination_percent} %, tested {day(line.tested_on)} ({bar})"


def _due(story: "LotStory") -> str:
    line = story.lot.line
    if line.due_on is None:
        return line.due_bar
    barred = f"; not due now: {line.due_bar}" if line.due_bar else ""
    return f"{day(line.due_on)}: {line.due_why}{barred}"


def _signed(amount: int | None, unit: str) -> str:
    from hilum.benches.lots import shown_amount

    if amount is None:
        return "not weighed"
    return shown_amount(amount, unit) if amount < 0 else f"+{shown_amount(amount, unit)}"


def _between(low: float | None, high: float | None) -> str:
    return "" if low is None or high is None else f"{low:.0f} to {high:.0f} %"


def interval(low: float | None, high: float | None) -> list[float] | None:
    """Give an interval as a list of two figures with one decimal, or None."""
    return None if low is None or high is None else [round(low, 1), round(high, 1)]


def grams_of(weight_ug: int | None) -> float | None:
    """Give micrograms as grams."""
    return None if weight_ug is None else weight_ug / 1_000_000


def day(on: date | None) -> str | None:
    """Give a day as ISO text, or None."""
    return None if on is None else on.isoformat()
