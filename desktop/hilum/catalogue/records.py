"""The tables of a catalogue, with every constraint named, the same on SQLite and PostgreSQL."""

from sqlalchemy import (
    JSON,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Float,
    ForeignKey,
    Index,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

# The tables of the store through time belong to the same metadata, and are loaded with these.
from hilum.catalogue import find_records as find_records  # noqa: PLC0414
from hilum.catalogue import store_records as store_records  # noqa: PLC0414
from hilum.catalogue.schema import metadata as metadata  # noqa: PLC0414
from hilum.catalogue.schema import one_of

MOVEMENT_KINDS = (
    "received", "cleaned", "test", "packed", "handed out", "sown", "returned", "stocktake", "discarded",
    "corrected", "bulked", "mixed",
)  # fmt: skip
UNITS = ("mg", "seeds")
STEP_KINDS = ("cleaned", "dried", "weighed", "counted", "frozen")
HOLD_KINDS = ("insects", "disease", "treated seed", "doubtful identity", "wet", "other")
IDENTITIES = ("claimed", "seen true", "unknown")
GROW_OUT_RESULTS = ("seen true", "not true", "not clear")
# How a lot was made of others, and by what the seed left them: one variety poured together, or several kept apart.
BULKED, MIXED = "bulked", "mixed"
PLACE_KINDS = ("room", "freezer", "fridge", "shelf", "box", "slot")


setting = Table(
    "setting",
    metadata,
    Column("name", String(60), primary_key=True),
    Column("value", JSON, nullable=False),
)

person = Table(
    "person",
    metadata,
    Column("id", Integer, primary_key=True),
    # Null once erased: history and ledger hold the id only.
    Column("name", Text),
    Column("folded", Text, nullable=False, server_default=""),
    Column("note", Text, nullable=False, server_default=""),
    Column("at_bench", Boolean, nullable=False, server_default=text("false")),
    Column("erased_on", Date),
)

place = Table(
    "place",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False, unique=True),
    Column("note", Text, nullable=False, server_default=""),
)

crop = Table(
    "crop",
    metadata,
    Column("id", Integer, primary_key=True),
    # The reference crop's key; a crop of the library's own has a key that begins with "own:" and one whose
    # group is still to be chosen has "open:" and its botanical name.
    Column("key", String(120), nullable=False, unique=True),
    Column("code", String(3), nullable=False, unique=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False),
    Column("botanical_name", Text, nullable=False, server_default=""),
    # What the library sets for itself stands before the reference figure; null means "as published".
    Column("standard_percent", Integer),
    Column("interval_months", Integer),
    Column("reserve_seeds", Integer),
    Column("packet_seeds", Integer),
    CheckConstraint("standard_percent BETWEEN 0 AND 100", name="standard_percent_range"),
    CheckConstraint("interval_months > 0", name="interval_months_range"),
    CheckConstraint("reserve_seeds >= 0", name="reserve_seeds_range"),
    Index("ix_crop_folded_id", "folded", "id"),
)

variety = Table(
    "variety",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("crop_id", ForeignKey("crop.id"), nullable=False, index=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False),
    # How it is grown, in the library's own words: printed on packets.
    Column("note", Text, nullable=False, server_default=""),
    UniqueConstraint("crop_id", "folded"),
    Index("ix_variety_folded_id", "folded", "id"),
    Index("ix_variety_crop_id_folded_id", "crop_id", "folded", "id"),
)

synonym = Table(
    "synonym",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("variety_id", ForeignKey("variety.id"), nullable=False),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False, index=True),
    UniqueConstraint("variety_id", "folded"),
)

store_place = Table(
    "store_place",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("parent_id", ForeignKey("store_place.id"), index=True),
    Column("kind", String(20), nullable=False),
    Column("name", Text, nullable=False),
    Column("temperature_c", Float),
    Column("humidity_percent", Float),
    Column("note", Text, nullable=False, server_default=""),
    # A place that is used no more; what lay in it is still told of it.
    Column("closed_on", Date),
    one_of("kind", PLACE_KINDS),
    CheckConstraint("humidity_percent BETWEEN 0 AND 100", name="humidity_percent_range"),
    CheckConstraint("temperature_c BETWEEN -200 AND 80", name="temperature_c_range"),
)

