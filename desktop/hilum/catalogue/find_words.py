"""The words that find goes by: as they stand in the index of each lot, and as a keeper types them."""

from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import (
    ColumnElement,
    Connection,
    String,
    cast,
    column,
    delete,
    func,
    insert,
    literal,
    literal_column,
    select,
    table,
)
from sqlalchemy.types import UserDefinedType

from hilum.catalogue.find_records import find_word
from hilum.catalogue.folding import fold
from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot

# Latin, Greek, Cyrillic, Armenian, Hebrew and Arabic lie below: scripts that put spaces between words. Above, an
# index of words would need the whole sentence typed, so a word may be begun anywhere inside.
FIRST_WITHOUT_SPACES = "\u0900"
# Two words that are alike so far are the same word: an index row has its limits (a server's, 2 kB).
LONGEST_WORD = 40
_AT_ONCE = 5_000
# More endings than this of one beginning are not asked for word by word.
MOST_ENDINGS = 200


def index_text(folded: Iterable[str]) -> str:
    """Give the text that stands in the find index for some folded words, each once."""
    return " ".join(dict.fromkeys(_spread(folded)))


def asked_words(typed: str) -> tuple[str, ...]:
    """Give the words to look for, folded, each once; every one stands for all words that it begins."""
    return tuple(dict.fromkeys(word[:LONGEST_WORD] for word in fold(typed).split()))


def _spread(folded: Iterable[str]) -> Iterator[str]:
    for word in folded:
        if max(word) < FIRST_WITHOUT_SPACES:
            yield word[:LONGEST_WORD]
        else:
            for start in range(len(word)):
                yield word[start : start + LONGEST_WORD]


def note_words(job: Job, folded: Iterable[str]) -> None:
    """Note the words of names and notes that are new to the catalogue; those with digits are not mistyped names."""
    words = {word[:LONGEST_WORD] for word in folded if len(word) > 1 and not any(ch.isdigit() for ch in word)}
    fresh = words - _known_among(job.connection, words)
    if fresh:
        job.run(insert(find_word), [{"word": word} for word in sorted(fresh)])


def forget_words(job: Job, folded: Iterable[str]) -> None:
    """Strike those of some words that no lot has any more."""
    for word in sorted(_known_among(job.connection, set(folded))):
        if not has_lots(job.connection, (word,), whole=True):
            job.run(delete(find_word).where(find_word.c.word == word))


def has_lots(connection: Connection, folded: Sequence[str], *, whole: bool = False) -> bool:
    """Say whether any lot has all of some words; each stands for what it begins, unless it is meant whole."""
    if connection.dialect.name == "sqlite":
        index = table("lot_find", column("rowid"))
        matches = literal_column("lot_find").op("MATCH")(file_query(folded, whole=whole))
        statement = select(index.c.rowid).where(matches)
    else:
        statement = select(lot.c.id).where(
            in_server_index(lot.c.find_text, server_query(folded, whole=whole))
        )
    return connection.execute(statement.limit(1)).first() is not None


def file_query(folded: Iterable[str], *, whole: bool = False) -> str:
    """Give words in the language of a file's index."""
    # In quotes a word is only a word; folded words hold no quotes, but the rule should not rest on that.
    return " AND ".join('"' + word.replace('"', '""') + ('"' if whole else '"*') for word in folded)


def server_query(folded: Iterable[str], *, whole: bool = False) -> str:
    """Give words in the language of a server's text search."""
    return " & ".join(
        "'" + word.replace("\\", "\\\\").replace("'", "''") + ("'" if whole else "':*") for word in folded
    )


def in_server_index(find_text: ColumnElement[str], query: str) -> ColumnElement[bool]:
    """Give the condition that a server's index answers; `query` is in the words of its text search."""
    # Must read exactly as in the index's own definition, or the server will not use it.
    parted = func.array_to_tsvector(func.string_to_array(find_text, literal_column("' '")))
    return parted.op("@@")(cast(literal(query, String), TSQUERY()))


class TSQUERY(UserDefinedType[str]):
    """A query of PostgreSQL's text search; its own dialect is not loaded for a catalogue in a file."""

    cache_ok = True

    def get_col_spec(self, **_: object) -> str:
        """Give the type's name on the server."""
        return "TSQUERY"


def _known_among(connection: Connection, words: set[str]) -> set[str]:
    listed, known = sorted(words), set[str]()
    for start in range(0, len(listed), _AT_ONCE):
        part = listed[start : start + _AT_ONCE]
        known.update(connection.execute(select(find_word.c.word).where(find_word.c.word.in_(part))).scalars())
    return known


def endings(connection: Connection, begun: str) -> tuple[str, ...] | None:
    """Give the known words that begin so, or None where they are too many to be named one by one."""
    rows = connection.execute(
        select(find_word.c.word)
        .where(find_word.c.word >= begun, find_word.c.word < begun + "\U0010ffff")
        .limit(MOST_ENDINGS + 1)
    )
    words = tuple(rows.scalars())
    return None if len(words) > MOST_ENDINGS else words
