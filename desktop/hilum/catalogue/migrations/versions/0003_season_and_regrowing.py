"""Lists of lots to pack for a season, packings that were taken back, and the regrowing of lots."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the season's lists, spoons, and regrowings; and to crops and batches what they need to know."""
    op.add_column("crop", sa.Column("packet_seeds", sa.Integer()))
    op.add_column("packet_batch", sa.Column("taken_back_on", sa.Date()))
    _make_season()
    _make_spoon_count()
    _make_regrowing()


def _make_season() -> None:
    op.create_table(
        "season_list",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_season_list")),
        sa.UniqueConstraint("folded", name=op.f("uq_season_list_folded")),
    )
    op.create_table(
        "season_row",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("season_list_id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("seeds_per_packet", sa.Integer(), nullable=False),
        sa.Column("packets", sa.Integer(), nullable=False),
        sa.Column("by_germination", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("ten_empty_mg", sa.Integer()),
        sa.Column("ten_filled_mg", sa.Integer()),
        sa.Column("checked_on", sa.Date()),
        sa.CheckConstraint("packets >= 0", name=op.f("ck_season_row_packets_range")),
        sa.CheckConstraint("seeds_per_packet > 0", name=op.f("ck_season_row_seeds_per_packet_range")),
        sa.CheckConstraint("ten_filled_mg >= ten_empty_mg", name=op.f("ck_season_row_filled_weighs_more")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_season_row_lot_id")),
        sa.ForeignKeyConstraint(
            ["season_list_id"], ["season_list.id"], name=op.f("fk_season_row_season_list_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_season_row")),
        sa.UniqueConstraint("season_list_id", "lot_id", name=op.f("uq_season_row_season_list_id_lot_id")),
    )
    op.create_index(op.f("ix_season_row_lot_id"), "season_row", ["lot_id"])
    op.create_table(
        "season_batch",
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("season_row_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["batch_id"], ["packet_batch.id"], name=op.f("fk_season_batch_batch_id")),
        sa.ForeignKeyConstraint(
            ["season_row_id"], ["season_row.id"], name=op.f("fk_season_batch_season_row_id")
        ),
        sa.PrimaryKeyConstraint("batch_id", name=op.f("pk_season_batch")),
    )
    op.create_index(op.f("ix_season_batch_season_row_id"), "season_batch", ["season_row_id"])


def _make_spoon_count() -> None:
    op.create_table(
        "spoon_count",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("spoon", sa.Text(), nullable=False),
        sa.Column("seeds_in_five", sa.Integer(), nullable=False),
        sa.Column("counted_on", sa.Date(), nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.CheckConstraint("seeds_in_five > 0", name=op.f("ck_spoon_count_seeds_in_five_range")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_spoon_count_lot_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_spoon_count_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_spoon_count")),
    )
    op.create_index(op.f("ix_spoon_count_lot_id"), "spoon_count", ["lot_id"])


def _make_regrowing() -> None:
    op.create_table(
        "regrowing",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=10), nullable=False),
        sa.Column("why", sa.Text(), server_default="", nullable=False),
        sa.Column("garden", sa.Text(), server_default="", nullable=False),
        sa.Column("bed", sa.Text(), server_default="", nullable=False),
        sa.Column("plants", sa.Integer(), nullable=False),
        sa.Column("losses_percent", sa.Integer(), nullable=False),
        sa.Column("seeds", sa.Integer(), nullable=False),
        sa.Column("isolation", sa.Text(), server_default="", nullable=False),
        sa.Column("planned_on", sa.Date(), nullable=False),
        sa.Column("sown_on", sa.Date()),
        sa.Column("seeds_sown", sa.Integer()),
        sa.Column("selected_on", sa.Date()),
        sa.Column("plants_kept", sa.Integer()),
        sa.Column("harvested_on", sa.Date()),
        sa.Column("new_lot_id", sa.Integer()),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint(
            "state IN ('planned', 'sown', 'selected', 'harvested', 'given up')",
            name=op.f("ck_regrowing_state_known"),
        ),
        sa.CheckConstraint("plants > 0 AND seeds > 0", name=op.f("ck_regrowing_plants_range")),
        sa.CheckConstraint("losses_percent BETWEEN 0 AND 99", name=op.f("ck_regrowing_losses_range")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_regrowing_lot_id")),
        sa.ForeignKeyConstraint(["new_lot_id"], ["lot.id"], name=op.f("fk_regrowing_new_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_regrowing")),
    )
    op.create_index(op.f("ix_regrowing_lot_id"), "regrowing", ["lot_id"])
    op.create_index(op.f("ix_regrowing_year"), "regrowing", ["year"])
