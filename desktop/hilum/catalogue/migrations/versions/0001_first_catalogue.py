"""The first catalogue: its tables, the guards of the ledger, and the find index."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

# What a keeper reads who writes to the ledger past the program.
_LEDGER_STANDS = "a movement is never changed or deleted: enter a correction instead"
_HISTORY_STANDS = "the history is never deleted"


def upgrade() -> None:
    """Make every table; then what only this engine's own words can say."""
    _make_crop()
    _make_person()
    _make_place()
    _make_setting()
    _make_store_place()
    _make_history()
    _make_variety()
    _make_lot()
    _make_synonym()
    _make_germination_test()
    _make_hold()
    _make_lot_parent()
    _make_packet_batch()
    _make_preparing_step()
    _make_stay()
    _make_dish()
    _make_movement()
    _make_dish_count()
    if op.get_context().dialect.name == "sqlite":
        _guard_with_sqlite()
        _index_words_with_sqlite()
    else:
        _guard_with_postgresql()
        _index_words_with_postgresql()


def _make_crop() -> None:
    op.create_table(
        "crop",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=False),
        sa.Column("code", sa.String(length=3), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("botanical_name", sa.Text(), server_default="", nullable=False),
        sa.Column("standard_percent", sa.Integer()),
        sa.Column("interval_months", sa.Integer()),
        sa.Column("reserve_seeds", sa.Integer()),
        sa.CheckConstraint("interval_months > 0", name=op.f("ck_crop_interval_months_range")),
        sa.CheckConstraint("reserve_seeds >= 0", name=op.f("ck_crop_reserve_seeds_range")),
        sa.CheckConstraint("standard_percent BETWEEN 0 AND 100", name=op.f("ck_crop_standard_percent_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_crop")),
        sa.UniqueConstraint("code", name=op.f("uq_crop_code")),
        sa.UniqueConstraint("key", name=op.f("uq_crop_key")),
    )


