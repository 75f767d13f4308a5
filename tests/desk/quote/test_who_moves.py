"""Who would have to move: named with tree and day, and only where every promise holds."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.quote import can_promise
from fitcounter.desk.quote.can_promise import PromiseAnswer, PromiseAsk, Whose
from fitcounter.store import promised_slots
from fitcounter.store.database import Act, Store


@pytest.fixture
def bench(store: Store, clock: Clock) -> Store:
    """One tree a side, and on both a pair that has months of time."""
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, Act(clock.now))
    with store.write_tx():
        store.change("tickets", made.ticket_id, promise_day="2026-06-30")
    plan_keeping.renew(store, Act(clock.now))
    return store


def asked(store: Store, clock: Clock, ask: PromiseAsk) -> PromiseAnswer:
    return can_promise.can_promise(store, shop.read(store), clock.now, ask)


def test_whose_booking_moves_anyway_is_named(bench: Store, clock: Clock):
    found = asked(bench, clock, PromiseAsk("full-grain", "3/8", "left", None))
    assert found.moves == (
        "41 Marisol Okafor-Lind, left boot: to tree 4 on Wed, Mar 25. Promised Tue, Jun 30 still"
        " holds.",
    )
    assert found.moving is None


def test_who_would_have_to_move_is_proposed_and_keeps_the_promise(bench: Store, clock: Clock):
    usual = asked(bench, clock, PromiseAsk("split-suede", "5/8", "pair", None))
    assert usual.day is not None
    assert usual.moves == ()
    ask = PromiseAsk("split-suede", "5/8", "pair", usual.day - timedelta(days=4))
    found = asked(bench, clock, ask)
    assert found.headline.startswith("Yes, but not by ")
    assert found.moving is not None
    assert found.moving.day < usual.day
    assert found.moving.sentences[1].startswith("41 Marisol Okafor-Lind, right boot: to tree 5 on")
    assert all("Promised Tue, Jun 30 still holds." in one for one in found.moving.sentences)

    here = shop.read(bench)
    can_promise.keep_days(bench, Act(clock.now), here, ask, Whose("Ada"), move=True)
    assert promised_slots.everything(bench)[0].ready_day == found.moving.day.isoformat()
    made = bench_plan.make(bench, here, clock.now)
    assert len(made.plan.pairs) == 1
    assert bench_plan.late(made) == []


def test_nobody_is_proposed_whose_promise_would_break(bench: Store, clock: Clock):
    with bench.write_tx():
        ready = bench.value("SELECT max(ready_day) FROM bench_days")
        bench.change("tickets", 1, promise_day=ready)
    plan_keeping.renew(bench, Act(clock.now))
    needed = clock.now.date() + timedelta(days=30)
    assert asked(bench, clock, PromiseAsk("split-suede", "5/8", "pair", needed)).moving is None