lot = Table(
    "lot",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("number", String(16), nullable=False, unique=True),
    Column("variety_id", ForeignKey("variety.id"), nullable=False, index=True),
    Column("year", Integer),
    Column("place_id", ForeignKey("place.id"), index=True),
    Column("grower_id", ForeignKey("person.id"), index=True),
    Column("donor_id", ForeignKey("person.id"), index=True),
    Column("received_on", Date, nullable=False),
    # A list may give only the year or the month of receipt; the first day stands in received_on.
    Column("received_precision", String(5), nullable=False, server_default="day"),
    Column("plants", Integer),
    Column("isolation", Text, nullable=False, server_default=""),
    Column("notes", Text, nullable=False, server_default=""),
    Column("identity", String(10), nullable=False, server_default="claimed"),
    Column("unit", String(5), nullable=False),
    # The running sum of the lot's movements; null while nothing has been weighed or counted.
    Column("stock", Integer),
    Column("stock_is_estimate", Boolean, nullable=False, server_default=text("false")),
    Column("thousand_seed_weight_ug", Integer),
    Column("moisture_percent_wb", Float),
    # Kept from the newest finished test so that lists need no second look.
    Column("germination_percent", Integer),
    Column("hard_percent", Integer),
    Column("tested_on", Date),
    # Kept by every operation that changes what it rests on (see due.py).
    Column("due_on", Date),
    Column("due_why", Text, nullable=False, server_default=""),
    Column("due_bar", String(20), nullable=False, server_default=""),
    Column("below_standard", Boolean),
    Column("low", Boolean, nullable=False, server_default=text("false")),
    Column("state", String(20), nullable=False, server_default="in hand"),
    Column("find_text", Text, nullable=False, server_default=""),
    Column("version", Integer, nullable=False, server_default="1"),
    # What seed was dressed with, as it is worded on the packet; empty for untreated seed.
    Column("treatment", Text, nullable=False, server_default=""),
    Column("is_f1", Boolean, nullable=False, server_default=text("false")),
    Column("rights_notice", Text, nullable=False, server_default=""),
    Column("supplier_batch", Text, nullable=False, server_default=""),
    Column("made_as", String(8), nullable=False, server_default=""),
    # A lot whose intake or joining was taken back: its number stays spent, and lists leave it out.
    Column("withdrawn_on", Date),
    CheckConstraint("stock IS NULL OR stock >= 0", name="stock_not_negative"),
    CheckConstraint("year IS NULL OR year BETWEEN 1800 AND 2200", name="year_range"),
    CheckConstraint("plants IS NULL OR plants > 0", name="plants_range"),
    CheckConstraint("thousand_seed_weight_ug IS NULL OR thousand_seed_weight_ug > 0", name="tsw_range"),
    CheckConstraint("germination_percent BETWEEN 0 AND 100", name="germination_percent_range"),
    CheckConstraint("received_precision IN ('day', 'month', 'year')", name="received_precision_known"),
    one_of("unit", UNITS),
    one_of("identity", IDENTITIES),
    # On PostgreSQL the same condition stands in the migration: naming it here would load that dialect at every start.
    Index("ix_lot_due", "due_on", "id", sqlite_where=text("due_bar = ''")),
    Index("ix_lot_low", "number", sqlite_where=text("low IS 1")),
    Index("ix_lot_below_standard", "number", sqlite_where=text("below_standard IS 1")),
    # Every order a list can be sorted in; the id makes it whole and carries one page to the next.
    *(
        Index(f"ix_lot_{column}_id", column, "id")
        for column in ("year", "stock", "germination_percent", "due_on", "received_on", "state")
    ),
)

lot_parent = Table(
    "lot_parent",
    metadata,
    Column("lot_id", ForeignKey("lot.id"), primary_key=True),
    Column("parent_id", ForeignKey("lot.id"), primary_key=True, index=True),
    CheckConstraint("lot_id <> parent_id", name="not_its_own_parent"),
)

grow_out = Table(
    "grow_out",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("on_date", Date, nullable=False),
    Column("result", String(10), nullable=False),
    # Plants looked at, and those among them that were not of the variety; null where nobody counted.
    Column("plants", Integer),
    Column("off_type", Integer),
    Column("note", Text, nullable=False, server_default=""),
    Column("person_id", ForeignKey("person.id")),
    CheckConstraint("plants > 0", name="plants_range"),
    CheckConstraint("off_type BETWEEN 0 AND plants", name="off_type_range"),
    one_of("result", GROW_OUT_RESULTS),
)

germination_test = Table(
    "germination_test",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("state", String(10), nullable=False),
    Column("started_on", Date, nullable=False),
    Column("finished_on", Date),
    # "here" or whose result it is.
    Column("origin", Text, nullable=False, server_default="here"),
    Column("rules", Text, nullable=False, server_default="home test"),
    Column("substrate", Text, nullable=False, server_default=""),
    Column("temperature", Text, nullable=False, server_default=""),
    Column("first_count_days", Integer),
    Column("final_count_days", Integer),
    Column("prechill_days", Integer, nullable=False, server_default="0"),
    Column("seeds", Integer, nullable=False),
    Column("normal_percent", Integer),
    Column("abnormal_percent", Integer),
    Column("hard_percent", Integer),
    Column("fresh_percent", Integer),
    Column("dead_percent", Integer),
    Column("not_classed_percent", Integer),
    Column("low_percent", Float),
    Column("high_percent", Float),
    Column("range_percent", Float),
    Column("allowed_percent", Float),
    Column("within_tolerance", Boolean),
    Column("standard_percent", Integer),
    Column("verdict", String(30)),
    Column("verdict_why", Text, nullable=False, server_default=""),
    Column("note", Text, nullable=False, server_default=""),
    # A test in groups: seeds in each, and the bar that says after each whether another is sown.
    Column("group_seeds", Integer),
    Column("bar_percent", Integer),
    Column("bar_counts_hard", Boolean),
    Column("bar_words", Text, nullable=False, server_default=""),
    CheckConstraint("state IN ('running', 'finished', 'abandoned')", name="state_known"),
    CheckConstraint("seeds > 0", name="seeds_range"),
    CheckConstraint("finished_on IS NULL OR finished_on >= started_on", name="finished_after_start"),
)

