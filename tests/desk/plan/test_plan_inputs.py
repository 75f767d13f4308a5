"""What the plan is made from: reckoned again only when it changed, by the shop's own clock."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.shop import Shop
from fitcounter.store import plans
from fitcounter.store.database import Act, Store


def test_what_was_reckoned_is_reckoned_again_only_when_it_changed(
    store: Store, choices: Shop, boots: Pair, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second plan asks the computation about no boot; after one boot was measured again it asks
    about that one.
    """
    from fitcounter.desk.plan import plan_inputs

    asked: list[int] = []
    whole = plan_inputs.standing
    monkeypatch.setattr(
        plan_inputs, "standing", lambda *given: asked.append(given[1].id) or whole(*given)
    )
    plan_keeping.renew(store, Act(clock.now))
    assert sorted(asked) == [boots.left, boots.right]
    asked.clear()
    plan_keeping.renew(store, Act(clock.now))
    assert asked == []

    put_on_turn_up_take_off.prepare(
        store, Act(clock.now), boots.left, StepInput(clock.now), "dry", ""
    )
    plan_keeping.renew(store, Act(clock.now))
    assert asked == [boots.left]


def test_the_hold_counts_by_the_shops_own_clock(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Put on late in the evening in New York: the claim is of that day there, not of the next one
    in Greenwich.
    """
    clock.now = datetime(2026, 3, 17, 22, 30, tzinfo=ZoneInfo("America/New_York"))
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )

    running = plans.of_item(store, boots.left)[0]
    assert (running.from_day, running.to_day) == ("2026-03-17", "2026-03-24")
