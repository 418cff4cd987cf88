"""The tables of packing for a season and of regrowing, beside those of `records`."""

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    ForeignKey,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from hilum.catalogue.schema import metadata, one_of

REGROWING_STATES = ("planned", "sown", "selected", "harvested", "given up")

season_list = Table(
    "season_list",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False, unique=True),
    Column("made_on", Date, nullable=False),
)

season_row = Table(
    "season_row",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("season_list_id", ForeignKey("season_list.id"), nullable=False),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("place", Integer, nullable=False),
    Column("seeds_per_packet", Integer, nullable=False),
    # Wanted for the whole season; what has been packed of them is the sum of the row's batches.
    Column("packets", Integer, nullable=False),
    Column("by_germination", Boolean, nullable=False, server_default=text("false")),
    # The check weight: ten packets weighed empty and filled.
    Column("ten_empty_mg", Integer),
    Column("ten_filled_mg", Integer),
    Column("checked_on", Date),
    UniqueConstraint("season_list_id", "lot_id"),
    CheckConstraint("packets >= 0", name="packets_range"),
    CheckConstraint("seeds_per_packet > 0", name="seeds_per_packet_range"),
    CheckConstraint("ten_filled_mg >= ten_empty_mg", name="filled_weighs_more"),
)

season_batch = Table(
    "season_batch",
    metadata,
    Column("batch_id", ForeignKey("packet_batch.id"), primary_key=True),
    Column("season_row_id", ForeignKey("season_row.id"), nullable=False, index=True),
)

spoon_count = Table(
    "spoon_count",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("spoon", Text, nullable=False),
    Column("seeds_in_five", Integer, nullable=False),
    Column("counted_on", Date, nullable=False),
    Column("person_id", ForeignKey("person.id")),
    CheckConstraint("seeds_in_five > 0", name="seeds_in_five_range"),
)

regrowing = Table(
    "regrowing",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    # The year in which it is sown.
    Column("year", Integer, nullable=False, index=True),
    Column("state", String(10), nullable=False),
    Column("why", Text, nullable=False, server_default=""),
    Column("garden", Text, nullable=False, server_default=""),
    Column("bed", Text, nullable=False, server_default=""),
    Column("plants", Integer, nullable=False),
    Column("losses_percent", Integer, nullable=False),
    Column("seeds", Integer, nullable=False),
    Column("isolation", Text, nullable=False, server_default=""),
    Column("planned_on", Date, nullable=False),
    Column("sown_on", Date),
    Column("seeds_sown", Integer),
    Column("selected_on", Date),
    Column("plants_kept", Integer),
    Column("harvested_on", Date),
    Column("new_lot_id", ForeignKey("lot.id")),
    Column("notes", Text, nullable=False, server_default=""),
    one_of("state", REGROWING_STATES),
    CheckConstraint("plants > 0 AND seeds > 0", name="plants_range"),
    CheckConstraint("losses_percent BETWEEN 0 AND 99", name="losses_range"),
)