dish = Table(
    "dish",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("test_id", ForeignKey("germination_test.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("seeds", Integer, nullable=False),
    # The dish's own days; null in dishes laid before these were kept, which go by their test.
    Column("laid_on", Date),
    Column("first_count_on", Date),
    Column("final_count_on", Date),
    UniqueConstraint("test_id", "number"),
    CheckConstraint("seeds > 0", name="seeds_range"),
)

dish_count = Table(
    "dish_count",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("dish_id", ForeignKey("dish.id"), nullable=False),
    Column("on_date", Date, nullable=False),
    # Newly found on that day and taken out; null where the class was not looked at.
    Column("normal", Integer),
    Column("abnormal", Integer),
    Column("hard", Integer),
    Column("fresh", Integer),
    Column("dead", Integer),
    UniqueConstraint("dish_id", "on_date"),
)

packet_batch = Table(
    "packet_batch",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("packed_on", Date, nullable=False),
    Column("packets", Integer, nullable=False),
    Column("seeds_per_packet", Integer, nullable=False),
    Column("fill_mg", Integer),
    Column("packets_left", Integer, nullable=False),
    # Packets that were poured back; their movement has been corrected.
    Column("taken_back_on", Date),
    CheckConstraint("packets > 0 AND packets_left BETWEEN 0 AND packets", name="packets_range"),
    CheckConstraint("seeds_per_packet > 0", name="seeds_per_packet_range"),
)

movement = Table(
    "movement",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("kind", String(12), nullable=False),
    # In the lot's own unit, signed; null when what moved was neither weighed nor counted.
    Column("amount", Integer),
    Column("on_date", Date, nullable=False),
    Column("person_id", ForeignKey("person.id")),
    Column("why", Text, nullable=False, server_default=""),
    Column("corrects_id", ForeignKey("movement.id"), unique=True),
    Column("test_id", ForeignKey("germination_test.id")),
    Column("batch_id", ForeignKey("packet_batch.id")),
    Column("entered_at", DateTime, nullable=False),
    one_of("kind", MOVEMENT_KINDS),
    CheckConstraint("(kind = 'corrected') = (corrects_id IS NOT NULL)", name="correction_points"),
)

stay = Table(
    "stay",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("store_place_id", ForeignKey("store_place.id"), nullable=False, index=True),
    Column("from_on", Date, nullable=False),
    Column("until_on", Date),
    Column("container", Text, nullable=False, server_default=""),
    Column("airtight", Boolean),
    # What the empty container weighs, so that a jar can be weighed closed at a stocktake.
    Column("tare_mg", Integer),
    CheckConstraint("until_on IS NULL OR until_on >= from_on", name="until_after_from"),
)

preparing_step = Table(
    "preparing_step",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("kind", String(10), nullable=False),
    Column("on_date", Date, nullable=False),
    Column("until_on", Date),
    Column("mass_mg", Integer),
    Column("evidence", String(20)),
    Column("evidence_value", Float),
    # A test by hand may fail; seed sealed airtight since keeps its evidence, other evidence grows old.
    Column("evidence_passed", Boolean, nullable=False, server_default=text("true")),
    Column("sealed", Boolean, nullable=False, server_default=text("false")),
    Column("seeds", Integer),
    Column("replicates_mg", JSON),
    Column("thousand_seed_weight_ug", Integer),
    Column("cv_percent", Float),
    Column("temperature_c", Float),
    Column("person_id", ForeignKey("person.id")),
    Column("note", Text, nullable=False, server_default=""),
    one_of("kind", STEP_KINDS),
)

hold = Table(
    "hold",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("kind", String(20), nullable=False),
    Column("note", Text, nullable=False, server_default=""),
    Column("set_on", Date, nullable=False),
    Column("set_by", ForeignKey("person.id")),
    Column("lifted_on", Date),
    Column("lifted_by", ForeignKey("person.id")),
    Column("lifted_why", Text, nullable=False, server_default=""),
    one_of("kind", HOLD_KINDS),
    CheckConstraint("lifted_on IS NULL OR length(lifted_why) > 0", name="lifted_with_reason"),
)

history = Table(
    "history",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("job", String(36), nullable=False, index=True),
    Column("what", Text, nullable=False),
    Column("at", DateTime, nullable=False),
    Column("person_id", ForeignKey("person.id")),
    Column("table_name", String(30), nullable=False),
    Column("row_id", Integer, nullable=False),
    Column("before", JSON(none_as_null=True)),
    Column("after", JSON(none_as_null=True)),
    Column("taken_back_by", String(36)),
    # The job that this edit's own job took back.
    Column("takes_back", String(36)),
    Index("ix_history_row", "table_name", "row_id"),
)

# What was printed: each job, and the words of each of its labels, so that a label can be printed again.
