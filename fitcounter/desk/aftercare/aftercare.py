"""After pickup: the calendar as she lives it, what does not feel right, the shop's follow-ups, and
a comeback.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction

from fitcounter.desk.common.item_steps import Said, write_step
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.fit import item_states
from fitcounter.fit.tape import Length, say_length
from fitcounter.fit.wear import guarantee, wear_calendar
from fitcounter.store import contacts, customers, items, outcomes, readings, rounds, tickets, wears
from fitcounter.store.bench_records import FollowUp, WearPlanRow
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Customer, Item, Ticket


@dataclass(frozen=True, slots=True)
class Calendar:
    """Her calendar as it stands now: the stored row, the plan rolled on to now, and what now asks
    for.
    """

    row: WearPlanRow
    plan: wear_calendar.WearPlan
    due: wear_calendar.Due


def calendar(store: Store, ticket_id: int, now: datetime) -> Calendar:
    """Raises NotFound before the boots are handed over."""
    row, held = wears.get(store, ticket_id)
    plan = wear_calendar.roll(held, now)
    return Calendar(row, plan, wear_calendar.due(plan, now))


def record_wear(
    store: Store, act: Act, ticket_id: int, n: int, started: datetime, minutes: int
) -> Written:
    """What was worn, kept as said. A wear over its time goes on the shop's follow-up list."""
    return _change(
        store,
        act,
        ticket_id,
        "wear",
        lambda plan: wear_calendar.record_wear(plan, n, started, minutes, act.at),
    )


def not_today(store: Store, act: Act, ticket_id: int, n: int) -> Written:
    """Moves today's wear to tomorrow, and all after it."""
    return _change(
        store, act, ticket_id, "wear-moved", lambda plan: wear_calendar.not_today(plan, n, act.at)
    )


def choose_hour(store: Store, act: Act, ticket_id: int, hour: int, minute: int) -> Written:
    """The evenings she is at home: the wears to come move to that time of day."""
    return _change(
        store,
        act,
        ticket_id,
        "wear-hour",
        lambda plan: wear_calendar.change_hour(plan, hour, minute, act.at),
    )


def _change(
    store: Store,
    act: Act,
    ticket_id: int,
    what: str,
    change: Callable[[wear_calendar.WearPlan], wear_calendar.WearPlan],
) -> Written:
    def write() -> Written:
        row, held = wears.get(store, ticket_id)
        plan = change(held)
        wears.write(store, row, plan)
        if _too_long(plan) - _too_long(held):
            day = act.at.astimezone(plan.clock.zone).date()
            contacts.add_follow_up(
                store, ticket_id, day, "overlong", said="worn longer than planned"
            )
        return Written(ticket_id, detail={"sequence": row.sequence + 1})

    return store.once(act, what, write)


def _too_long(plan: wear_calendar.WearPlan) -> set[str]:
    return {note for note in plan.notes if note.startswith("too-long:")}


def not_right(
    store: Store, act: Act, ticket_id: int, side: str | None, place: str, said: str, today: date
) -> Written:
    """She says that something does not feel right: today on the shop's list."""
    if not said and not place:
        raise BadInput("Say where it is, or what you feel; one word is enough.", field="said")

    def write() -> Written:
        row_id = contacts.add_follow_up(
            store, ticket_id, today, "not-right", side=side, place=place, said=said
        )
        return Written(ticket_id, row_id=row_id, detail={"follow_up": row_id})

    return store.once(act, "not-right", write)


@dataclass(frozen=True, slots=True)
class Asked:
    """One line of the follow-up list: what, whose."""

    due: FollowUp
    ticket: Ticket
    customer: Customer


def follow_ups_due(store: Store, day: date) -> list[Asked]:
    """What the shop owes an answer to by that day: not right first, then by day."""
    lines = []
    for one in contacts.due_follow_ups(store, day):
        ticket = tickets.get(store, one.ticket_id)
        lines.append(Asked(one, ticket, customers.get(store, ticket.customer_id)))
    return sorted(lines, key=lambda line: (line.due.kind != "not-right", line.due.due_day))


def answer(store: Store, act: Act, follow_up_id: int, words: str) -> Written:
    """The shop asked, and this was the answer; the line leaves the list."""
    if not words:
        raise BadInput("Pick or type what she said: good, tight, or comes back.", field="answer")

    def write() -> Written:
        ticket_id = contacts.close_follow_up(store, act, follow_up_id, words)
        return Written(ticket_id, row_id=follow_up_id, detail={"follow_up": follow_up_id})

    return store.once(act, "follow-up", write)


