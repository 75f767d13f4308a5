"""The wearing-in calendar of a ticket: as it stands, and each change the customer makes to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import OutOfOrder
from fitcounter.fit.wear import missed_wears, wear_changes
from fitcounter.fit.wear import wear_calendar as wear_plans
from fitcounter.fit.wear.rest import ONE_DAY
from fitcounter.fit.wear.wear_plan import Due, WearPlan
from fitcounter.store import contacts, wears
from fitcounter.store.bench_records import WearPlanRow
from fitcounter.store.database import Act, Store, Written, utc_text

# What the shop is told, in the words of its list.
SLIPPED_AGAIN = marked("a week without boots: began again")
SLIPPED_ON = marked("a week without boots: went on")
OVERLONG = marked("worn longer than planned")


class Calendar(NamedTuple):
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
    plan = missed_wears.move_missed(stored, now)
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


def choose_zone(store: Store, act: Act, ticket_id: int, zone: str) -> Written:
    """Moves the wears still to come to the clocks of another zone. Raises BadInput, NotFound."""
    return _change(
        store,
        act,
        ticket_id,
        "wear-zone",
        lambda plan: wear_changes.change_zone(plan, zone, act.at),
    )


def answer_slipped(store: Store, act: Act, ticket_id: int, *, again: bool) -> Written:
    """A calendar that slipped a week begins again, or goes on where it was; the shop is told.

    Raises NotFound; OutOfOrder where it has not slipped.
    """

    def change(plan: WearPlan) -> WearPlan:
        if not wear_changes.has_slipped(plan, act.at):
            raise OutOfOrder(say("Today’s plan has changed. Load the page again."), field="again")
        return wear_changes.start_again(plan, act.at) if again else plan

    def write() -> Written:
        row, stored = wears.get(store, ticket_id)
        day = act.at.astimezone(stored.clock.zone).date()
        wears.write(store, row, change(stored))
        said = SLIPPED_AGAIN if again else SLIPPED_ON
        contacts.add_follow_up(store, ticket_id, day, "other", contacts.Remark(said=said))
        return Written(ticket_id, detail={"again": again})

    return store.once(act, "wear-slipped", write)


def undo(store: Store, act: Act, ticket_id: int) -> Written:
    """Takes back the customer's last change of the calendar, if nothing came after it.

    Raises OutOfOrder, NotFound.
    """

    def write() -> Written:
        row, _ = wears.get(store, ticket_id)
        last = last_change(row, act.at)
        if last is None:
            raise OutOfOrder(say("There is nothing to undo. Load the page again."), field="undo")
        wears.write(store, row, last.plan)
        if last.event == "wear":
            contacts.close_overlong(store, act, ticket_id, utc_text(last.at))
        return Written(ticket_id, detail={"undo": last.event})

    return store.once(act, "wear-undo", write)


def last_change(row: WearPlanRow, now: datetime) -> wears.Undoable | None:
    """The customer's last change while it can be undone: within a day, and nothing after it."""
    last = wears.undoable(row)
    return last if last and now - last.at < ONE_DAY else None


def put_on_hold(store: Store, ticket_id: int, now: datetime) -> None:
    """Nothing is worn from now until the shop has answered, inside a write.

    Nothing happens where the ticket has no calendar, or is on hold already.
    """
    _rewrite(store, ticket_id, lambda plan: wear_changes.put_on_hold(plan, now))


def go_on(store: Store, ticket_id: int, first_day: date, now: datetime) -> None:
    """The calendar goes on from that local day, inside a write. Nothing where there is none."""
    _rewrite(store, ticket_id, lambda plan: wear_changes.go_on(plan, first_day, now))


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
        if plan == missed_wears.move_missed(stored, act.at):
            return Written(ticket_id)  # the same told twice: what came before can still be undone
        wears.write(store, row, plan)
        wears.keep_before(store, row, stored, event, act.at)
        if _overlong(plan) - _overlong(stored):
            day = act.at.astimezone(plan.clock.zone).date()
            remark = contacts.Remark(said=OVERLONG)
            contacts.add_follow_up(store, ticket_id, day, "overlong", remark)
        return Written(ticket_id, detail={"sequence": row.sequence + 1})

    return store.once(act, event, write)


def _overlong(plan: WearPlan) -> set[str]:
    """The plan's notes about wears that were too long."""
    return {note for note in plan.notes if note.startswith("too-long:")}
