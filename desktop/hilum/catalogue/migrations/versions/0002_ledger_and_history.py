"""Lots poured together, facts that volunteers meet, grow-outs, and a history that the database itself guards."""

import re

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

_HISTORY_STANDS = "the history is never changed: take the edit back instead"
_BATCH_STANDS = "a packet batch is never changed or deleted: take the packing back instead"
_OTHER_LOT = "a correction belongs to the lot of the movement it corrects"
_NEW_KINDS = ("bulked", "mixed")
# All of an edit but the note that it was taken back.
_FIXED_OF_EDIT = (
    "id", "job", "what", "at", "person_id", "table_name", "row_id", "before", "after", "takes_back",
)  # fmt: skip
# What was packed stays; how many packets are left of it changes.
_FIXED_OF_BATCH = ("id", "lot_id", "packed_on", "packets", "seeds_per_packet", "fill_mg")


def upgrade() -> None:
    """Add the columns and tables; then what each engine says in its own words."""
    _widen_lot()
    _make_lot_component()
    _make_grow_out()
    op.add_column("history", sa.Column("takes_back", sa.String(length=36)))
    # An older catalogue noted only which job took an edit back; the other direction follows from that.
    op.execute(
        "UPDATE history SET takes_back = (SELECT min(taken.job) FROM history AS taken "
        "WHERE taken.taken_back_by = history.job) WHERE what = 'take back'"
    )
    if op.get_context().dialect.name == "sqlite":
        _let_movements_join_with_sqlite()
        _guard_with_sqlite()
    else:
        _let_movements_join_with_postgresql()
        _guard_with_postgresql()


def _widen_lot() -> None:
    op.add_column("lot", sa.Column("treatment", sa.Text(), server_default="", nullable=False))
    op.add_column("lot", sa.Column("is_f1", sa.Boolean(), server_default=sa.text("false"), nullable=False))
    op.add_column("lot", sa.Column("rights_notice", sa.Text(), server_default="", nullable=False))
    op.add_column("lot", sa.Column("supplier_batch", sa.Text(), server_default="", nullable=False))
    op.add_column("lot", sa.Column("made_as", sa.String(length=8), server_default="", nullable=False))
    op.add_column("lot", sa.Column("withdrawn_on", sa.Date()))


