"""Find at any size: words in one spelling on both engines, an index for every order, searches kept by name."""

from collections.abc import Iterable, Iterator

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"

# What stood in catalogue/folding.py on the day of this step; a step means the same for ever.
_FIRST_WITHOUT_SPACES = "\u0900"
_LONGEST_WORD = 40
_AT_ONCE = 5_000
# Columns that lists are sorted by; the id makes the order whole and carries a page to the next.
_ORDERS = ("year", "stock", "germination_percent", "due_on", "received_on", "state")


def upgrade() -> None:
    """Add the two tables and the orders, then write every lot's words anew and index them."""
    op.create_table(
        "find_word",
        sa.Column("word", sa.String(length=40), nullable=False),
        sa.PrimaryKeyConstraint("word", name=op.f("pk_find_word")),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "saved_search",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("wanted", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_saved_search")),
        sa.UniqueConstraint("folded", name=op.f("uq_saved_search_folded")),
    )
    for column in _ORDERS:
        op.create_index(op.f(f"ix_lot_{column}_id"), "lot", [column, "id"])
    for flag in ("low", "below_standard"):
        op.create_index(
            f"ix_lot_{flag}",
            "lot",
            ["number"],
            sqlite_where=sa.text(f"{flag} IS 1"),
            postgresql_where=sa.text(f"{flag} IS true"),
        )
    op.create_index(op.f("ix_variety_folded_id"), "variety", ["folded", "id"])
    op.create_index(op.f("ix_variety_crop_id_folded_id"), "variety", ["crop_id", "folded", "id"])
    op.create_index(op.f("ix_crop_folded_id"), "crop", ["folded", "id"])
    if op.get_context().dialect.name == "sqlite":
        for trigger in ("insert", "delete", "update"):
            op.execute(f"DROP TRIGGER lot_find_{trigger}")
        op.execute("DROP TABLE lot_find")
        _write_words()
        _index_words_with_sqlite()
    else:
        op.execute("DROP INDEX ix_lot_find")
        _write_words()
        _index_words_with_postgresql()


def _write_words() -> None:
    """Write the find text of lots with other scripts or very long words anew, and note every word."""
    connection = op.get_bind()
    lot = sa.table("lot", sa.column("id"), sa.column("find_text"))
    find_word = sa.table("find_word", sa.column("word"))
    known: set[str] = set()
    last = 0
    while True:
        rows = connection.execute(
            sa.select(lot.c.id, lot.c.find_text).where(lot.c.id > last).order_by(lot.c.id).limit(_AT_ONCE)
        ).all()
        if not rows:
            return
        last = rows[-1].id
        changed, fresh = [], set[str]()
        for lot_id, text in rows:
            words = text.split(" ") if text else []
            fresh.update(_worth_noting(words))
            anew = " ".join(dict.fromkeys(_spread(words)))
            if anew != text:
                changed.append({"of_lot": lot_id, "text": anew})
        if changed:
            connection.execute(
                sa.update(lot)
                .where(lot.c.id == sa.bindparam("of_lot"))
                .values(find_text=sa.bindparam("text")),
                changed,
            )
        if fresh - known:
            connection.execute(sa.insert(find_word), [{"word": word} for word in sorted(fresh - known)])
            known |= fresh


def _worth_noting(words: list[str]) -> Iterator[str]:
    """Give the words somebody may mistype: not the lot number, which comes first, nor anything with digits."""
    code = words[0][:3] if words else ""
    for word in words[1:]:
        if word != code and len(word) > 1 and not any(ch.isdigit() for ch in word):
            yield word[:_LONGEST_WORD]


def _spread(words: Iterable[str]) -> Iterator[str]:
    for word in words:
        if max(word) < _FIRST_WITHOUT_SPACES:
            yield word[:_LONGEST_WORD]
        else:
            # Each place where such a word may be begun: the index looks for beginnings only.
            for start in range(len(word)):
                yield word[start : start + _LONGEST_WORD]


def _index_words_with_sqlite() -> None:
    # The words are folded already, so the tokenizer only has to part them at the blanks; it leaves whatever is
    # not ASCII alone. The index holds no text and no places of its own: it follows lot.find_text by the three
    # triggers. A rebuild of the lot table in a later step drops them, so it has to make them anew.
    op.execute(
        "CREATE VIRTUAL TABLE lot_find USING fts5(find_text, content='lot', content_rowid='id', "
        "tokenize='ascii', prefix='1 2 3 4', detail=none)"
    )
    op.execute("INSERT INTO lot_find (lot_find) VALUES ('rebuild')")
    put_in = "INSERT INTO lot_find (rowid, find_text) VALUES (new.id, new.find_text);"
    take_out = "INSERT INTO lot_find (lot_find, rowid, find_text) VALUES ('delete', old.id, old.find_text);"
    op.execute(f"CREATE TRIGGER lot_find_insert AFTER INSERT ON lot BEGIN {put_in} END")
    op.execute(f"CREATE TRIGGER lot_find_delete AFTER DELETE ON lot BEGIN {take_out} END")
    op.execute(
        "CREATE TRIGGER lot_find_update AFTER UPDATE OF id, find_text ON lot "
        "WHEN old.id IS NOT new.id OR old.find_text IS NOT new.find_text "
        f"BEGIN {take_out} {put_in} END"
    )


def _index_words_with_postgresql() -> None:
    # Parted at the blanks and nowhere else: the server's own parser reads numbers, addresses and versions.
    op.execute(
        "CREATE INDEX ix_lot_find ON lot USING gin (array_to_tsvector(string_to_array(find_text, ' ')))"
    )
    # Beginnings of numbers are looked up whatever order the database sorts words in.
    op.execute("CREATE INDEX ix_lot_find_number ON lot (number varchar_pattern_ops)")
