"""The store through time: what places were before, their readings, failures, and stocktakes with empty weights."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Make the tables of the store bench; a stay may know what its empty container weighs."""
    op.add_column("stay", sa.Column("tare_mg", sa.Integer()))
    op.add_column("store_place", sa.Column("closed_on", sa.Date()))
    _make_place_past()
    _make_reading()
    _make_store_failure()
    _make_stocktake()


def _make_place_past() -> None:
    op.create_table(
        "place_past",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("until_on", sa.Date(), nullable=False),
        sa.Column("parent_id", sa.Integer()),
        sa.Column("temperature_c", sa.Float()),
        sa.Column("humidity_percent", sa.Float()),
        sa.ForeignKeyConstraint(
            ["store_place_id"], ["store_place.id"], name=op.f("fk_place_past_store_place_id")
        ),
        sa.ForeignKeyConstraint(["parent_id"], ["store_place.id"], name=op.f("fk_place_past_parent_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_place_past")),
        sa.UniqueConstraint("store_place_id", "until_on", name=op.f("uq_place_past_store_place_id_until_on")),
    )
    op.create_index(op.f("ix_place_past_parent_id"), "place_past", ["parent_id"])


def _make_reading() -> None:
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("temperature_c", sa.Float()),
        sa.Column("lowest_c", sa.Float()),
        sa.Column("highest_c", sa.Float()),
        sa.Column("ageing_c", sa.Float()),
        sa.Column("humidity_percent", sa.Float()),
        sa.Column("readings", sa.Integer(), nullable=False),
        sa.Column("origin", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint("temperature_c BETWEEN -200 AND 80", name=op.f("ck_reading_temperature_c_range")),
        sa.CheckConstraint(
            "humidity_percent BETWEEN 0 AND 100", name=op.f("ck_reading_humidity_percent_range")
        ),
        sa.CheckConstraint(
            "temperature_c IS NOT NULL OR humidity_percent IS NOT NULL",
            name=op.f("ck_reading_says_something"),
        ),
        sa.CheckConstraint("readings > 0", name=op.f("ck_reading_readings_range")),
        sa.ForeignKeyConstraint(
            ["store_place_id"], ["store_place.id"], name=op.f("fk_reading_store_place_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sa.UniqueConstraint("store_place_id", "on_date", name=op.f("uq_reading_store_place_id_on_date")),
    )


def _make_store_failure() -> None:
    op.create_table(
        "store_failure",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("until_on", sa.Date(), nullable=False),
        sa.Column("temperature_c", sa.Float()),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint("kind IN ('too warm', 'opened wet')", name=op.f("ck_store_failure_kind_known")),
        sa.CheckConstraint("until_on >= from_on", name=op.f("ck_store_failure_until_after_from")),
        sa.CheckConstraint(
            "kind <> 'too warm' OR temperature_c IS NOT NULL", name=op.f("ck_store_failure_warm_has_figure")
        ),
        sa.ForeignKeyConstraint(
            ["store_place_id"], ["store_place.id"], name=op.f("fk_store_failure_store_place_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_store_failure")),
    )
    op.create_index(op.f("ix_store_failure_store_place_id"), "store_failure", ["store_place_id"])
    op.create_table(
        "store_failure_lot",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("failure_id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["failure_id"], ["store_failure.id"], name=op.f("fk_store_failure_lot_failure_id")
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_store_failure_lot_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_store_failure_lot")),
        sa.UniqueConstraint("failure_id", "lot_id", name=op.f("uq_store_failure_lot_failure_id_lot_id")),
    )
    op.create_index(op.f("ix_store_failure_lot_lot_id"), "store_failure_lot", ["lot_id"])


def _make_stocktake() -> None:
    op.create_table(
        "stocktake",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("begun_on", sa.Date(), nullable=False),
        sa.Column("ended_on", sa.Date()),
        sa.Column("state", sa.String(10), server_default="open", nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.CheckConstraint("state IN ('open', 'written', 'dropped')", name=op.f("ck_stocktake_state_known")),
        sa.CheckConstraint(
            "(state = 'open') = (ended_on IS NULL)", name=op.f("ck_stocktake_ended_if_closed")
        ),
        sa.ForeignKeyConstraint(
            ["store_place_id"], ["store_place.id"], name=op.f("fk_stocktake_store_place_id")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_stocktake_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stocktake")),
    )
    op.create_index(op.f("ix_stocktake_store_place_id"), "stocktake", ["store_place_id"])
    op.create_table(
        "stocktake_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("stocktake_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("lot_id", sa.Integer()),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("seen_by", sa.String(10), nullable=False),
        sa.Column("gross_mg", sa.Integer()),
        sa.Column("tare_mg", sa.Integer()),
        sa.Column("seeds", sa.Integer()),
        sa.CheckConstraint("seen_by IN ('scan', 'photo')", name=op.f("ck_stocktake_line_seen_by_known")),
        sa.CheckConstraint(
            "gross_mg >= 0 AND tare_mg >= 0 AND seeds >= 0", name=op.f("ck_stocktake_line_amounts_range")
        ),
        sa.ForeignKeyConstraint(
            ["stocktake_id"], ["stocktake.id"], name=op.f("fk_stocktake_line_stocktake_id")
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_stocktake_line_lot_id")),
        sa.ForeignKeyConstraint(
            ["store_place_id"], ["store_place.id"], name=op.f("fk_stocktake_line_store_place_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stocktake_line")),
        sa.UniqueConstraint("stocktake_id", "code", name=op.f("uq_stocktake_line_stocktake_id_code")),
    )
    op.create_index(op.f("ix_stocktake_line_lot_id"), "stocktake_line", ["lot_id"])
