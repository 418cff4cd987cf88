"""The tables of the counter: events, the ledger of packets handed out, promised returns."""

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    ForeignKey,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from hilum.catalogue.records import metadata

EVENT_KINDS = ("swap day", "post", "school", "other library", "counter")

event = Table(
    "event",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("folded", Text, nullable=False),
    Column("kind", String(16), nullable=False),
    Column("season", Integer, nullable=False),
    UniqueConstraint("folded", "season"),
    CheckConstraint("kind IN ('swap day', 'post', 'school', 'other library', 'counter')", name="kind_known"),
    CheckConstraint("season BETWEEN 1900 AND 2200", name="season_range"),
)

hand_out = Table(
    "hand_out",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("batch_id", ForeignKey("packet_batch.id"), nullable=False, index=True),
    # Below nothing where the line takes another one back.
    Column("packets", Integer, nullable=False),
    Column("on_date", Date, nullable=False, index=True),
    Column("event_id", ForeignKey("event.id"), index=True),
    # Who got them, and who stood at the counter.
    Column("to_id", ForeignKey("person.id"), index=True),
    Column("person_id", ForeignKey("person.id")),
    Column("why", Text, nullable=False, server_default=""),
    Column("takes_back_id", ForeignKey("hand_out.id"), unique=True),
    # Typed in afterwards from a counting list rather than scanned.
    Column("from_counts", Boolean, nullable=False, server_default=text("false")),
    Column("entered_at", DateTime, nullable=False),
    CheckConstraint(
        "(takes_back_id IS NULL AND packets > 0) OR (takes_back_id IS NOT NULL AND packets < 0)",
        name="taking_back_points",
    ),
)

# What is known besides of a movement that is loose seed handed out, by weight or counted.
loose_hand_out = Table(
    "loose_hand_out",
    metadata,
    Column("movement_id", ForeignKey("movement.id"), primary_key=True),
    Column("event_id", ForeignKey("event.id"), index=True),
    Column("to_id", ForeignKey("person.id"), index=True),
)

promised_return = Table(
    "promised_return",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False, index=True),
    Column("from_id", ForeignKey("person.id")),
    Column("event_id", ForeignKey("event.id")),
    Column("promised_on", Date, nullable=False),
    Column("expected_by", Date, nullable=False),
    Column("note", Text, nullable=False, server_default=""),
    Column("settled_on", Date),
    Column("settled_why", Text, nullable=False, server_default=""),
    Column("returned_lot_id", ForeignKey("lot.id")),
    CheckConstraint("expected_by >= promised_on", name="expected_after_promised"),
    CheckConstraint(
        "(settled_on IS NULL) = (returned_lot_id IS NULL AND length(settled_why) = 0)",
        name="settled_by_lot_or_reason",
    ),
)
