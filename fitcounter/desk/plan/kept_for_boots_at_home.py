"""Trees kept for boots that are still at home and on no ticket yet."""

from __future__ import annotations

from datetime import date

from fitcounter.desk.common.translation import say
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan.plan_inputs import IN_PLAN, REST_DAYS
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput
from fitcounter.fit.plan.jobs import BenchJob, Side
from fitcounter.fit.plan.plan import plan
from fitcounter.store import items, plans, promised_slots, trees
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.promised_slots import PromisedSlot

__all__ = ["SLOT_SIDES", "PromisedSlot", "book_slot", "drop_slot", "promised", "take_over"]
SLOT_SIDES: dict[str, tuple[Side, ...]] = {
    "pair": ("left", "right"),
    "left": ("left",),
    "right": ("right",),
}


def book_slot(
    store: Store, act: Act, shop: Shop, words: str, sides: str, first: date, goes: int
) -> Written:
    """Keeps trees for boots that are still at home and on no ticket yet ("bring them in on the
    3rd"). words: whose, in short.

    Raises BadInput where no tree is free for them.
    """
    _check(words, sides, goes)
    if first < shop.today(act.at):
        raise BadInput(
            say("That date has passed. Type the day the boots come in."),
            typed=first.isoformat(),
            field="first",
        )
    made = bench_plan.make(store, shop, act.at)
    new = [_slot_job(store, shop, one, first, goes) for one in SLOT_SIDES[sides]]
    given = made.inputs
    last = (*given.last, *made.plan.holds())
    planned = plan((*given.jobs, *new), given.tree_days, last)
    holds = [hold for hold in planned.holds() if hold.job.startswith("slot")]
    if not holds or any(planned.boot(job.id) is None for job in new):
        raise BadInput(
            say("No tree is free then. Pick another day or fewer rounds."),
            field="first",
            typed=first.isoformat(),
        )
    ready = max(boot.ready for boot in planned.boots if boot.job.startswith("slot"))

    def write() -> Written:
        ids = {one.label: one.id for one in trees.everyone(store)}
        for hold in holds:
            on, off = hold.on.isoformat(), hold.off.isoformat()
            claim = plans.SlotClaim(ids[hold.tree], words.strip(), hold.round, on, off)
            plans.add_slot(store, claim)
        day = tree_bookings.say_day(ready)
        said = say("Trees are reserved. The boots could be ready {day}", day=day)
        return Written(words=said, detail={"holds": len(holds), "ready": ready.isoformat()})

    return store.once(act, "slot-booked", write)


def _check(words: str, sides: str, goes: int) -> None:
    """Raises BadInput where it is not said whose boots, which, or for how many rounds."""
    if not words.strip():
        raise BadInput(say("Type whose boots they are."), field="words")
    if sides not in SLOT_SIDES or not 1 <= goes <= 6:
        raise BadInput(
            say("Pick which boots, and one to six rounds."), field="goes", typed=str(goes)
        )


def drop_slot(store: Store, act: Act, shop: Shop, booking_id: int) -> Written:
    """Gives the trees kept under the same words back."""

    def write() -> Written:
        booking = plans.get(store, booking_id)
        if booking is not None and booking.slot_id is not None:
            promised_slots.drop(store, booking.slot_id)
        else:
            plans.strike_slots(store, booking_id)
        return Written(
            row_id=booking_id, words=say("The trees are released"), detail={"booking": booking_id}
        )

    return store.once(act, "slot-dropped", write)


def promised(store: Store, slot_id: int | None) -> PromisedSlot | None:
    """The days kept for a promise, while they are kept."""
    return promised_slots.get(store, slot_id) if slot_id is not None else None


def take_over(store: Store, ticket_id: int) -> None:
    """Books the trees that were kept for a promise for the boots of the ticket made from it, once
    those are in the plan themselves; inside a write.
    """
    slot = promised_slots.of_ticket(store, ticket_id)
    boots = [one for one in items.of_ticket(store, ticket_id) if one.work == "stretch"]
    if slot is None or not any(one.state in IN_PLAN for one in boots):
        return
    for boot in boots:
        if boot.state in IN_PLAN:
            promised_slots.book_for(store, slot.id, boot.side or "", boot.id)
    promised_slots.drop(store, slot.id)


def _slot_job(store: Store, shop: Shop, side: Side, first: date, goes: int) -> BenchJob:
    labels = tuple(
        one.label
        for one in trees.everyone(store)
        if one.state == "sound" and one.side in (side, "either")
    )
    return BenchJob(
        id=f"slot-{side}",
        pair="slot",
        side=side,
        arrival=10**9,
        trees=labels,
        rounds_likely=goes,
        rounds_promise=goes,
        max_rounds=goes,
        hold_h=float(shop.hold_h),
        rest_days=REST_DAYS,
        not_before=first,
    )
