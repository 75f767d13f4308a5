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
