"""What the shop decides about the bench: away days, a hold left on, a pickup day."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_changes, plan_keeping
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import plans
from fitcounter.store.database import Act, Store


def test_bench_away_asks_first_only_when_a_promised_day_moves(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Away while nothing is due: saved at once.

    Away over a promised day: whose and by how much is asked, then saved.
    """
    plan_keeping.renew(store, Act(clock.now))
    far = date(2026, 9, 1)
    plan_changes.away(store, Act(clock.now), choices, far, far + timedelta(days=3), "fair", False)
    assert len(plans.closures(store)) == 1

    with store.write_tx():
        store.db.execute(
            "UPDATE tickets SET promise_day = ?",
            [bench_plan.make(store, choices, clock.now).plan.pairs[0].ready.isoformat()],
        )
    with pytest.raises(BadInput, match="41 Marisol Okafor-Lind") as asked:
        plan_changes.away(
            store, Act(clock.now), choices, date(2026, 3, 18), date(2026, 3, 31), "", False
        )
    assert asked.value.field == "confirmed"
    assert len(plans.closures(store)) == 1

    plan_changes.away(
        store, Act(clock.now), choices, date(2026, 3, 18), date(2026, 3, 31), "", True
    )
    assert len(plans.closures(store)) == 2
    assert min(one.from_day for one in plans.bookings(store)) > "2026-03-31"


def test_left_on_it_keeps_its_tree_longer(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """A hold left on until a later day: its claim reaches there, and it can be taken back."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=6)
    plan_changes.leave_on(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), date(2026, 3, 28), True
    )

    assert [one.to_day for one in plans.of_item(store, boots.left) if one.kind == "running"] == [
        "2026-03-28"
    ]
    with pytest.raises(BadInput, match="from tomorrow on"):
        plan_changes.leave_on(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            date(2026, 3, 20),
            True,
        )


def test_an_agreed_pickup_day_sets_the_last_hold_late(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """The last hold begins later than it could, and the pair is still ready by that day."""
    early = max(hold.on for hold in plan_keeping.renew(store, Act(clock.now)).holds())
    plan_changes.set_pickup_day(store, Act(clock.now), choices, boots.left, date(2026, 4, 24))

    made = bench_plan.make(store, choices, clock.now)
    assert max(hold.on for hold in made.plan.holds()) > early
    assert made.plan.pairs[0].ready <= date(2026, 4, 24)
