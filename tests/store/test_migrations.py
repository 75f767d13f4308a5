"""What older files held is what the tables of today say."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from support.ticket_rows import make_job

from fitcounter.store import readings
from fitcounter.store.database import Act, Store
from fitcounter.store.migrations import migrations
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
BY_THEIR_KEY = ("boot_readings", "leg_readings", "submissions")


def test_gaps_that_were_read_before_they_could_be_repeated_are_first_readings(tmp_path: Path):
    """A file of the fourth step is brought to today's tables with every gap in it."""
    store = Store(tmp_path / "shop.db")
    migrations.apply(store.db, stop_before="m0005_gap_repeats")
    job = make_job(store, Act(NOW))
    item = job.left
    with store.write_tx():
        gap = {
            "height_um": 304_800,
            "height_text": "12",
            "gap_um": 15_875,
            "gap_text": "5/8",
            "unit": "in",
            "read_at": "2026-01-01T00:00:00Z",
        }
        store.insert("gap_readings", item_id=item, kind="gap", **gap)
    store.close()
    later = open_store(tmp_path / "shop.db")
    assert [
        (one.gap_text, one.repeat)
        for one in readings.brought_in(later, job.fit_id, (item,)).gaps[item, "gap"]
    ] == [("5/8", 1)]
    later.close()


def test_readings_and_submissions_are_the_same_rows_when_they_are_kept_by_their_key(
    tmp_path: Path,
) -> None:
    """Every value of every row, whoever read it and whenever; what was sent is known again."""
    store = Store(tmp_path / "shop.db")
    migrations.apply(store.db, stop_before="m0084_by_their_key")
    job = make_job(store, Act(NOW))
    read = {"height_text": "10½", "girth_text": "14 1/2", "read_at": "2026-01-01T00:00:00Z"}
    with store.write_tx():
        for turn, moment in enumerate(("pickup", "comeback", "brought-in")):
            for repeat in (2, 1):
                at = {"height_um": 254_000 + turn, "girth_um": 368_300 - repeat, "unit": "in"}
                row = {**read, **at, "moment": moment, "repeat": repeat, "staff_id": turn or None}
                store.insert("boot_readings", item_id=job.left, method="outside", **row)
                store.insert("leg_readings", fit_id=job.fit_id, side="right", station="calf", **row)
        store.insert("submissions", id="twice-sent", body_hash="h", result="[]", at=read["read_at"])
    before = {table: values(store, table) for table in BY_THEIR_KEY}
    assert [len(rows) for rows in before.values()] == [6, 6, 1]
    store.close()
    later = open_store(tmp_path / "shop.db")
    assert {table: values(later, table) for table in BY_THEIR_KEY} == before
    later.close()


def values(store: Store, table: str) -> list[dict[str, object]]:
    """Its rows by all they say, without the number that they had."""
    rows = store.rows(f"SELECT * FROM {table}")
    for row in rows:
        if table != "submissions":
            row.pop("id", None)
    return sorted(rows, key=repr)