def _make_person() -> None:
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text()),
        sa.Column("folded", sa.Text(), server_default="", nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.Column("at_bench", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("erased_on", sa.Date()),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
    )


def _make_place() -> None:
    op.create_table(
        "place",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_place")),
        sa.UniqueConstraint("folded", name=op.f("uq_place_folded")),
    )


def _make_setting() -> None:
    op.create_table(
        "setting",
        sa.Column("name", sa.String(length=60), nullable=False),
        sa.Column("value", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_setting")),
    )


def _make_store_place() -> None:
    op.create_table(
        "store_place",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("parent_id", sa.Integer()),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("temperature_c", sa.Float()),
        sa.Column("humidity_percent", sa.Float()),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint(
            "kind IN ('room', 'freezer', 'fridge', 'shelf', 'box', 'slot')",
            name=op.f("ck_store_place_kind_known"),
        ),
        sa.CheckConstraint(
            "humidity_percent BETWEEN 0 AND 100", name=op.f("ck_store_place_humidity_percent_range")
        ),
        sa.CheckConstraint(
            "temperature_c BETWEEN -200 AND 80", name=op.f("ck_store_place_temperature_c_range")
        ),
        sa.ForeignKeyConstraint(["parent_id"], ["store_place.id"], name=op.f("fk_store_place_parent_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_store_place")),
    )
    op.create_index(op.f("ix_store_place_parent_id"), "store_place", ["parent_id"])


def _make_history() -> None:
    op.create_table(
        "history",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job", sa.String(length=36), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.Column("table_name", sa.String(length=30), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("before", sa.JSON()),
        sa.Column("after", sa.JSON()),
        sa.Column("taken_back_by", sa.String(length=36)),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_history_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_history")),
    )
    op.create_index(op.f("ix_history_job"), "history", ["job"])
    op.create_index("ix_history_row", "history", ["table_name", "row_id"])


def _make_variety() -> None:
    op.create_table(
        "variety",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crop_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["crop_id"], ["crop.id"], name=op.f("fk_variety_crop_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_variety")),
        sa.UniqueConstraint("crop_id", "folded", name=op.f("uq_variety_crop_id_folded")),
    )
    op.create_index(op.f("ix_variety_crop_id"), "variety", ["crop_id"])


def _make_lot() -> None:
    op.create_table(
        "lot",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(length=16), nullable=False),
        sa.Column("variety_id", sa.Integer(), nullable=False),
        sa.Column("year", sa.Integer()),
        sa.Column("place_id", sa.Integer()),
        sa.Column("grower_id", sa.Integer()),
        sa.Column("donor_id", sa.Integer()),
        sa.Column("received_on", sa.Date(), nullable=False),
        sa.Column("received_precision", sa.String(length=5), server_default="day", nullable=False),
        sa.Column("plants", sa.Integer()),
        sa.Column("isolation", sa.Text(), server_default="", nullable=False),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.Column("identity", sa.String(length=10), server_default="claimed", nullable=False),
        sa.Column("unit", sa.String(length=5), nullable=False),
        sa.Column("stock", sa.Integer()),
        sa.Column("stock_is_estimate", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("thousand_seed_weight_ug", sa.Integer()),
        sa.Column("moisture_percent_wb", sa.Float()),
        sa.Column("germination_percent", sa.Integer()),
        sa.Column("hard_percent", sa.Integer()),
        sa.Column("tested_on", sa.Date()),
        sa.Column("due_on", sa.Date()),
        sa.Column("due_why", sa.Text(), server_default="", nullable=False),
        sa.Column("due_bar", sa.String(length=20), server_default="", nullable=False),
        sa.Column("below_standard", sa.Boolean()),
        sa.Column("low", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("state", sa.String(length=20), server_default="in hand", nullable=False),
        sa.Column("find_text", sa.Text(), server_default="", nullable=False),
        sa.Column("version", sa.Integer(), server_default="1", nullable=False),
        sa.CheckConstraint(
            "identity IN ('claimed', 'seen true', 'unknown')", name=op.f("ck_lot_identity_known")
        ),
        sa.CheckConstraint(
            "received_precision IN ('day', 'month', 'year')", name=op.f("ck_lot_received_precision_known")
        ),
        sa.CheckConstraint("unit IN ('mg', 'seeds')", name=op.f("ck_lot_unit_known")),
        sa.CheckConstraint(
            "germination_percent BETWEEN 0 AND 100", name=op.f("ck_lot_germination_percent_range")
        ),
        sa.CheckConstraint("plants IS NULL OR plants > 0", name=op.f("ck_lot_plants_range")),
        sa.CheckConstraint("stock IS NULL OR stock >= 0", name=op.f("ck_lot_stock_not_negative")),
        sa.CheckConstraint(
            "thousand_seed_weight_ug IS NULL OR thousand_seed_weight_ug > 0", name=op.f("ck_lot_tsw_range")
        ),
        sa.CheckConstraint("year IS NULL OR year BETWEEN 1800 AND 2200", name=op.f("ck_lot_year_range")),
        sa.ForeignKeyConstraint(["donor_id"], ["person.id"], name=op.f("fk_lot_donor_id")),
        sa.ForeignKeyConstraint(["grower_id"], ["person.id"], name=op.f("fk_lot_grower_id")),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_lot_place_id")),
        sa.ForeignKeyConstraint(["variety_id"], ["variety.id"], name=op.f("fk_lot_variety_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot")),
        sa.UniqueConstraint("number", name=op.f("uq_lot_number")),
    )
    op.create_index(op.f("ix_lot_donor_id"), "lot", ["donor_id"])
    op.create_index(
        "ix_lot_due",
        "lot",
        ["due_on", "id"],
        sqlite_where=sa.text("due_bar = ''"),
        postgresql_where=sa.text("due_bar = ''"),
    )
    op.create_index(op.f("ix_lot_grower_id"), "lot", ["grower_id"])
    op.create_index(op.f("ix_lot_place_id"), "lot", ["place_id"])
    op.create_index(op.f("ix_lot_variety_id"), "lot", ["variety_id"])


def _make_synonym() -> None:
    op.create_table(
        "synonym",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("variety_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["variety_id"], ["variety.id"], name=op.f("fk_synonym_variety_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_synonym")),
        sa.UniqueConstraint("variety_id", "folded", name=op.f("uq_synonym_variety_id_folded")),
    )
    op.create_index(op.f("ix_synonym_folded"), "synonym", ["folded"])


def _make_germination_test() -> None:
    op.create_table(
        "germination_test",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=10), nullable=False),
        sa.Column("started_on", sa.Date(), nullable=False),
        sa.Column("finished_on", sa.Date()),
        sa.Column("origin", sa.Text(), server_default="here", nullable=False),
        sa.Column("rules", sa.Text(), server_default="home test", nullable=False),
        sa.Column("substrate", sa.Text(), server_default="", nullable=False),
        sa.Column("temperature", sa.Text(), server_default="", nullable=False),
        sa.Column("first_count_days", sa.Integer()),
        sa.Column("final_count_days", sa.Integer()),
        sa.Column("prechill_days", sa.Integer(), server_default="0", nullable=False),
        sa.Column("seeds", sa.Integer(), nullable=False),
        sa.Column("normal_percent", sa.Integer()),
        sa.Column("abnormal_percent", sa.Integer()),
        sa.Column("hard_percent", sa.Integer()),
        sa.Column("fresh_percent", sa.Integer()),
        sa.Column("dead_percent", sa.Integer()),
        sa.Column("not_classed_percent", sa.Integer()),
        sa.Column("low_percent", sa.Float()),
        sa.Column("high_percent", sa.Float()),
        sa.Column("range_percent", sa.Float()),
        sa.Column("allowed_percent", sa.Float()),
        sa.Column("within_tolerance", sa.Boolean()),
        sa.Column("standard_percent", sa.Integer()),
        sa.Column("verdict", sa.String(length=30)),
        sa.Column("verdict_why", sa.Text(), server_default="", nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint(
            "state IN ('running', 'finished', 'abandoned')", name=op.f("ck_germination_test_state_known")
        ),
        sa.CheckConstraint(
            "finished_on IS NULL OR finished_on >= started_on",
            name=op.f("ck_germination_test_finished_after_start"),
        ),
        sa.CheckConstraint("seeds > 0", name=op.f("ck_germination_test_seeds_range")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_germination_test_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_germination_test")),
    )
    op.create_index(op.f("ix_germination_test_lot_id"), "germination_test", ["lot_id"])


def _make_hold() -> None:
    op.create_table(
        "hold",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.Column("set_on", sa.Date(), nullable=False),
        sa.Column("set_by", sa.Integer()),
        sa.Column("lifted_on", sa.Date()),
        sa.Column("lifted_by", sa.Integer()),
        sa.Column("lifted_why", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint(
            "kind IN ('insects', 'disease', 'treated seed', 'doubtful identity', 'wet', 'other')",
            name=op.f("ck_hold_kind_known"),
        ),
        sa.CheckConstraint(
            "lifted_on IS NULL OR length(lifted_why) > 0", name=op.f("ck_hold_lifted_with_reason")
        ),
        sa.ForeignKeyConstraint(["lifted_by"], ["person.id"], name=op.f("fk_hold_lifted_by")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_hold_lot_id")),
        sa.ForeignKeyConstraint(["set_by"], ["person.id"], name=op.f("fk_hold_set_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hold")),
    )
    op.create_index(op.f("ix_hold_lot_id"), "hold", ["lot_id"])


def _make_lot_parent() -> None:
    op.create_table(
        "lot_parent",
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("parent_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("lot_id <> parent_id", name=op.f("ck_lot_parent_not_its_own_parent")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_lot_parent_lot_id")),
        sa.ForeignKeyConstraint(["parent_id"], ["lot.id"], name=op.f("fk_lot_parent_parent_id")),
        sa.PrimaryKeyConstraint("lot_id", "parent_id", name=op.f("pk_lot_parent")),
    )
    op.create_index(op.f("ix_lot_parent_parent_id"), "lot_parent", ["parent_id"])


def _make_packet_batch() -> None:
    op.create_table(
        "packet_batch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("packed_on", sa.Date(), nullable=False),
        sa.Column("packets", sa.Integer(), nullable=False),
        sa.Column("seeds_per_packet", sa.Integer(), nullable=False),
        sa.Column("fill_mg", sa.Integer()),
        sa.Column("packets_left", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "packets > 0 AND packets_left BETWEEN 0 AND packets", name=op.f("ck_packet_batch_packets_range")
        ),
        sa.CheckConstraint("seeds_per_packet > 0", name=op.f("ck_packet_batch_seeds_per_packet_range")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_packet_batch_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_packet_batch")),
    )
    op.create_index(op.f("ix_packet_batch_lot_id"), "packet_batch", ["lot_id"])


def _make_preparing_step() -> None:
    op.create_table(
        "preparing_step",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=10), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("until_on", sa.Date()),
        sa.Column("mass_mg", sa.Integer()),
        sa.Column("evidence", sa.String(length=20)),
        sa.Column("evidence_value", sa.Float()),
        sa.Column("evidence_passed", sa.Boolean(), server_default=sa.text("true"), nullable=False),
        sa.Column("sealed", sa.Boolean(), server_default=sa.text("false"), nullable=False),
        sa.Column("seeds", sa.Integer()),
        sa.Column("replicates_mg", sa.JSON()),
        sa.Column("thousand_seed_weight_ug", sa.Integer()),
        sa.Column("cv_percent", sa.Float()),
        sa.Column("temperature_c", sa.Float()),
        sa.Column("person_id", sa.Integer()),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.CheckConstraint(
            "kind IN ('cleaned', 'dried', 'weighed', 'counted', 'frozen')",
            name=op.f("ck_preparing_step_kind_known"),
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_preparing_step_lot_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_preparing_step_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_preparing_step")),
    )
    op.create_index(op.f("ix_preparing_step_lot_id"), "preparing_step", ["lot_id"])


def _make_stay() -> None:
    op.create_table(
        "stay",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("store_place_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("until_on", sa.Date()),
        sa.Column("container", sa.Text(), server_default="", nullable=False),
        sa.Column("airtight", sa.Boolean()),
        sa.CheckConstraint("until_on IS NULL OR until_on >= from_on", name=op.f("ck_stay_until_after_from")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_stay_lot_id")),
        sa.ForeignKeyConstraint(["store_place_id"], ["store_place.id"], name=op.f("fk_stay_store_place_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stay")),
    )
    op.create_index(op.f("ix_stay_lot_id"), "stay", ["lot_id"])
    op.create_index(op.f("ix_stay_store_place_id"), "stay", ["store_place_id"])


def _make_dish() -> None:
    op.create_table(
        "dish",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("test_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("seeds", sa.Integer(), nullable=False),
        sa.CheckConstraint("seeds > 0", name=op.f("ck_dish_seeds_range")),
        sa.ForeignKeyConstraint(["test_id"], ["germination_test.id"], name=op.f("fk_dish_test_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dish")),
        sa.UniqueConstraint("test_id", "number", name=op.f("uq_dish_test_id_number")),
    )


def _make_movement() -> None:
    op.create_table(
        "movement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=12), nullable=False),
        sa.Column("amount", sa.Integer()),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("person_id", sa.Integer()),
        sa.Column("why", sa.Text(), server_default="", nullable=False),
        sa.Column("corrects_id", sa.Integer()),
        sa.Column("test_id", sa.Integer()),
        sa.Column("batch_id", sa.Integer()),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
        sa.CheckConstraint(
            "(kind = 'corrected') = (corrects_id IS NOT NULL)", name=op.f("ck_movement_correction_points")
        ),
        sa.CheckConstraint(
            "kind IN ('received', 'cleaned', 'test', 'packed', 'handed out', "
            "'sown', 'returned', 'stocktake', 'discarded', 'corrected')",
            name=op.f("ck_movement_kind_known"),
        ),
        sa.ForeignKeyConstraint(["batch_id"], ["packet_batch.id"], name=op.f("fk_movement_batch_id")),
        sa.ForeignKeyConstraint(["corrects_id"], ["movement.id"], name=op.f("fk_movement_corrects_id")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_movement_lot_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_movement_person_id")),
        sa.ForeignKeyConstraint(["test_id"], ["germination_test.id"], name=op.f("fk_movement_test_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movement")),
        sa.UniqueConstraint("corrects_id", name=op.f("uq_movement_corrects_id")),
    )
    op.create_index(op.f("ix_movement_lot_id"), "movement", ["lot_id"])


def _make_dish_count() -> None:
    op.create_table(
        "dish_count",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("dish_id", sa.Integer(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("normal", sa.Integer()),
        sa.Column("abnormal", sa.Integer()),
        sa.Column("hard", sa.Integer()),
        sa.Column("fresh", sa.Integer()),
        sa.Column("dead", sa.Integer()),
        sa.ForeignKeyConstraint(["dish_id"], ["dish.id"], name=op.f("fk_dish_count_dish_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dish_count")),
        sa.UniqueConstraint("dish_id", "on_date", name=op.f("uq_dish_count_dish_id_on_date")),
    )


def _guard_with_sqlite() -> None:
    refuse_movement = f"BEGIN SELECT RAISE(ABORT, '{_LEDGER_STANDS}'); END"
    op.execute(f"CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement {refuse_movement}")
    op.execute(f"CREATE TRIGGER movement_no_delete BEFORE DELETE ON movement {refuse_movement}")
    # INSERT OR REPLACE deletes past the trigger above unless the connection has recursive_triggers on.
    op.execute(
        "CREATE TRIGGER movement_no_replace BEFORE INSERT ON movement WHEN EXISTS "
        "(SELECT 1 FROM movement WHERE id = new.id OR corrects_id = new.corrects_id) " + refuse_movement
    )
    op.execute(
        "CREATE TRIGGER history_no_delete BEFORE DELETE ON history "
        f"BEGIN SELECT RAISE(ABORT, '{_HISTORY_STANDS}'); END"
    )


def _index_words_with_sqlite() -> None:
    # The index holds no text of its own: it follows lot.find_text by the three triggers. A rebuild of the lot
    # table in a later migration drops them, so it has to make them anew.
    op.execute(
        "CREATE VIRTUAL TABLE lot_find USING fts5(find_text, content='lot', content_rowid='id', "
        "tokenize='unicode61 remove_diacritics 2', prefix='2 3')"
    )
    put_in = "INSERT INTO lot_find (rowid, find_text) VALUES (new.id, new.find_text);"
    take_out = "INSERT INTO lot_find (lot_find, rowid, find_text) VALUES ('delete', old.id, old.find_text);"
    op.execute(f"CREATE TRIGGER lot_find_insert AFTER INSERT ON lot BEGIN {put_in} END")
    op.execute(f"CREATE TRIGGER lot_find_delete AFTER DELETE ON lot BEGIN {take_out} END")
    op.execute(
        "CREATE TRIGGER lot_find_update AFTER UPDATE OF id, find_text ON lot "
        "WHEN old.id IS NOT new.id OR old.find_text IS NOT new.find_text "
        f"BEGIN {take_out} {put_in} END"
    )


def _guard_with_postgresql() -> None:
    for table, words in (("movement", _LEDGER_STANDS), ("history", _HISTORY_STANDS)):
        op.execute(
            f"CREATE FUNCTION {table}_stands() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            f"RAISE EXCEPTION '{words}' USING ERRCODE = 'integrity_constraint_violation'; END $$"
        )
        refuse = f"EXECUTE FUNCTION {table}_stands()"
        op.execute(f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} FOR EACH ROW {refuse}")
        op.execute(f"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} {refuse}")
    op.execute(
        "CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement "
        "FOR EACH ROW EXECUTE FUNCTION movement_stands()"
    )


def _index_words_with_postgresql() -> None:
    op.execute("CREATE INDEX ix_lot_find ON lot USING gin (to_tsvector('simple', find_text))")
