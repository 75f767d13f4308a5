"""What the shop has learnt of a leather: from every boot that was read, by pairs, and never from
the boots that are asked about.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.assessment import learnt_from_own_boots, limits
from fitcounter.fit.assessment.kept_fraction import MeasuredRound, boot_record, class_kept
from fitcounter.store.database import Act, Store, utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
CODE = "supple-full-grain"


def one_round(
    store: Store,
    item_id: int,
    kept: float,
    hours: float = 24,
    on_tree_um: int = 380_000,
    **more: object,
) -> None:
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
        off_at=utc_text(NOW + timedelta(hours=hours)),
        rested_at=utc_text(NOW + timedelta(hours=50)),
        **columns,
    )
    store.insert("turns", round_id=row_id, n=1, at=utc_text(NOW), girth_um=on_tree_um)


def read_pair(store: Store, name: str, left: float, right: float, state: str = "queued") -> int:
    """The fit of a pair whose boots kept so much; state: of both."""
    job = make_job(store, Act(NOW, 1), name, state)
    with store.write_tx():
        one_round(store, job.left, left)
        one_round(store, job.right, right)
    return job.fit_id


def record(kept: float) -> object:
    """What one such round says."""
    return boot_record([MeasuredRound(360.0, 380.0, 360.0 + 20 * kept, hold_h=24.0)])


@pytest.mark.parametrize("state", ["queued", "declined", "finished", "out"])
def test_every_boot_that_was_read_teaches_whatever_became_of_it(store: Store, state: str) -> None:
    """Stopped and declined ones are those that kept little."""
    read_pair(store, "A", 0.30, 0.35, state)
    learnt = learnt_from_own_boots.records(store)[CODE]
    assert learnt.boots == 2
    assert learnt.mean < 0.5


def test_a_reading_changes_what_is_learnt_at_once(store: Store) -> None:
    """And one that does not count changes nothing."""
    read_pair(store, "A", 0.30, 0.35)
    first = learnt_from_own_boots.records(store)[CODE]
    read_pair(store, "B", 0.60, 0.65)
    second = learnt_from_own_boots.records(store)[CODE]
    assert (first.boots, second.boots) == (2, 4)
    assert second.mean > first.mean


def test_the_boots_of_a_pair_count_together_and_those_asked_about_not_at_all(store: Store) -> None:
    """By pairs, as the computation says."""
    first, second = read_pair(store, "A", 0.30, 0.35), read_pair(store, "B", 0.60, 0.65)
    assert first != second
    pairs = [[record(0.30), record(0.35)], [record(0.60), record(0.65)]]
    whole, apart = (
        learnt_from_own_boots.records(store)[CODE],
        learnt_from_own_boots.records(store, first)[CODE],
    )
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
    assert CODE in learnt_from_own_boots.records(store)
    assert learnt_from_own_boots.records(store, fit) == {}


def alone(store: Store, name: str, kept: float, **more: object) -> int:
    """The fit of a pair of which the left boot was read."""
    job = make_job(store, Act(NOW, 1), name)
    with store.write_tx():
        one_round(store, job.left, kept, **more)  # type: ignore[arg-type]
    return job.fit_id


@pytest.mark.parametrize(("hours", "counted"), [(0.5, 1.0), (1, 1.0), (1.5, 1.5), (96, 96.0)])
def test_the_hold_is_the_time_on_the_tree_and_an_hour_at_least(
    store: Store, hours: float, counted: float
) -> None:
    alone(store, "A", 0.30, hours=hours)
    ((turn,),) = learnt_from_own_boots.classes(store, limits.of_shop(store))[CODE].rounds
    assert turn == MeasuredRound(360.0, 380.0, 366.0, hold_h=counted)


def test_a_round_read_again_counts_as_often_as_it_was_read(store: Store) -> None:
    alone(store, "A", 0.30, rested_reads="[366000, 366500, 365500]")
    ((turn,),) = learnt_from_own_boots.classes(store, limits.of_shop(store))[CODE].rounds
    assert turn.rested_count == 3


def test_a_round_that_opened_nothing_or_was_not_read_before_teaches_nothing(store: Store) -> None:
    """It stands beside the boot's others without an opening, or not at all."""
    alone(store, "A", 0.0, on_tree_um=360_000)
    unread = alone(store, "B", 0.30)
    with store.write_tx():
        store.db.execute(
            "UPDATE rounds SET before_um = NULL WHERE item_id IN"
            " (SELECT id FROM items WHERE fit_id = ?)",
            [unread],
        )
    assert learnt_from_own_boots.records(store) == {}
    alone(store, "C", 0.30)
    learnt = learnt_from_own_boots.classes(store, limits.of_shop(store))[CODE]
    assert learnt.rounds[0][0].on_tree_mm is None
    assert learnt.rounds[1] == ()
    assert learnt.kept.boots == 1


def test_boots_without_a_pair_are_each_their_own(store: Store) -> None:
    """They share no pair with each other."""
    for fit in (alone(store, "A", 0.30), alone(store, "B", 0.60)):
        with store.write_tx():
            store.db.execute("UPDATE items SET fit_id = NULL WHERE fit_id = ?", [fit])
    learnt = learnt_from_own_boots.records(store)[CODE]
    expected = class_kept(0.5, [[record(0.30)], [record(0.60)]])  # type: ignore[list-item]
    assert (learnt.mean, learnt.sd, learnt.boots) == pytest.approx(
        (expected.mean, expected.sd, 2), abs=1e-4
    )


def test_of_a_leather_that_keeps_nothing_or_that_nobody_knows_nothing_is_learnt(
    store: Store,
) -> None:
    """Coated leather keeps nothing by the table; another word stands in no table."""
    own = limits.of_shop(store)
    assert [learnt_from_own_boots.table_kept(own, code) for code in (CODE, "coated", "felt")] == [
        0.5,
        0,
        0,
    ]
    for code in ("coated", "felt"):
        fit = alone(store, code, 0.30)
        with store.write_tx():
            store.db.execute("UPDATE items SET material = ? WHERE fit_id = ?", [code, fit])
    assert learnt_from_own_boots.records(store) == {}


def test_what_was_reckoned_is_kept_for_the_four_last_asked_states(store: Store) -> None:
    """A fifth drops the oldest one alone, so that pages do not reckon it anew each time."""
    own = limits.of_shop(store)

    def at(stamp: str) -> object:
        return learnt_from_own_boots._learnt_at(store, "a shop of this test", stamp, own)

    four = [at(stamp) for stamp in "1234"]
    assert all(at(stamp) is kept for stamp, kept in zip("1234", four, strict=True))
    at("5")
    assert all(at(stamp) is kept for stamp, kept in zip("234", four[1:], strict=True))
    assert at("1") is not four[0]