@dataclass(frozen=True, slots=True)
class CameBack:
    """What is said and read at a comeback.

    boot, leg: as typed, at the place that was tightest, the way it was read at pickup.
    """

    happened_at: datetime
    said: str
    boot: str
    leg: str
    unit: str


@dataclass(frozen=True, slots=True)
class AtPickup:
    """What a comeback is compared with: where, the boot's girth and how it was read, and the leg's,
    where they are known.
    """

    height_um: int | None
    boot_mm: Fraction | None
    boot_method: str
    leg_mm: Fraction | None


def at_pickup(store: Store, item: Item) -> AtPickup:
    """The last reading that counts: a reading at pickup, else the last rested one; the leg as read
    when the job was taken in.
    """
    last = next(
        (
            one
            for one in reversed(rounds.of_item(store, item.id))
            if one.rested_um is not None and one.rested_counts
        ),
        None,
    )
    read = readings.boots(store, item.id, "pickup")
    height = (
        item.mark_um or (last.mark_um if last else None) or (read[0].height_um if read else None)
    )
    on_side = (
        [one for one in readings.legs(store, item.fit_id) if one.side == item.side]
        if item.fit_id
        else []
    )
    legs = [one for one in on_side if one.height_um == height]
    leg = Fraction(sum(one.girth_um for one in legs), 1000 * len(legs)) if legs else None
    at_mark = next((one for one in read if one.height_um == height), None)
    if at_mark is not None:
        return AtPickup(height, Fraction(at_mark.girth_um, 1000), at_mark.method, leg)
    if last is not None and last.rested_um is not None:
        return AtPickup(
            height, Fraction(last.rested_um, 1000), last.rested_method or last.method, leg
        )
    return AtPickup(height, None, "", leg)


@dataclass(frozen=True, slots=True)
class BeforeComeback:
    """What the counter sees before it reads again."""

    item: Item
    ticket: Ticket
    customer: Customer
    before: AtPickup
    covered: bool


def before_comeback(store: Store, item_id: int, today: date) -> BeforeComeback:
    """Raises NotFound."""
    item = items.get(store, item_id)
    ticket = tickets.get(store, item.ticket_id)
    customer = customers.get(store, ticket.customer_id)
    return BeforeComeback(item, ticket, customer, at_pickup(store, item), _covered(ticket, today))


def come_back(store: Store, act: Act, item_id: int, came: CameBack, shop: Shop) -> Written:
    """Back for another look: readings against pickup's, the answer in words, and the item in the
    queue again.

    The ticket opens again with its history; whether the guarantee pays for the hold stands in the
    answer.
    """
    boot = read_length(came.boot, came.unit, "boot")
    leg = read_length(came.leg, came.unit, "leg", "leg") if came.leg else None

    def write() -> Written:
        item = items.get(store, item_id)
        if not item_states.may(
            item.state, "come-back"
        ):  # two phones took it in, or it never went out
            raise Conflict(
                f"This is down as {item_states.WORDS[item.state]}, not as handed over. Look at its"
                " page before you take it in."
            )
        ticket = tickets.get(store, item.ticket_id)
        customers.not_erased(store, ticket.id)
        before = at_pickup(store, item)
        found = _compared(before, boot.mm, leg.mm if leg else None)
        covered = _covered(ticket, shop.today(came.happened_at))
        changes = {
            "boot_change_um": _um(found, "boot"),
            "leg_change_um": _um(found, "leg"),
            "under_guarantee": int(covered),
        }
        said = {"said": came.said, "answer": found.change if found else "cannot tell"}
        outcomes.add_comeback(store, ticket.id, item.id, came.happened_at, **changes, **said)
        if before.height_um is not None:
            _keep_reading(
                store, act, item.id, before.height_um, boot, before.boot_method or item.method
            )
        free = (
            ticket.number
            if outcomes.number_is_free(store, ticket.number)
            else tickets.free_number(store)
        )
        outcomes.reopen(store, ticket, free)
        _call_off(store, ticket.id, came.happened_at)
        write_step(store, act, item, "come-back", Said(came.happened_at, detail=_measures(changes)))
        words = (
            f"{found.sentence} {_by_how_much(found, came.unit)}".strip()
            if found
            else guarantee.SENTENCES["cannot tell"]
        )
        return Written(ticket.id, item.id, words=words, detail={"covered": covered})

    return store.once(act, "come-back", write)