def _make_lot_component() -> None:
    op.create_table(
        "lot_component",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("parent_id", sa.Integer(), nullable=False),
        sa.Column("amount", sa.Integer(), nullable=False),
        sa.Column("share_ppm", sa.Integer(), nullable=False),
        sa.Column("share_by", sa.String(length=5), nullable=False),
        sa.CheckConstraint("amount > 0", name=op.f("ck_lot_component_amount_range")),
        sa.CheckConstraint("share_ppm BETWEEN 0 AND 1000000", name=op.f("ck_lot_component_share_ppm_range")),
        sa.CheckConstraint("share_by IN ('mg', 'seeds')", name=op.f("ck_lot_component_share_by_known")),
        sa.CheckConstraint("lot_id <> parent_id", name=op.f("ck_lot_component_not_of_itself")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_lot_component_lot_id")),
        sa.ForeignKeyConstraint(["parent_id"], ["lot.id"], name=op.f("fk_lot_component_parent_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot_component")),
        sa.UniqueConstraint("lot_id", "parent_id", name=op.f("uq_lot_component_lot_id_parent_id")),
    )
    op.create_index(op.f("ix_lot_component_parent_id"), "lot_component", ["parent_id"])


def _make_grow_out() -> None:
    op.create_table(
        "grow_out",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("result", sa.String(length=10), nullable=False),
        sa.Column("plants", sa.Integer()),
        sa.Column("off_type", sa.Integer()),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.CheckConstraint(
            "result IN ('seen true', 'not true', 'not clear')", name=op.f("ck_grow_out_result_known")
        ),
        sa.CheckConstraint("plants > 0", name=op.f("ck_grow_out_plants_range")),
        sa.CheckConstraint("off_type BETWEEN 0 AND plants", name=op.f("ck_grow_out_off_type_range")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_grow_out_lot_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_grow_out_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_grow_out")),
    )
    op.create_index(op.f("ix_grow_out_lot_id"), "grow_out", ["lot_id"])


def _let_movements_join_with_sqlite() -> None:
    """Make the ledger's table anew with a wider CHECK; all else of it comes from what the file itself says.

    SQLite changes no constraint in place. Columns, indexes and triggers that other steps added are kept.
    """
    connection = op.get_bind()
    made = "SELECT sql FROM sqlite_master WHERE tbl_name = 'movement' AND sql IS NOT NULL AND type = "
    [table] = connection.exec_driver_sql(made + "'table'").scalars()
    others = [
        *connection.exec_driver_sql(made + "'index'").scalars(),
        *connection.exec_driver_sql(made + "'trigger'").scalars(),
    ]
    more = ", ".join(f"'{kind}'" for kind in _NEW_KINDS)
    wider, found = re.subn(r"(kind IN \([^)]*)\)", rf"\1, {more})", table, count=1)
    begins, named = re.subn(r'^CREATE TABLE "?movement"?', "CREATE TABLE movement_wider", wider, count=1)
    if (found, named) != (1, 1):
        raise RuntimeError(f"the ledger's table is not made as expected: {table}")
    # Triggers of other tables may name the ledger, which is away for a moment.
    connection.exec_driver_sql("PRAGMA legacy_alter_table=ON")
    op.execute(begins)
    op.execute("INSERT INTO movement_wider SELECT * FROM movement")
    op.execute("DROP TABLE movement")
    op.execute("ALTER TABLE movement_wider RENAME TO movement")
    connection.exec_driver_sql("PRAGMA legacy_alter_table=OFF")
    for statement in others:
        # As text with a colon it would be read as having parameters.
        connection.exec_driver_sql(statement)


def _let_movements_join_with_postgresql() -> None:
    name = "ck_movement_kind_known"
    says = sa.text("SELECT pg_get_constraintdef(oid) FROM pg_constraint WHERE conname = :name")
    defined = str(op.get_bind().execute(says, {"name": name}).scalar_one())
    kinds = (*re.findall(r"'([^']*)'", defined), *_NEW_KINDS)
    op.drop_constraint(name, "movement", type_="check")
    listed = ", ".join(f"'{kind}'" for kind in kinds)
    op.execute(f"ALTER TABLE movement ADD CONSTRAINT {name} CHECK (kind IN ({listed}))")


def _guard_with_sqlite() -> None:
    def refuse(words: str) -> str:
        return f"BEGIN SELECT RAISE(ABORT, '{words}'); END"

    fixed = ", ".join(f'"{column}"' for column in _FIXED_OF_EDIT)
    op.execute(
        f"CREATE TRIGGER history_no_update BEFORE UPDATE OF {fixed} ON history {refuse(_HISTORY_STANDS)}"
    )
    # INSERT OR REPLACE deletes past the delete's trigger unless the connection has recursive_triggers on.
    for table, words in (("history", _HISTORY_STANDS), ("packet_batch", _BATCH_STANDS)):
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = new.id) {refuse(words)}"
        )
    fixed = ", ".join(_FIXED_OF_BATCH)
    op.execute(
        f"CREATE TRIGGER packet_batch_no_update BEFORE UPDATE OF {fixed} ON packet_batch {refuse(_BATCH_STANDS)}"
    )
    op.execute(f"CREATE TRIGGER packet_batch_no_delete BEFORE DELETE ON packet_batch {refuse(_BATCH_STANDS)}")
    op.execute(
        "CREATE TRIGGER movement_corrects_its_lot BEFORE INSERT ON movement WHEN new.corrects_id IS NOT NULL "
        "AND NOT EXISTS (SELECT 1 FROM movement WHERE id = new.corrects_id AND lot_id = new.lot_id) "
        + refuse(_OTHER_LOT)
    )


def _guard_with_postgresql() -> None:
    def function(name: str, words: str, condition: str) -> None:
        op.execute(
            f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF {condition} THEN "
            f"RAISE EXCEPTION '{words}' USING ERRCODE = 'integrity_constraint_violation'; END IF; "
            "RETURN NEW; END $$"
        )

    def differs(columns: tuple[str, ...]) -> str:
        # JSON has no equality; its text has.
        return " OR ".join(f'NEW."{name}"::text IS DISTINCT FROM OLD."{name}"::text' for name in columns)

    function("history_edit_stands", _HISTORY_STANDS, differs(_FIXED_OF_EDIT))
    op.execute(
        "CREATE TRIGGER history_no_update BEFORE UPDATE ON history "
        "FOR EACH ROW EXECUTE FUNCTION history_edit_stands()"
    )
    function("packet_batch_stands", _BATCH_STANDS, f"TG_OP <> 'UPDATE' OR {differs(_FIXED_OF_BATCH)}")
    op.execute(
        "CREATE TRIGGER packet_batch_no_change BEFORE UPDATE OR DELETE ON packet_batch "
        "FOR EACH ROW EXECUTE FUNCTION packet_batch_stands()"
    )
    op.execute(
        "CREATE TRIGGER packet_batch_no_truncate BEFORE TRUNCATE ON packet_batch "
        "EXECUTE FUNCTION packet_batch_stands()"
    )
    function(
        "movement_of_one_lot",
        _OTHER_LOT,
        "NEW.corrects_id IS NOT NULL AND NOT EXISTS "
        "(SELECT 1 FROM movement WHERE id = NEW.corrects_id AND lot_id = NEW.lot_id)",
    )
    op.execute(
        "CREATE TRIGGER movement_corrects_its_lot BEFORE INSERT ON movement "
        "FOR EACH ROW EXECUTE FUNCTION movement_of_one_lot()"
    )
