"""Passport data: one line a lot by FAO/Bioversity Multi-Crop Passport Descriptors V.2.1 (2015), tab-separated.

Only what the library knows is filled; a field of which nothing is known is empty, as the standard's rules ask.
"""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.exchange.words import clean_text, one_line
from hilum.exchange.writing import put_whole

# The descriptors a seed library can fill, in the order of the standard.
FIELDS = (
    "INSTCODE", "ACCENUMB", "GENUS", "SPECIES", "SUBTAXA", "CROPNAME", "ACCENAME", "ACQDATE", "DONORNAME", "REMARKS",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Passport:
    """What is known of one lot, in our own words."""

    lot: str
    botanical_name: str
    crop: str
    names: tuple[str, ...]
    received_on: date
    received_precision: str
    donor: str
    library: str
    year: int | None
    place_grown: str


def passport_row(lot: Passport) -> tuple[str, ...]:
    """Give one line of FIELDS.

    No institute code is ever made up: the library's name stands in REMARKS instead.
    """
    genus, species, below = _taxon(lot.botanical_name)
    remarks = [f"INSTCODE:{lot.library}", "ACCENUMB:a lot, finer than an accession"]
    remarks += [f"ACQDATE:harvest {lot.year}"] if lot.year is not None else []
    remarks += [f"COLLSITE:grown at {lot.place_grown}"] if lot.place_grown else []
    return tuple(
        one_line(clean_text(cell))
        for cell in (
            "", lot.lot, genus, species, below, lot.crop, _several(lot.names),
            _date(lot.received_on, lot.received_precision), _one(lot.donor), _several(tuple(remarks)),
        )
    )  # fmt: skip


def write_passports(path: Path, lots: tuple[Passport, ...]) -> int:
    """Write a tab-separated file with the exact field names in its first line; gives the number of lines below."""
    lines = ["\t".join(cells) for cells in (FIELDS, *(passport_row(lot) for lot in lots))]
    put_whole(path, ("\r\n".join(lines) + "\r\n").encode("utf-8"))
    return len(lots)


def _date(on: date, precision: str) -> str:
    """Give YYYYMMDD with hyphens for what is not known."""
    return {"year": f"{on:%Y}----", "month": f"{on:%Y%m}--"}.get(precision, f"{on:%Y%m%d}")


def _one(text: str) -> str:
    # A semicolon would part one value into two.
    return text.replace(";", ",")


def _several(texts: tuple[str, ...]) -> str:
    return ";".join(_one(text) for text in texts if text)


def _taxon(botanical: str) -> tuple[str, str, str]:
    """Part a botanical name into genus, species and what stands below the species."""
    words = botanical.replace("×", " ").split()
    if not words:
        return "", "", ""
    species = words[1] if len(words) > 1 and words[1][:1].islower() else ""
    return words[0].capitalize(), species, " ".join(words[2:] if species else words[1:])
