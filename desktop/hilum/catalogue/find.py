"""Find: lots by words in any order, and one lot by its number as typed or scanned."""

from sqlalchemy import (
    ColumnElement,
    Connection,
    and_,
    column,
    func,
    literal_column,
    select,
    table,
)

from hilum.catalogue import numbering
from hilum.catalogue.folding import fold
from hilum.catalogue.nearest import did_you_mean, nearest_lot_numbers
from hilum.catalogue.numbering import NoSuchLot
from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot

__all__ = ["did_you_mean", "matching", "nearest_lot_numbers", "rebuild_index", "resolve_lot"]

# Latin, Greek, Cyrillic, Armenian, Hebrew and Arabic lie below: scripts that put spaces between words. Above,
# an index of words would need the whole sentence typed, so those words are looked for inside the text.
_FIRST_WITHOUT_SPACES = "\u0900"
# Crop codes and check characters have no I and no O; a keyboard set to another layout swaps Y and Z.
_LOOKALIKES = str.maketrans("OI", "01")
_SWAPPED = str.maketrans("YZ", "ZY")
_EXAMPLE = "LEK-25-001-S"
_LONGEST_ECHO = 40


def matching(connection: Connection, words: str) -> ColumnElement[bool] | None:
    """Give the condition on `lot` for all words, in any order, each from its beginning; None for no words.

    What was typed is never read as query syntax. The whole number of a lot finds that lot alone.
    """
    exact = _lot_numbered(connection, words)
    if exact is not None:
        return lot.c.id == exact
    folded = tuple(dict.fromkeys(fold(words).split()))
    if not folded:
        return None
    indexed = [word for word in folded if max(word) < _FIRST_WITHOUT_SPACES]
    parts: list[ColumnElement[bool]] = [
        lot.c.find_text.contains(word, autoescape=True) for word in folded if word not in indexed
    ]
    if indexed:
        parts.append(
            _by_file_index(indexed) if connection.dialect.name == "sqlite" else _by_server_index(indexed)
        )
    return and_(*parts)


def resolve_lot(connection: Connection, typed: str) -> int:
    """Give the id of the lot whose number was typed or scanned, with or without its hyphens.

    Raises NoSuchLot, which says what is wrong with the number and offers the nearest real ones.
    """
    found = _lot_numbered(connection, typed)
    if found is not None:
        return found
    raise NoSuchLot(_what_is_wrong(connection, typed))


def rebuild_index(job: Job) -> None:
    """Make the find index of a catalogue file anew from the lots; a server keeps its own."""
    if job.connection.dialect.name == "sqlite":
        job.connection.exec_driver_sql("INSERT INTO lot_find (lot_find) VALUES ('rebuild')")


def _by_file_index(words: list[str]) -> ColumnElement[bool]:
    # In quotes a word is only a word; folded words hold no quotes, but the rule should not rest on that.
    query = " AND ".join('"' + word.replace('"', '""') + '"*' for word in words)
    index = table("lot_find", column("rowid"))
    return lot.c.id.in_(select(index.c.rowid).where(literal_column("lot_find").op("MATCH")(query)))


def _by_server_index(words: list[str]) -> ColumnElement[bool]:
    # The server reads "12e3a4" as a number and a word; asked for in quotes, it looks for the two in a row.
    query = " & ".join("'" + word.replace("\\", "\\\\").replace("'", "''") + "':*" for word in words)
    # Both must read exactly as in the index's own definition, or the server will not use it.
    simple: ColumnElement[str] = literal_column("'simple'")
    found = lot.alias("found")
    has_words = func.to_tsvector(simple, found.c.find_text).op("@@")(func.to_tsquery(simple, query))
    # An offset keeps the question apart: before its first statistics, the server would rather read every lot in
    # the order that is asked for, and take its words apart again.
    return lot.c.id.in_(select(found.c.id).where(has_words).offset(0))


def _lot_numbered(connection: Connection, typed: str) -> int | None:
    """Give the lot with this number; common slips are mended where the check character then confirms them."""
    # German keyboards make ß of a scanner's hyphen, which would become SS.
    bare = numbering.as_typed(typed.replace("ß", "-"))
    if not numbering.looks_like_number(bare):
        return None
    tried = [bare]
    for reading in (
        bare[:3] + bare[3:-1].replace("L", "1").translate(_LOOKALIKES) + bare[-1].translate(_LOOKALIKES),
        bare.translate(_SWAPPED),
    ):
        if reading not in tried and numbering.is_well_formed(reading):
            tried.append(reading)
    for reading in tried:
        found = connection.execute(select(lot.c.id).where(_has_number(reading))).scalar()
        if found is not None:
            return int(found)
    return None


def _has_number(bare: str) -> ColumnElement[bool]:
    """Compare with the number as it is composed, so that its index is used."""
    composed = "-".join((bare[:3], bare[3:5], bare[5:-1], bare[-1:]))
    return lot.c.number == composed


def _what_is_wrong(connection: Connection, typed: str) -> str:
    shown = " ".join(typed.split()).upper()
    bare = numbering.as_typed(typed.replace("ß", "-"))
    if not shown:
        return f"Type or scan a lot number, for example {_EXAMPLE}."
    if len(shown) > _LONGEST_ECHO:
        shown = shown[:_LONGEST_ECHO] + "…"
    if not numbering.looks_like_number(bare):
        trouble = f"{shown} is not a lot number; one looks like {_EXAMPLE}."
    elif numbering.is_well_formed(bare):
        trouble = f"There is no lot {shown} in this catalogue."
    else:
        trouble = f"{shown} is not a lot number ({_check_words(bare)})."
    near = nearest_lot_numbers(connection, typed)
    return f"{trouble} Nearest: {', '.join(near)}." if near else f"{trouble} No lot has a number near it."


def _check_words(bare: str) -> str:
    right = numbering.check_character(bare[:-1].replace("*", ""))
    return "it is mistyped" if right == "*" else f"its last character should be {right}"
