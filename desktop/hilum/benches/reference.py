"""Crops, varieties, growers and places as the catalogue bench shows and changes them."""

from collections.abc import Mapping
from dataclasses import dataclass

from hilum.benches.testing import method_words
from hilum.catalogue import directory, names
from hilum.catalogue.crops import crop_id, own_crop, reference_crop
from hilum.catalogue.directory import CropLine, NameLine, VarietyLine
from hilum.catalogue.due import accepted_standard, interval_months, recompute, reserve_of
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput
from hilum.seedlore.cautions import WorkCaution, work_cautions
from hilum.seedlore.crops import Crop
from hilum.seedlore.methods import method
from hilum.seedlore.practice import PracticeFact, practice_facts

# Some eight lines on the back of a packet.
MOST_GROWING_NOTES = 400

__all__ = [
    "MOST_GROWING_NOTES",
    "CropLine",
    "CropPage",
    "NameLine",
    "VarietyLine",
    "WorkCaution",
    "crop_page",
    "crops",
    "growers",
    "places",
    "varieties",
    "work_cautions",
    "write_growing_notes",
]


@dataclass(frozen=True, slots=True)
class CropPage:
    """All that is known and set for one crop, each figure with where it comes from."""

    line: CropLine
    reference: Crop | None
    method_words: str
    method_source: str
    standard_percent: int | None
    standard_words: str
    interval_months: int
    interval_words: str
    reserve_seeds: int
    cautions: tuple[str, ...]
    practice: tuple[PracticeFact, ...]


def crops(catalogue: Catalogue, *, with_lots_only: bool = False) -> tuple[CropLine, ...]:
    """Give the crops with the number of their varieties and lots, by name."""
    with catalogue.look() as connection:
        return directory.crop_lines(connection, with_lots_only=with_lots_only)


def crop_page(catalogue: Catalogue, key: str) -> CropPage:
    """Give one crop whole."""
    with catalogue.look() as connection:
        line = directory.crop_line(connection, key)
        settings = read_settings(connection)
    reference = reference_crop(key)
    published = method(reference.method_key) if reference and reference.method_key else None
    least = accepted_standard(reference, line.standard_set)
    months, months_words = interval_months(reference, line.interval_set)
    if least is None:
        standard_words = "No published standard: set the library's own least germination."
    else:
        standard_words = f"{least.words} ({least.source})"
    return CropPage(
        line=line,
        reference=reference,
        method_words=method_words(published),
        method_source=published.source if published else "",
        standard_percent=None if least is None else round(least.percent),
        standard_words=standard_words,
        interval_months=months,
        interval_words=months_words,
        reserve_seeds=reserve_of(reference, line.reserve_set, None, settings),
        cautions=reference.cautions if reference else (),
        practice=practice_facts(key),
    )


def set_for_crop(catalogue: Catalogue, key: str, changes: Mapping[str, int | None]) -> CropPage:
    """Set the library's own standard_percent, interval_months or reserve_seeds for a crop; None means as published."""
    allowed = {"standard_percent", "interval_months", "reserve_seeds"}
    if set(changes) - allowed:
        raise BadInput(f"For a crop the library sets {', '.join(sorted(allowed))}.")
    limits = {"standard_percent": (1, 100), "interval_months": (1, 600), "reserve_seeds": (0, 1_000_000)}
    for name, value in changes.items():
        low, high = limits[name]
        if value is not None and not low <= value <= high:
            raise BadInput(f"{name.replace('_', ' ').capitalize()} goes from {low} to {high}, not {value}.")
    with catalogue.job(f"set rules for {key}") as job:
        directory.change_crop(job, crop_id(job.connection, key), changes)
        recompute(job, directory.lots_of_crop(job.connection, key))
    return crop_page(catalogue, key)


def add_crop(catalogue: Catalogue, name: str, botanical_name: str = "") -> CropPage:
    """Add a crop of the library's own; it has no reference facts."""
    with catalogue.job(f"add crop {name}") as job:
        key = directory.crop_key(job.connection, own_crop(job, name, botanical_name))
    return crop_page(catalogue, key)


def varieties(catalogue: Catalogue, *, crop: str = "", words: str = "") -> tuple[VarietyLine, ...]:
    """Give varieties with their synonyms and number of lots, of one crop key or of all."""
    with catalogue.look() as connection:
        return directory.variety_lines(connection, crop=crop, words=words)


def add_synonym(catalogue: Catalogue, variety_id: int, name: str) -> None:
    """Add another name of a variety, so that lots are found by it too."""
    with catalogue.job(f"add synonym {name}") as job:
        names.add_synonym(job, variety_id, name)
        refresh_find_text(job, directory.lots_of_variety(job.connection, variety_id))


def rename_variety(catalogue: Catalogue, variety_id: int, name: str) -> None:
    """Correct a variety's name; the old one is kept as a synonym."""
    with catalogue.job(f"rename variety to {name}") as job:
        directory.rename_variety(job, variety_id, name)
        refresh_find_text(job, directory.lots_of_variety(job.connection, variety_id))


def write_growing_notes(catalogue: Catalogue, variety: int | str, text: str) -> str:
    """Write how a variety is grown, in the library's own words, for packets and counter cards; gives them as kept.

    `variety` is its id, or the number of one of its lots. Line ends become blanks: a label sets its own lines. An
    empty text takes the notes away.
    """
    words = " ".join(text.split())
    if len(words) > MOST_GROWING_NOTES:
        raise BadInput(
            f"The growing notes have {len(words)} characters; at most {MOST_GROWING_NOTES} can stand on a packet. "
            "Say it shorter. Nothing was changed."
        )
    if any(not each.isprintable() for each in words):
        raise BadInput("The growing notes hold a character that cannot be printed. Type them anew.")
    with catalogue.job("write growing notes") as job:
        if isinstance(variety, str):
            variety = directory.variety_of_lot(job.connection, resolve_lot(job.connection, variety))
        directory.write_variety_note(job, variety, words)
    return words


def choose_group(catalogue: Catalogue, variety_id: int, key: str) -> None:
    """Move a variety to another crop, for one whose group was left open at intake; lot numbers stay."""
    with catalogue.job("choose the crop group") as job:
        directory.move_variety(job, variety_id, crop_id(job.connection, key))
        lots = directory.lots_of_variety(job.connection, variety_id)
        refresh_find_text(job, lots)
        recompute(job, lots)


def growers(catalogue: Catalogue) -> tuple[NameLine, ...]:
    """Give growers and donors with the number of their lots."""
    with catalogue.look() as connection:
        return directory.grower_lines(connection)


def places(catalogue: Catalogue) -> tuple[NameLine, ...]:
    """Give the places grown with the number of their lots."""
    with catalogue.look() as connection:
        return directory.place_lines(connection)
