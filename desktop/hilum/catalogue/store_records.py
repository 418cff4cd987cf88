"""The tables of the store through time: what places were, readings, failures, stocktakes."""

from sqlalchemy import (
    CheckConstraint,
    Column,
    Date,
    Float,
    ForeignKey,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from hilum.catalogue.schema import metadata, one_of

FAILURE_KINDS = ("too warm", "opened wet")
STOCKTAKE_STATES = ("open", "written", "dropped")
WAYS_OF_SEEING = ("scan", "photo")

# What a place was until a day: in what it lay and how it was set. What it is since then stands in store_place.
place_past = Table(
    "place_past",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False),
    Column("until_on", Date, nullable=False),
    Column("parent_id", ForeignKey("store_place.id"), index=True),
    Column("temperature_c", Float),
    Column("humidity_percent", Float),
    UniqueConstraint("store_place_id", "until_on"),
)

# The readings of one place on one day, thinned: mean, lowest, highest, and the steady temperature at which seed
# ages as much as at those of the day.
reading = Table(
    "reading",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False),
    Column("on_date", Date, nullable=False),
    Column("temperature_c", Float),
    Column("lowest_c", Float),
    Column("highest_c", Float),
    Column("ageing_c", Float),
    Column("humidity_percent", Float),
    Column("readings", Integer, nullable=False),
    # "typed", or the name of the logger's file.
    Column("origin", Text, nullable=False, server_default=""),
    UniqueConstraint("store_place_id", "on_date"),
    CheckConstraint("temperature_c BETWEEN -200 AND 80", name="temperature_c_range"),
    CheckConstraint("humidity_percent BETWEEN 0 AND 100", name="humidity_percent_range"),
    CheckConstraint("temperature_c IS NOT NULL OR humidity_percent IS NOT NULL", name="says_something"),
    CheckConstraint("readings > 0", name="readings_range"),
)

# A freezer that stood warm, or jars that were opened cold and drew damp; the lots it befell stand beside it.
store_failure = Table(
    "store_failure",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False, index=True),
    Column("kind", String(20), nullable=False),
    Column("from_on", Date, nullable=False),
    Column("until_on", Date, nullable=False),
    Column("temperature_c", Float),
    Column("note", Text, nullable=False, server_default=""),
    one_of("kind", FAILURE_KINDS),
    CheckConstraint("until_on >= from_on", name="until_after_from"),
    CheckConstraint("kind <> 'too warm' OR temperature_c IS NOT NULL", name="warm_has_figure"),
)

store_failure_lot = Table(
    "store_failure_lot",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("failure_id", ForeignKey("store_failure.id"), nullable=False),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    UniqueConstraint("failure_id", "lot_id"),
)

# A count of one place that may be broken off and taken up again; what was seen is working paper, not yet the record.
stocktake = Table(
    "stocktake",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False, index=True),
    Column("begun_on", Date, nullable=False),
    Column("ended_on", Date),
    Column("state", String(10), nullable=False, server_default="open"),
    Column("person_id", ForeignKey("person.id")),
    one_of("state", STOCKTAKE_STATES),
    CheckConstraint("(state = 'open') = (ended_on IS NULL)", name="ended_if_closed"),
)

stocktake_line = Table(
    "stocktake_line",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("stocktake_id", ForeignKey("stocktake.id"), nullable=False),
    # As it was read; a code that is no lot of this catalogue has no lot.
    Column("code", Text, nullable=False),
    Column("lot_id", ForeignKey("lot.id"), index=True),
    # Where it was seen: the counted place, or one in it.
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False),
    Column("seen_by", String(10), nullable=False),
    Column("gross_mg", Integer),
    Column("tare_mg", Integer),
    Column("seeds", Integer),
    UniqueConstraint("stocktake_id", "code"),
    one_of("seen_by", WAYS_OF_SEEING),
    CheckConstraint("gross_mg >= 0 AND tare_mg >= 0 AND seeds >= 0", name="amounts_range"),
)