def _measures(changes: dict[str, int | None]) -> dict[str, int]:
    """What the bench reads in the history: the boot's change in micrometres where it could be told,
    whether the guarantee pays; no leg.
    """
    return {
        key: value for key, value in changes.items() if value is not None and key != "leg_change_um"
    }


def _call_off(store: Store, ticket_id: int, now: datetime) -> None:
    """Boots that are back are not worn: the wears still to come are withdrawn, also in her phone's
    calendar.
    """
    if wears.of_ticket(store, ticket_id) is not None:
        row, held = wears.get(store, ticket_id)
        plan = wear_calendar.call_off(held, now)
        if plan != held:
            wears.write(store, row, plan)


def _keep_reading(
    store: Store, act: Act, item_id: int, height_um: int, boot: Length, method: str
) -> None:
    """The boot as read at a comeback; a second one in the same place is the next repeat."""
    repeat = 1 + sum(
        one.height_um == height_um for one in readings.boots(store, item_id, "comeback")
    )
    where = {
        "height_um": height_um,
        "height_text": f"{height_um / 1000:g} mm",
        "repeat": repeat,
        "method": method,
    }
    readings.add_boot(
        store,
        act,
        item_id,
        "comeback",
        girth_um=boot.um,
        girth_text=boot.text,
        unit=boot.unit,
        **where,
    )


def _compared(
    before: AtPickup, boot_mm: Fraction, leg_mm: Fraction | None
) -> guarantee.Comeback | None:
    if before.boot_mm is None:
        return None
    at_leg = guarantee.RawReading(before.leg_mm, "leg") if before.leg_mm is not None else None
    leg_now = guarantee.RawReading(leg_mm, "leg") if leg_mm is not None else None
    now = guarantee.RawReading(boot_mm, before.boot_method)
    return guarantee.compare(
        guarantee.RawReading(before.boot_mm, before.boot_method), now, at_leg, leg_now
    )


def _by_how_much(found: guarantee.Comeback, unit: str) -> str:
    """'The boot is 1/4 in smaller than at pickup, the leg is as when it was read.'"""
    parts = []
    if found.boot_back_mm is not None:
        parts.append(
            f"the boot is {_apart(found.boot_back_mm, unit, 'smaller than', 'larger than')} at"
            " pickup"
        )
    if found.leg_fuller_mm is not None:
        parts.append(
            f"the leg is {_apart(found.leg_fuller_mm, unit, 'fuller than', 'slimmer than')} when it"
            " was read"
        )
    words = ", ".join(parts)
    return f"{words[0].upper()}{words[1:]}." if words else ""


def _apart(length_mm: Fraction | float, unit: str, more: str, less: str) -> str:
    """'1/4 in smaller than', or 'as' where a tape shows no difference."""
    said = say_length(abs(Fraction(length_mm)), unit)
    return "as" if said.startswith(("0 ", "0.0 ")) else f"{said} {less if length_mm < 0 else more}"


def _um(found: guarantee.Comeback | None, what: str) -> int | None:
    """The change in micrometres; the boot's loss is negative."""
    if found is None:
        return None
    if what == "boot":
        return None if found.boot_back_mm is None else -round(found.boot_back_mm * 1000)
    return None if found.leg_fuller_mm is None else round(found.leg_fuller_mm * 1000)


def _covered(ticket: Ticket, day: date) -> bool:
    return guarantee.covered(
        day, date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None
    )


def end_guarantees(store: Store, act: Act, shop: Shop) -> int:
    """Closes every ticket whose guarantee is over, with all its items; returns how many."""
    yesterday = shop.today(act.at) - timedelta(days=1)
    over = outcomes.guarantee_over(store, yesterday)
    for ticket in over:
        store.once(act, "guarantee-over", lambda ticket=ticket: _close(store, act, ticket))  # type: ignore[misc]
    return len(over)


def _close(store: Store, act: Act, ticket: Ticket) -> Written:
    for item in items.of_ticket(store, ticket.id):
        if item.state == "out":
            write_step(store, act, item, "close", Said(act.at))
    store.change("tickets", ticket.id, ticket.version, state="closed")
    return Written(ticket.id, detail={"closed": True})
