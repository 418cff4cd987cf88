"""What a lot was poured together or mixed from, beside the tables of `records`."""

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Integer,
    String,
    Table,
    UniqueConstraint,
)

from hilum.catalogue.records import UNITS
from hilum.catalogue.schema import metadata, one_of

lot_component = Table(
    "lot_component",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("lot_id", ForeignKey("lot.id"), nullable=False),
    Column("parent_id", ForeignKey("lot.id"), nullable=False, index=True),
    # What went in, in the unit of the lot that was made.
    Column("amount", Integer, nullable=False),
    # By seeds where every component's seed weight is known, else by weight.
    Column("share_ppm", Integer, nullable=False),
    Column("share_by", String(5), nullable=False),
    UniqueConstraint("lot_id", "parent_id"),
    CheckConstraint("amount > 0", name="amount_range"),
    CheckConstraint("share_ppm BETWEEN 0 AND 1000000", name="share_ppm_range"),
    CheckConstraint("lot_id <> parent_id", name="not_of_itself"),
    one_of("share_by", UNITS),
)
