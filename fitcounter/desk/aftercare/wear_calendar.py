"""The wearing-in calendar of a ticket: as it stands, and each change the customer makes to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime

from fitcounter.fit.wear import wear_calendar as wear_plans
from fitcounter.fit.wear.wear_plan import Due, WearPlan
from fitcounter.store import contacts, wears
from fitcounter.store.bench_records import WearPlanRow
from fitcounter.store.database import Act, Store, Written


@dataclass(frozen=True, slots=True)
class Calendar:
    """A ticket's calendar at one moment.

    row: as stored. plan: rolled on to that moment, missed wears moved. due: what that moment asks
    for.
    """

    row: WearPlanRow
    plan: WearPlan
    due: Due


def current(store: Store, ticket_id: int, now: datetime) -> Calendar:
    """The calendar as it stands at `now` (aware). Raises NotFound before the boots are handed
    over.
    """
    row, stored = wears.get(store, ticket_id)
    plan = wear_plans.roll(stored, now)
    return Calendar(row, plan, wear_plans.due(plan, now))


def record_wear(
    store: Store, act: Act, ticket_id: int, n: int, started: datetime, minutes: int
) -> Written:
    """Saves a wear as the customer reports it; one over its time also becomes a follow-up.

    n: step of the plan, 0 for an extra wear. started: aware. Raises BadInput, Conflict, NotFound,
    OutOfOrder.
    """
    return _change(
        store,
        act,
        ticket_id,
        "wear",
        lambda plan: wear_plans.record_wear(plan, n, started, minutes, act.at),
    )


def not_today(store: Store, act: Act, ticket_id: int, n: int) -> Written:
    """Moves today's wear, and all after it, to the next day. Raises as `record_wear`."""
    return _change(
        store, act, ticket_id, "wear-moved", lambda plan: wear_plans.not_today(plan, n, act.at)
    )


def choose_hour(store: Store, act: Act, ticket_id: int, hour: int, minute: int) -> Written:
    """Moves the wears still to come to that time of day, on the shop's clock.

    Raises BadInput, NotFound.
    """
    return _change(
        store,
        act,
        ticket_id,
        "wear-hour",
        lambda plan: wear_plans.change_hour(plan, hour, minute, act.at),
    )


def put_on_hold(store: Store, ticket_id: int, now: datetime) -> None:
    """Nothing is worn from now until the shop has answered, inside a write.

    Nothing happens where the ticket has no calendar, or is on hold already.
    """
    _rewrite(store, ticket_id, lambda plan: wear_plans.put_on_hold(plan, now))


def go_on(store: Store, ticket_id: int, first_day: date, now: datetime) -> None:
    """The calendar goes on from that local day, inside a write. Nothing where there is none."""
    _rewrite(store, ticket_id, lambda plan: wear_plans.go_on(plan, first_day, now))


def only_for(store: Store, ticket_id: int, side: str, now: datetime) -> None:
    """The calendar goes on for the boot of that side alone, inside a write; it is called off where
    it is for the other one. Nothing where there is none.
    """
    row = wears.of_ticket(store, ticket_id)
    if row is not None and row.boots not in ("", side):
        call_off(store, ticket_id, now)
    _rewrite(store, ticket_id, lambda plan: replace(plan, boots=side))


def call_off(store: Store, ticket_id: int, now: datetime) -> None:
    """Withdraws the wears still to come of boots that are back at the shop, inside a write.

    Nothing happens where the ticket has no calendar.
    """
    _rewrite(store, ticket_id, lambda plan: wear_plans.call_off(plan, now))


def _rewrite(store: Store, ticket_id: int, change: Callable[[WearPlan], WearPlan]) -> None:
    """Writes the changed plan, where there is one and it is another then."""
    if wears.of_ticket(store, ticket_id) is None:
        return
    row, stored = wears.get(store, ticket_id)
    plan = change(stored)
    if plan != stored:
        wears.write(store, row, plan)


def _change(
    store: Store, act: Act, ticket_id: int, event: str, change: Callable[[WearPlan], WearPlan]
) -> Written:
    def write() -> Written:
        row, stored = wears.get(store, ticket_id)
        plan = change(stored)
        wears.write(store, row, plan)
        if _overlong(plan) - _overlong(stored):
            day = act.at.astimezone(plan.clock.zone).date()
            contacts.add_follow_up(
                store, ticket_id, day, "overlong", said="worn longer than planned"
            )
        return Written(ticket_id, detail={"sequence": row.sequence + 1})

    return store.once(act, event, write)


def _overlong(plan: WearPlan) -> set[str]:
    """The plan's notes about wears that were too long."""
    return {note for note in plan.notes if note.startswith("too-long:")}
