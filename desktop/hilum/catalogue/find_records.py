"""The tables of find: every word there is, and the searches that keepers have saved."""

from sqlalchemy import JSON, Column, Integer, String, Table, Text

from hilum.catalogue.schema import metadata

# Every word that stands, or stood, in the names and notes of a lot: for suggestions, and to ask the index of a
# file for whole words. A word that no lot has any more does no harm: what is offered is looked for first.
find_word = Table(
    "find_word", metadata, Column("word", String(40), primary_key=True), sqlite_with_rowid=False
)

saved_search = Table(
    "saved_search",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False, unique=True),
    # A filter of lots and its order, as the bench writes them.
    Column("wanted", JSON, nullable=False),
)
