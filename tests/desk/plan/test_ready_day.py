"""One answer to "when is this ready?": from the kept plan, on an open day, in words."""

from __future__ import annotations

from datetime import date

import pytest
from support.bench_cast import Pair, bag

from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.common.translation import speech
from fitcounter.desk.plan.ready_day import Cause, DayState, ReadyDay, ReadyDays
from fitcounter.store import items, tickets
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Store

TODAY = date(2026, 11, 24)  # a Tuesday; the shop is open Tuesday to Saturday
DAYS = ShopDays(frozenset({1, 2, 3, 4, 5}))
EN = speech("en_US")


def planned(item_id: int, ready: str, hope: str = "", waits: int = 0) -> BootDays:
    return BootDays(item_id, "", 1, 2, "4", hope or ready, ready, waits, "[]", "")


def asked(store: Store, boots: Pair, rows: list[BootDays], days: ShopDays = DAYS) -> ReadyDay:
    """The answer for the ticket of the pair with this plan."""
    kept = {row.item_id: row for row in rows}
    held = items.of_ticket(store, boots.ticket_id)
    return ReadyDays(kept, days, TODAY).of_ticket(tickets.get(store, boots.ticket_id), held)


@pytest.fixture
def promised(store: Store, boots: Pair) -> Pair:
    with store.write_tx():
        store.change("tickets", boots.ticket_id, promise_day="2026-12-10")
    return boots


def test_a_day_that_is_kept_is_the_promised_one(store: Store, promised: Pair):
    when = asked(
        store,
        promised,
        [planned(promised.left, "2026-12-08"), planned(promised.right, "2026-12-09")],
    )
    assert (when.state, when.day) == (DayState.ON_TRACK, date(2026, 12, 10))
    assert when.words(EN) == "on track for Thu, Dec 10"


def test_a_pair_is_as_late_as_the_later_boot_and_says_the_new_day(store: Store, promised: Pair):
    when = asked(
        store,
        promised,
        [planned(promised.left, "2026-12-08"), planned(promised.right, "2026-12-17")],
    )
    assert (when.late, when.day, when.late_days) == (True, date(2026, 12, 17), 7)
    assert when.words(EN) == "will miss Thu, Dec 10: now Thu, Dec 17"


@pytest.mark.parametrize(("waits", "cause"), [(3, Cause.TREE), (0, Cause.ROUND)])
def test_a_day_that_only_the_likely_rounds_keep_is_at_risk(
    store: Store, promised: Pair, waits: int, cause: Cause
):
    rows = [
        planned(one, "2026-12-17", hope="2026-12-09", waits=waits)
        for one in (promised.left, promised.right)
    ]
    when = asked(store, promised, rows)
    assert (when.state, when.day, when.cause) == (DayState.AT_RISK, date(2026, 12, 10), cause)
    assert when.words(EN).startswith("at risk: could slip to Thu, Dec 17 because ")


def test_a_stopped_boot_has_no_day_and_neither_has_its_pair(store: Store, promised: Pair):
    rows = [planned(one, "2026-12-08") for one in (promised.left, promised.right)]
    with store.write_tx():
        store.change("items", promised.left, state="stopped")
    when = asked(store, promised, rows)
    assert (when.state, when.day) == (DayState.HELD, None)
    assert when.words(EN) == "no ready day until this is settled"


def test_of_a_pair_without_a_day_the_one_promise_there_is_is_kept_in_sight(
    store: Store, boots: Pair
):
    """The left boot came back without a promise, the right one with a day of its own."""
    with store.write_tx():
        store.change("items", boots.left, state="stopped")
        store.change("items", boots.right, promised_day="2026-12-10")
        store.change("tickets", boots.ticket_id, promise_day=None)
    when = asked(store, boots, [planned(boots.right, "2026-12-08")])
    assert (when.state, when.day, when.promised) == (DayState.HELD, None, date(2026, 12, 10))


def test_a_promise_that_has_passed_is_late_by_the_plan_s_day_never_before_today(
    store: Store, promised: Pair
):
    with store.write_tx():
        store.change("tickets", promised.ticket_id, promise_day="2026-11-21")
    rows = [planned(one, "2026-11-20") for one in (promised.left, promised.right)]
    when = asked(store, promised, rows)
    assert (when.day, when.late_days) == (TODAY, 3)
    assert when.words(EN) == "missed Sat, Nov 21: now Tue, Nov 24"


def test_a_promise_into_a_holiday_moves_to_the_next_opening_and_says_so(
    store: Store, promised: Pair
):
    days = DAYS._replace(closed=((date(2026, 12, 9), date(2026, 12, 12)),))
    rows = [planned(one, "2026-12-08") for one in (promised.left, promised.right)]
    when = asked(store, promised, rows, days)
    assert when.day == date(2026, 12, 15)
    assert when.words(EN) == "closed on Thu, Dec 10: now Tue, Dec 15"


def test_what_no_plan_knows_has_its_promise_until_that_passes(store: Store, promised: Pair):
    assert asked(store, promised, []).words(EN) == "promised for Thu, Dec 10"
    with store.write_tx():
        store.change("tickets", promised.ticket_id, promise_day="2026-11-20")
    when = asked(store, promised, [])
    assert (when.day, when.late_days) == (None, 4)
    assert when.words(EN) == "will miss Fri, Nov 20: no new day yet"


def test_a_ticket_is_ready_with_the_last_of_its_things(store: Store, promised: Pair):
    bag_id = bag(store, promised.ticket_id)
    with store.write_tx():
        store.change("items", bag_id, promised_day="2026-12-01")
    rows = [planned(one, "2026-12-08") for one in (promised.left, promised.right)]
    assert asked(store, promised, rows).day == date(2026, 12, 10)
    with store.write_tx():
        store.change("items", bag_id, promised_day="2026-11-20")
    assert asked(store, promised, rows).late
    with store.write_tx():
        for item_id in (promised.left, promised.right, bag_id):
            store.change("items", item_id, state="shelved")
    assert asked(store, promised, rows).state is DayState.READY
