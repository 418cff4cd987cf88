"""Find: lots by words in any order, and one lot by its number as typed or scanned."""

from collections.abc import Sequence

from sqlalchemy import (
    ColumnElement,
    Connection,
    String,
    and_,
    column,
    func,
    literal,
    literal_column,
    select,
    table,
    true,
)

from hilum.catalogue import numbering
from hilum.catalogue.find_words import (
    FIRST_WITHOUT_SPACES,
    asked_words,
    endings,
    file_query,
    in_server_index,
    server_query,
)
from hilum.catalogue.nearest import did_you_mean, nearest_lot_numbers
from hilum.catalogue.numbering import NoSuchLot
from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot

__all__ = [
    "did_you_mean", "lot_numbered", "matching", "nearest_lot_numbers", "newest_matches", "rebuild_index",
    "resolve_lot",
]  # fmt: skip

# Crop codes and check characters have no I and no O; a keyboard set to another layout swaps Y and Z.
_LOOKALIKES = str.maketrans("OI", "01")
_SWAPPED = str.maketrans("YZ", "ZY")
_EXAMPLE = "LEK-25-001-S"
_LONGEST_ECHO = 40
# A file's index keeps the beginnings of words up to this length ready; longer ones are asked for whole.
_READY_BEGINNING = 4
# Lots that a server walks through from the newest before it gathers every match: see `_newest_on_server`.
_WALKED = 8_000


def matching(connection: Connection, words: str) -> ColumnElement[bool] | None:
    """Give the condition on `lot` for all words, in any order, each from its beginning; None for no words.

    What was typed is never read as query syntax. The whole number of a lot finds that lot alone.
    """
    exact = lot_numbered(connection, words)
    if exact is not None:
        return lot.c.id == exact
    asked = asked_words(words)
    if not asked:
        return None
    if connection.dialect.name == "sqlite":
        index = table("lot_find", column("rowid"))
        return lot.c.id.in_(select(index.c.rowid).where(_in_file_index(connection, asked)))
    found = lot.alias("found")
    # An offset keeps the question apart: before its first statistics, the server would rather read every lot in
    # the order that is asked for, and take its words apart again.
    return lot.c.id.in_(
        select(found.c.id).where(in_server_index(found.c.find_text, server_query(asked))).offset(0)
    )


def newest_matches(
    connection: Connection,
    words: str,
    limit: int,
    *,
    before: int | None = None,
    also: ColumnElement[bool] | None = None,
) -> tuple[int, ...]:
    """Give the ids of the newest lots with all the words, newest first, without gathering every match.

    `before` is the id that the page before ended with; `also` a further condition on `lot`. For a word that
    half of all lots have this takes as long as for one that a few have.
    """
    exact = lot_numbered(connection, words)
    narrowed = true() if also is None else also
    if exact is not None:
        row = connection.execute(select(lot.c.id).where(lot.c.id == exact).where(narrowed)).scalar()
        return () if row is None or (before is not None and exact >= before) else (exact,)
    asked = asked_words(words)
    if connection.dialect.name == "sqlite":
        return _newest_in_file(connection, asked, limit, before, also)
    return _newest_on_server(connection, asked, limit, before, narrowed)


def _newest_in_file(
    connection: Connection,
    asked: Sequence[str],
    limit: int,
    before: int | None,
    also: ColumnElement[bool] | None,
) -> tuple[int, ...]:
    # The index hands out its rows in the order of their ids: the first page costs what its own rows cost.
    index = table("lot_find", column("rowid"))
    statement = select(index.c.rowid).where(_in_file_index(connection, asked))
    if before is not None:
        statement = statement.where(index.c.rowid < before)
    if also is not None:
        own = select(lot.c.id).where(lot.c.id == index.c.rowid).where(also)
        statement = statement.where(own.correlate(index).exists())
    return tuple(connection.execute(statement.order_by(index.c.rowid.desc()).limit(limit)).scalars())


def _newest_on_server(
    connection: Connection,
    asked: Sequence[str],
    limit: int,
    before: int | None,
    also: ColumnElement[bool],
) -> tuple[int, ...]:
    # Its index gathers every match before it gives the first. A word so common that this takes long is found
    # among the newest few thousand lots soon enough; one that is not is rare enough to be gathered.
    if before is None:
        before = 1 + int(connection.execute(select(func.coalesce(func.max(lot.c.id), 0))).scalar_one())
    text = literal(" ", String) + lot.c.find_text
    has_words = and_(*(text.contains(f" {word}", autoescape=True) for word in asked))
    page = select(lot.c.id).where(lot.c.id < before).where(also).order_by(lot.c.id.desc()).limit(limit)
    near = page.where(lot.c.id >= before - _WALKED).where(has_words)
    ids = tuple(connection.execute(near).scalars())
    if len(ids) == limit or before <= _WALKED:
        return ids
    found = lot.alias("found")
    matches = select(found.c.id).where(in_server_index(found.c.find_text, server_query(asked))).offset(0)
    return tuple(connection.execute(page.where(lot.c.id.in_(matches))).scalars())


def resolve_lot(connection: Connection, typed: str) -> int:
    """Give the id of the lot whose number was typed or scanned, with or without its hyphens.

    Raises NoSuchLot, which says what is wrong with the number and offers the nearest real ones.
    """
    found = lot_numbered(connection, typed)
    if found is not None:
        return found
    raise NoSuchLot(_what_is_wrong(connection, typed))


def rebuild_index(job: Job) -> None:
    """Make the find index of a catalogue file anew from the lots; a server keeps its own."""
    if job.connection.dialect.name == "sqlite":
        job.connection.exec_driver_sql("INSERT INTO lot_find (lot_find) VALUES ('rebuild')")


def _in_file_index(connection: Connection, asked: Sequence[str]) -> ColumnElement[bool]:
    query = " AND ".join(_as_asked(connection, word) for word in asked)
    return literal_column("lot_find").op("MATCH")(query)


def _as_asked(connection: Connection, word: str) -> str:
    """Give one word in the index's own words: by its beginning, or as all words that begin so."""
    begun = file_query([word])
    if len(word) <= _READY_BEGINNING or max(word) >= FIRST_WITHOUT_SPACES or any(ch.isdigit() for ch in word):
        return begun
    # The lots of a long beginning would first be gathered and sorted; those of whole words are ready one by one.
    whole = endings(connection, word)
    if not whole:
        return begun
    return "(" + " OR ".join(file_query([each], whole=True) for each in whole) + ")"


def lot_numbered(connection: Connection, typed: str) -> int | None:
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
    return lot.c.number == numbering.composed(bare)


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
