"""The tables of the print book, beside those of `records`."""

from sqlalchemy import (
    JSON,
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
)

from hilum.catalogue.records import metadata

print_job = Table(
    "print_job",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("at", DateTime, nullable=False),
    Column("on_date", Date, nullable=False),
    Column("person_id", ForeignKey("person.id")),
    Column("title", Text, nullable=False),
    Column("design", Text, nullable=False),
    Column("label_stock", Text, nullable=False),
    # First free and spoiled positions, dots, other side, marks, order and groups.
    Column("choices", JSON, nullable=False),
    Column("labels", Integer, nullable=False),
    Column("pages", Integer, nullable=False),
    # Of the pages as they were proofed, before a printer's own correction.
    Column("sha256", String(64), nullable=False),
    # A printer, a file, or nothing.
    Column("went_to", Text, nullable=False, server_default=""),
    # The job whose labels were printed again.
    Column("again_id", ForeignKey("print_job.id")),
    CheckConstraint("labels > 0 AND pages > 0", name="labels_range"),
)

print_label = Table(
    "print_label",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("print_job_id", ForeignKey("print_job.id"), nullable=False),
    Column("place", Integer, nullable=False),
    Column("lot_id", ForeignKey("lot.id"), index=True),
    # The grower stands on a label by name; here by id, so that erasing a person erases the name here too.
    Column("grower_id", ForeignKey("person.id")),
    Column("key", Text, nullable=False),
    Column("fields", JSON, nullable=False),
    Column("code", Text),
    Column("copies", Integer, nullable=False),
    # The words of the separator that stood before its group.
    Column("behind", Text, nullable=False, server_default=""),
    UniqueConstraint("print_job_id", "place"),
    CheckConstraint("copies > 0", name="copies_range"),
)
