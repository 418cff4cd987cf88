"""The counter: events, the ledger of packets handed out, and promised returns."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"

# What a keeper reads who writes to the ledger of packets past the program.
_LEDGER_STANDS = "a hand-out is never changed or deleted: take it back instead"


def upgrade() -> None:
    """Make the tables of the counter and guard its ledger in this engine's own words."""
    _make_event()
    _make_hand_out()
    _make_promised_return()
    if op.get_context().dialect.name == "sqlite":
        _guard_with_sqlite()
    else:
        _guard_with_postgresql()


def _make_event() -> None:
    op.create_table(
        "event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("season", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('swap day', 'post', 'school', 'other library', 'counter')",
            name=op.f("ck_event_kind_known"),
        ),
        sa.CheckConstraint("season BETWEEN 1900 AND 2200", name=op.f("ck_event_season_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_event")),
        sa.UniqueConstraint("folded", "season", name=op.f("uq_event_folded_season")),
    )


def _make_hand_out() -> None:
    op.create_table(
        "hand_out",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("packets", sa.Integer(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("event_id", sa.Integer()),
        sa.Column("to_id", sa.Integer()),
        sa.Column("person_id", sa.Integer()),
        sa.Column("why", sa.Text(), server_default="", nullable=False),
        sa.Column("takes_back_id", sa.Integer()),
        sa.Column("from_counts", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
        sa.CheckConstraint(
            "(takes_back_id IS NULL AND packets > 0) OR (takes_back_id IS NOT NULL AND packets < 0)",
            name=op.f("ck_hand_out_taking_back_points"),
        ),
        sa.ForeignKeyConstraint(["batch_id"], ["packet_batch.id"], name=op.f("fk_hand_out_batch_id")),
        sa.ForeignKeyConstraint(["event_id"], ["event.id"], name=op.f("fk_hand_out_event_id")),
        sa.ForeignKeyConstraint(["to_id"], ["person.id"], name=op.f("fk_hand_out_to_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_hand_out_person_id")),
        sa.ForeignKeyConstraint(["takes_back_id"], ["hand_out.id"], name=op.f("fk_hand_out_takes_back_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hand_out")),
        sa.UniqueConstraint("takes_back_id", name=op.f("uq_hand_out_takes_back_id")),
    )
    for column in ("batch_id", "event_id", "to_id", "on_date"):
        op.create_index(op.f(f"ix_hand_out_{column}"), "hand_out", [column])


def _make_promised_return() -> None:
    op.create_table(
        "promised_return",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("from_id", sa.Integer()),
        sa.Column("event_id", sa.Integer()),
        sa.Column("promised_on", sa.Date(), nullable=False),
        sa.Column("expected_by", sa.Date(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.Column("settled_on", sa.Date()),
        sa.Column("settled_why", sa.Text(), server_default="", nullable=False),
        sa.Column("returned_lot_id", sa.Integer()),
        sa.CheckConstraint(
            "expected_by >= promised_on", name=op.f("ck_promised_return_expected_after_promised")
        ),
        sa.CheckConstraint(
            "(settled_on IS NULL) = (returned_lot_id IS NULL AND length(settled_why) = 0)",
            name=op.f("ck_promised_return_settled_by_lot_or_reason"),
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_promised_return_lot_id")),
        sa.ForeignKeyConstraint(["from_id"], ["person.id"], name=op.f("fk_promised_return_from_id")),
        sa.ForeignKeyConstraint(["event_id"], ["event.id"], name=op.f("fk_promised_return_event_id")),
        sa.ForeignKeyConstraint(
            ["returned_lot_id"], ["lot.id"], name=op.f("fk_promised_return_returned_lot_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_promised_return")),
    )
    op.create_index(op.f("ix_promised_return_lot_id"), "promised_return", ["lot_id"])


def _guard_with_sqlite() -> None:
    refuse = f"BEGIN SELECT RAISE(ABORT, '{_LEDGER_STANDS}'); END"
    op.execute(f"CREATE TRIGGER hand_out_no_update BEFORE UPDATE ON hand_out {refuse}")
    op.execute(f"CREATE TRIGGER hand_out_no_delete BEFORE DELETE ON hand_out {refuse}")
    # INSERT OR REPLACE deletes past the trigger above unless the connection has recursive_triggers on.
    op.execute(
        "CREATE TRIGGER hand_out_no_replace BEFORE INSERT ON hand_out WHEN EXISTS "
        "(SELECT 1 FROM hand_out WHERE id = new.id OR takes_back_id = new.takes_back_id) " + refuse
    )


def _guard_with_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION hand_out_stands() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"RAISE EXCEPTION '{_LEDGER_STANDS}' USING ERRCODE = 'integrity_constraint_violation'; END $$"
    )
    refuse = "EXECUTE FUNCTION hand_out_stands()"
    op.execute(f"CREATE TRIGGER hand_out_no_update BEFORE UPDATE ON hand_out FOR EACH ROW {refuse}")
    op.execute(f"CREATE TRIGGER hand_out_no_delete BEFORE DELETE ON hand_out FOR EACH ROW {refuse}")
    op.execute(f"CREATE TRIGGER hand_out_no_truncate BEFORE TRUNCATE ON hand_out {refuse}")
