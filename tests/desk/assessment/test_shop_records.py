"""What the shop has learnt of a leather: from every boot that was read, by pairs, and never from
the boots that are asked about.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.assessment import shop_records
from fitcounter.fit.assessment.kept import Round, boot_record, class_kept
from fitcounter.store.database import Act, Store, utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
CODE = "supple-full-grain"


def one_round(store: Store, item_id: int, kept: float, **more: object) -> None:
    """A day on the tree, opened 20 mm, of which so much stayed."""
    store.db.execute("UPDATE items SET material = ? WHERE id = ?", [CODE, item_id])
    columns = {"rested_um": round(360_000 + 20_000 * kept), **more}
    row_id = store.insert(
        "rounds",
        item_id=item_id,
        n=1,
        prepared="conditioned",
        rested_method="outside",
        before_um=360_000,
        on_at=utc_text(NOW),
        off_at=utc_text(NOW + timedelta(hours=24)),
        rested_at=utc_text(NOW + timedelta(hours=50)),
        **columns,
    )
    store.insert("turns", round_id=row_id, n=1, at=utc_text(NOW), girth_um=380_000)


def read_pair(store: Store, name: str, left: float, right: float, state: str = "queued") -> int:
    """The fit of a pair whose boots kept so much; state: of both."""
    job = make_job(store, Act(NOW, 1), name, state)
    with store.write_tx():
        one_round(store, job.left, left)
        one_round(store, job.right, right)
    return job.fit_id


def record(kept: float) -> object:
    """What one such round says."""
    return boot_record([Round(360.0, 380.0, 360.0 + 20 * kept, hold_h=24.0)])


@pytest.mark.parametrize("state", ["queued", "declined", "finished", "out"])
def test_every_boot_that_was_read_teaches_whatever_became_of_it(store: Store, state: str) -> None:
    """Stopped and declined ones are those that kept little."""
    read_pair(store, "A", 0.30, 0.35, state)
    learnt = shop_records.records(store)[CODE]
    assert learnt.boots == 2
    assert learnt.mean < 0.5


def test_a_reading_changes_what_is_learnt_at_once(store: Store) -> None:
    """And one that does not count changes nothing."""
    read_pair(store, "A", 0.30, 0.35)
    first = shop_records.records(store)[CODE]
    read_pair(store, "B", 0.60, 0.65)
    second = shop_records.records(store)[CODE]
    assert (first.boots, second.boots) == (2, 4)
    assert second.mean > first.mean


def test_the_boots_of_a_pair_count_together_and_those_asked_about_not_at_all(store: Store) -> None:
    """By pairs, as the computation says."""
    first, second = read_pair(store, "A", 0.30, 0.35), read_pair(store, "B", 0.60, 0.65)
    assert first != second
    pairs = [[record(0.30), record(0.35)], [record(0.60), record(0.65)]]
    whole, apart = shop_records.records(store)[CODE], shop_records.records(store, first)[CODE]
    expected = class_kept(0.5, pairs)  # type: ignore[arg-type]
    assert (whole.mean, whole.sd, whole.boots) == pytest.approx(
        (expected.mean, expected.sd, 4), abs=1e-4
    )
    expected = class_kept(0.5, pairs[1:])  # type: ignore[arg-type]
    assert (apart.mean, apart.sd, apart.boots) == pytest.approx(
        (expected.mean, expected.sd, 2), abs=1e-4
    )


def test_a_leather_of_which_nothing_else_was_read_stays_on_the_table(store: Store) -> None:
    """The job at hand is no record of its own."""
    fit = read_pair(store, "A", 0.30, 0.35)
    assert CODE in shop_records.records(store)
    assert shop_records.records(store, fit) == {}
