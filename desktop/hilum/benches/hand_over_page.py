"""The page of the pack for the next keeper, as one HTML file that any browser shows and prints."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from hilum.benches.views import LotView
from hilum.benches.wording import month_words

_STYLE = (
    "body{font:16px/1.5 Georgia,serif;max-width:52em;margin:2em auto;padding:0 1em;color:#222;background:#fff}"
    "h1{font-size:1.7em}h2{font-size:1.25em;margin-top:2em;border-bottom:1px solid #bbb}"
    "table{border-collapse:collapse;width:100%;font-size:.92em}th{text-align:left;border-bottom:1px solid #888}"
    "td,th{padding:.25em .8em .25em 0;vertical-align:top}td{border-bottom:1px solid #ddd}code{font-size:.95em}"
    "@media print{body{margin:0;max-width:none}h2{break-after:avoid}tr{break-inside:avoid}}"
)


@dataclass(frozen=True, slots=True)
class PackFacts:
    """What the page tells of."""

    library: str
    on: date
    files: tuple[tuple[str, str], ...]
    with_people: bool
    lots: tuple[LotView, ...]
    coming: tuple[LotView, ...]
    warnings: tuple[str, ...]
    has_copy: bool


def pack_page(facts: PackFacts) -> str:
    """Give the page: what is here, how to go on with it, what is due, scarce, held and poisonous."""
    parts = [
        f"<h1>{escape(facts.library)}</h1>",
        f"<p>For the next keeper, written on {facts.on.isoformat()}: {len(facts.lots):,} lots. {_people(facts)}</p>",
        *_warnings(facts),
        "<h2>What lies here</h2>",
        _table(("File", "What it is"), facts.files),
        "<h2>How to go on with it</h2>",
        _going_on(facts),
        "<h2>Due for a germination test in the next twelve months</h2>",
        _due(facts.coming),
        *_section("Scarce: little seed above the reserve", _scarce(facts.lots)),
        *_section("On hold, or without a sure name", _held(facts.lots)),
        *_section("Handle with care", _care(facts.lots)),
    ]
    title = escape(f"{facts.library}: for the next keeper")
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{_STYLE}</style></head>\n<body>\n" + "\n".join(parts) + "\n</body></html>\n"
    )


def _people(facts: PackFacts) -> str:
    if facts.with_people:
        return "The names of growers and helpers are in it: keep it where nobody else reads it."
    return "The names of growers and helpers were left out. What somebody wrote into notes or reasons was not read."


def _warnings(facts: PackFacts) -> list[str]:
    if not facts.warnings:
        return []
    return ["<ul>", *(f"<li><strong>{escape(words)}</strong></li>" for words in facts.warnings), "</ul>"]


def _going_on(facts: PackFacts) -> str:
    if not facts.has_copy:
        return "<p>Ask whoever runs the server for an account and the address, and open it with Hilum.</p>"
    steps = (
        "Install Hilum, and copy <code>catalogue.hilum</code> to a folder of your own computer.",
        "Open it from the menu Library, <em>Open another catalogue</em>; or put it in the place of another with "
        "<code>hilum restore catalogue.hilum --catalogue library.hilum</code> (the one that was there is kept).",
        "Let it be looked through once: Library, <em>Check the whole catalogue</em>, or <code>hilum check</code>.",
        "Own designs and other folders in this pack go beside the catalogue, under its name.",
        "Without Hilum: <code>lots.csv</code> opens in any spreadsheet, and the PDF lists print as they are.",
    )
    return "<ol>" + "".join(f"<li>{step}</li>" for step in steps) + "</ol>"


def _due(coming: Sequence[LotView]) -> str:
    if not coming:
        return "<p>Nothing falls due in that time.</p>"
    rows = [
        (
            ""
            if lot.line.due_on is None
            else f"{lot.line.due_on.isoformat()} ({month_words(lot.line.due_on)})",
            lot.number,
            lot.name,
            lot.line.due_why,
        )
        for lot in coming
    ]
    return _table(("Date", "Lot", "Seed", "Why"), rows)


def _scarce(lots: Iterable[LotView]) -> list[tuple[str, ...]]:
    return [
        (lot.number, lot.name, lot.stock_words, f"{lot.reserve_seeds} seeds") for lot in lots if lot.line.low
    ]


def _held(lots: Iterable[LotView]) -> list[tuple[str, ...]]:
    return [
        (lot.number, lot.name, lot.line.state, f"identity {lot.line.identity}")
        for lot in lots
        if lot.line.state == "held" or lot.line.identity == "unknown"
    ]


def _care(lots: Iterable[LotView]) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for lot in lots:
        said = [f"treated seed ({lot.line.treatment})"] if lot.line.treatment else []
        said += [f"rights notice: {lot.line.rights_notice}"] if lot.line.rights_notice else []
        if lot.reference is not None and lot.reference.poisonous:
            said.append(lot.reference.label_caution or "poisonous")
        if said:
            rows.append((lot.number, lot.name, "; ".join(said), "check with your local authority"))
    return rows


def _section(title: str, rows: Sequence[Sequence[str]]) -> list[str]:
    return [f"<h2>{escape(title)}</h2>", _table((), rows)] if rows else []


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    head = "<tr>" + "".join(f"<th>{escape(text)}</th>" for text in headings) + "</tr>" if headings else ""
    body = "".join("<tr>" + "".join(f"<td>{escape(text)}</td>" for text in row) + "</tr>" for row in rows)
    return f"<table>{head}{body}</table>"
