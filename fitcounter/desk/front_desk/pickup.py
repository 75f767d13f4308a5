"""Pickup: tried on, each item scanned or ticked out, the rest paid, the calendar begun."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fitcounter.desk.bench import other_work
from fitcounter.desk.common import item_words, money, shop_days
from fitcounter.desk.common.state_changes import StepInput, take_step, write_step
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.front_desk.both_boots_or_one_alone import begin, boots_to_wear_in
from fitcounter.desk.front_desk.pickup_money import Handover as Handover
from fitcounter.desk.front_desk.pickup_money import take_money
from fitcounter.desk.front_desk.ticket_rows import names
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.fit import item_states
from fitcounter.fit.wear.guarantee import Term, guarantee_end
from fitcounter.store import bills, contacts, customers, items, tickets, tills
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Customer, Item, Ticket

# Asking how the boots are: common practice, no source; the answers go to the follow-up list.
ASK_AFTER_DAYS = (3, 10)


class Pickup(NamedTuple):
    """A ticket at the counter: whose, what is on it, what is owed, and what is missing in words
    (empty when all is here). work: on each item beside the stretching, in words.
    """

    ticket: Ticket
    customer: Customer
    items: list[Item]
    sums: money.Sums
    ready: bool
    missing: str
    work: dict[int, str]


def look(store: Store, ticket_id: int) -> Pickup:
    """Raises NotFound."""
    ticket = tickets.get(store, ticket_id)
    held = items.of_ticket(store, ticket_id)
    total = money.sums(ticket, bills.lines(store, ticket_id), bills.payments(store, ticket_id))
    missing: dict[str, list[Item]] = {}
    for one in held:
        if one.state not in (*item_states.READY, *item_states.GONE):
            missing.setdefault(item_states.WORDS[one.state], []).append(one)
    not_ready = "; ".join(
        say("{items} {state}", items=names(group), state=say(state))
        for state, group in missing.items()
    )
    is_ready = item_states.ready(one.state for one in held)
    customer = customers.get(store, ticket.customer_id)
    work = {one.id: _work(store, one) for one in held}
    return Pickup(ticket, customer, held, total, is_ready, not_ready, work)


def _work(store: Store, item: Item) -> str:
    """ "Heel tips: done; New zipper: not done (no part)"."""
    parts = [
        f"{one.words} ({one.line.note})" if one.line.note else one.words
        for one in other_work.of_item(store, item)
    ]
    return "; ".join(parts)


def name(item: Item) -> str:
    """What the counter calls it: Left boot, Bag."""
    return say(name_of(item))


def try_on(store: Store, act: Act, item_id: int, how: str, said: StepInput) -> Written:
    """Tried on at pickup: 'fits', 'snug' (accepted), or 'back' on the tree. Raises BadInput."""
    step, tried = _tried(how, said)
    return take_step(store, act, item_id, step, tried)


def try_on_all(store: Store, act: Act, ticket_id: int, how: str, said: StepInput) -> Written:
    """The same answer for every boot of the ticket that waits to be tried on, a step each, all in
    one transaction.

    Raises BadInput, Conflict (none of them waits any more).
    """
    step, tried = _tried(how, said)

    def write() -> Written:
        waiting = [one for one in items.of_ticket(store, ticket_id) if to_try_on(one)]
        if not waiting:
            raise Conflict(say("These boots are tried on already. Load the page again."))
        for one in waiting:
            write_step(store, act, one, step, tried)
        return Written(ticket_id, detail={"items": [one.id for one in waiting], **tried.detail})

    return store.once(act, step, write)


def _tried(how: str, said: StepInput) -> tuple[str, StepInput]:
    if how == "back":
        return "back-on-tree", said
    if how not in ("fits", "snug"):
        raise BadInput(
            say("Pick how the boot fits: fits, snug, or back on the tree."),
            typed=how,
            field="how",
        )
    return "try-on", StepInput(
        said.happened_at, said.catch_up, said.version, {"how": how}, {"tried_on": how}
    )


def begins_calendar(item: Item) -> bool:
    """A stretched boot that is still here: with it the wearing-in calendar begins.

    One that goes back as it came wants none.
    """
    return item.work == "stretch" and item.state not in ("declined", *item_states.GONE)


def to_try_on(item: Item) -> bool:
    """A stretched boot on the shelf that nobody has tried on yet."""
    return item.work == "stretch" and item.state == "shelved" and not item.tried_on


def hand_over(store: Store, act: Act, ticket_id: int, handed: Handover, shop: Shop) -> Written:
    """Hands the named items over: a step for each, the payment, the guarantee and the
    wearing-in calendar, all in one transaction.

    Raises BadInput (nothing named, something on the ticket left out without saying so, no name),
    Conflict (already handed over).
    """

    def write() -> Written:
        held = items.of_ticket(store, ticket_id)
        ticket = tickets.get(store, ticket_id)
        going = _going(ticket, held, handed)
        for item in going:
            other_work.done_with(store, act, item, handed.happened_at)
            skipped = item_states.missing(item.state, "hand-over", item.work)
            write_step(
                store,
                act,
                item,
                "hand-over",
                StepInput(handed.happened_at, detail={"paid": handed.paid_minor}),
                skipped,
            )
        take_money(store, act, ticket, handed)
        at, who = utc_text(handed.happened_at), handed.collected_by
        tills.hand_over(store, act, ticket_id, at, who, [one.id for one in going])
        stretched = [one for one in going if one.work == "stretch" and one.state != "declined"]
        all_out = all(one in going or one.state in item_states.GONE for one in held)
        _leave(store, ticket, handed, shop, all_out, bool(stretched))
        boots = boots_to_wear_in(held, going, alone=handed.alone)
        if boots[0] and handed.preset:
            begin(store, ticket, boots, handed.calendar, shop)
        words = _now(ticket, going, all_out, bool(boots[0] and handed.preset))
        if stretched and not boots[0]:
            words = f"{words} {say('The wearing-in calendar begins when both boots are home.')}"
        return Written(
            ticket_id,
            words=words,
            detail={"items": sorted(handed.item_ids), "paid": handed.paid_minor, "all": all_out},
        )

    return store.once(act, "hand-over", write)


def _now(ticket: Ticket, going: list[Item], all_out: bool, begins: bool) -> str:
    """What is true after handing over. begins: the wearing-in calendar does."""
    if all_out:
        sentence = say("Ticket {number} is picked up.", number=ticket.number)
    else:
        sentence = say("Picked up: {items}.", items=_listed(going))
    if not begins:
        return sentence
    return f"{sentence} {say('The wearing-in calendar is on the customer’s page now.')}"


def _with_state(item: Item) -> str:
    return say("{item} ({state})", item=name(item), state=item_words.state_of(item))


def _listed(group: list[Item]) -> str:
    return spoken().listed([name(item) for item in group])


def _going(ticket: Ticket, held: list[Item], handed: Handover) -> list[Item]:
    """The items that leave now, checked against what is on the ticket and where it is."""
    going = [one for one in held if one.id in handed.item_ids]
    if not going:
        raise BadInput(say("Scan or tick each item you hand over."), field="items")
    if any(one.state in item_states.GONE for one in going):
        if all(one.state in item_states.GONE for one in held):
            raise Conflict(
                say("Everything is picked up already. Nothing was saved or charged again."),
                theirs={say("Picked up by"): ticket.collected_by or say("no name saved")},
                ticket_id=ticket.id,
            )
        raise Conflict(say("One of these is picked up already. Check what is still here."))
    left = [one for one in held if one not in going and one.state not in item_states.GONE]
    if left and not handed.part:
        words = say(
            "Not ticked: {items}. Tick it, or tick “The rest will be picked up later”.",
            items=_listed(left),
        )
        raise BadInput(words, field="items")
    early = [one for one in going if not item_states.may(one.state, "hand-over")]
    if early and not handed.catch_up:
        words = say(
            "Not recorded as ready: {items}. Tick “Everything is ready”, or leave it here.",
            items=spoken().listed([_with_state(item) for item in early]),
        )
        raise BadInput(words, field="catch_up")
    if not handed.collected_by:
        raise BadInput(say("Type who picks up. A first name is enough."), field="collected_by")
    return going


def _leave(
    store: Store, ticket: Ticket, handed: Handover, shop: Shop, all_out: bool, stretched: bool
) -> None:
    """What the handing over changes on the ticket itself."""
    day = shop.today(handed.happened_at)
    columns: dict[str, object] = {
        "collected_by": handed.collected_by,
        "come_twice": int(handed.part),
    }
    if stretched:
        end = guarantee_end(
            day,
            (
                Term(shop.guarantee_days, "days")
                if shop.guarantee_days
                else Term(shop.guarantee_years, "years")
            ),
        )
        columns["guarantee_end"] = None if end is None else end.isoformat()
        lasts = (end or day) + timedelta(days=shop.link_days_after)
        columns["link_until"] = utc_text(
            datetime.combine(lasts, datetime.max.time(), ZoneInfo(shop.zone))
        )
        days = shop_days.of_shop(store, shop)
        for after in ASK_AFTER_DAYS:
            ask_on = days.next_open(day + timedelta(days=after))
            contacts.add_follow_up(store, ticket.id, ask_on, "after-pickup")
    if all_out:
        columns |= {"state": "out", "handed_over_at": utc_text(handed.happened_at)}
        bills.bill(store, ticket.id, utc_text(handed.happened_at))
    store.change("tickets", ticket.id, ticket.version, **columns)
