"""The plan lists the jobs that will miss their day apart from those that only may."""

from __future__ import annotations

from datetime import timedelta

from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.desk.plan.who_is_late import slipping
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Store


def test_a_job_is_late_or_at_risk_by_what_its_likely_rounds_keep(
    store: Store, choices: Shop, boots: Pair, clock: Clock
):
    pair = bench_plan.make(store, choices, clock.now).plan.pair(f"fit{boots.fit_id}")
    assert pair is not None
    assert pair.hope < pair.ready, "more rounds may be needed than are likely"
    for promise, late, at_risk in (
        (pair.ready, 0, 0),
        (pair.hope, 0, 1),
        (pair.hope - timedelta(days=1), 1, 0),
    ):
        while promise.weekday() not in choices.open_days:
            promise -= timedelta(days=1)
        with store.write_tx():
            store.change("tickets", boots.ticket_id, promise_day=promise.isoformat())
        made = bench_plan.make(store, choices, clock.now)
        counts = [
            len(slipping(store, choices, clock.now, made, state, ask=False))
            for state in (DayState.LATE, DayState.AT_RISK)
        ]
        assert counts == [late, at_risk], promise


def test_what_would_help_is_said_with_the_late_job(
    store: Store, choices: Shop, boots: Pair, clock: Clock
):
    with store.write_tx():
        store.change("tickets", boots.ticket_id, promise_day="2026-03-28")
    made = bench_plan.make(store, choices, clock.now)
    (late,) = slipping(store, choices, clock.now, made, DayState.LATE, ask=True)
    assert late.words.startswith("will miss Sat, Mar 28: now ")
    assert late.why
    assert late.shorter is not None
    assert late.shorter.saves_days > 0
