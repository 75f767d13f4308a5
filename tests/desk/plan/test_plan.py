"""The stored plan: what it reserves, who it makes late, and when it is reckoned again."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk.bench import put_on_turn_up_take_off, wait_and_go_on
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import kept_for_boots_at_home, plan_changes, plan_keeping
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import items, plans
from fitcounter.store.database import Act, Store


def test_a_promised_day_has_reserved_its_trees(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Planned: every hold has its claim, of the boot's side, and the pair's day is the later of its
    boots.
    """
    plan = plan_keeping.renew(store, Act(clock.now))

    claims = [one for one in plans.bookings(store) if one.kind == "planned"]
    holds = plan.holds()
    assert len(claims) == len(holds) > 1
    assert {(one.item_id, one.from_day) for one in claims} == {
        (int(hold.job), hold.on.isoformat()) for hold in holds
    }
    assert plan.pairs[0].ready == max(boot.ready for boot in plan.boots)


def test_two_dates_before_she_agrees_and_the_same_once_she_has(
    store: Store, choices: Shop, clock: Clock
) -> None:
    """The promise given at the counter is the day the plan then holds, and nothing was written by
    asking.
    """
    tree(store, "4")
    tree(store, "5", "right")
    new = pair(store, Act(clock.now), state="counter")
    asked = bench_plan.two_dates(store, choices, choices.today(clock.now), new.fit_id)
    assert plans.bookings(store) == []

    with store.write_tx():
        store.db.execute("UPDATE items SET state = 'queued'")
    plan = plan_keeping.renew(store, Act(clock.now))

    assert asked.hope is not None
    assert asked.promise is not None
    assert asked.hope <= asked.promise == plan.pairs[0].ready


def test_a_second_pair_waits_for_the_only_trees_and_is_told_so(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """With one tree a side, the second pair's promise is later than the first's."""
    first = plan_keeping.renew(store, Act(clock.now)).pairs[0].ready
    second = pair(store, Act(clock.now), 42, "counter", "Tobias Renwick")

    asked = bench_plan.two_dates(store, choices, choices.today(clock.now), second.fit_id)

    assert asked.promise is not None
    assert asked.promise > first


def test_running_rounds_keep_their_tree_in_the_plan(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """A boot on its tree keeps it until its hold is up; the other pair's first hold there begins
    after that.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    pair(store, Act(clock.now), 42, name="Tobias Renwick")

    plan = plan_keeping.renew(store, Act(clock.now))

    others = [hold for hold in plan.holds() if hold.tree == "4" and hold.job != str(boots.left)]
    assert others
    assert min(hold.on for hold in others) >= date(2026, 3, 24)


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


def test_trees_are_kept_for_boots_at_home_and_given_back(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """A slot claims trees from the day the boots come; the plan goes round it; striking it frees
    them all.
    """
    kept_for_boots_at_home.book_slot(
        store, Act(clock.now), choices, "Mrs Hale", "pair", date(2026, 4, 20), 2
    )
    slots = [one for one in plans.bookings(store) if one.kind == "slot"]
    assert len(slots) == 4
    assert min(one.from_day for one in slots) >= "2026-04-20"

    plan_keeping.renew(store, Act(clock.now))
    assert [one for one in plans.bookings(store) if one.kind == "slot"] == slots

    kept_for_boots_at_home.drop_slot(store, Act(clock.now), choices, slots[0].id)
    assert [one for one in plans.bookings(store) if one.kind == "slot"] == []


def test_an_agreed_pickup_day_sets_the_last_hold_late(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """The last hold begins later than it could, and the pair is still ready by that day."""
    early = max(hold.on for hold in plan_keeping.renew(store, Act(clock.now)).holds())
    plan_changes.set_pickup_day(store, Act(clock.now), choices, boots.left, date(2026, 4, 24))

    made = bench_plan.make(store, choices, clock.now)
    assert max(hold.on for hold in made.plan.holds()) > early
    assert made.plan.pairs[0].ready <= date(2026, 4, 24)


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


def test_the_same_version_is_not_written_twice(store: Store, boots: Pair, clock: Clock) -> None:
    """Two people decide at once on the same page: the second is told."""
    version = items.get(store, boots.left).version
    put_on_turn_up_take_off.prepare(
        store, Act(clock.now), boots.left, StepInput(clock.now, version=version), "dry", ""
    )
    with pytest.raises(Conflict):
        wait_and_go_on.wait(
            store, Act(clock.now), boots.left, StepInput(clock.now, version=version), "part"
        )
