"""More work on what is here already: picked from the list of work, priced, and agreed to where the
rest was agreed before. What the shop does not do is answered, and kept as asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.other_work import WorkSeen
from fitcounter.desk.common import files, money
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.translation import say
from fitcounter.desk.common.usual_work import work_name
from fitcounter.desk.quote import agreed_price, picked_line, price_list, work_lines
from fitcounter.desk.quote.agree import TWO_PEOPLE
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.desk.quote.signature import new_path, read_signature
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import payments as tickets_payments
from fitcounter.desk.tickets import price_change
from fitcounter.desk.tickets.price_change import PriceChange
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State, Work
from fitcounter.fit.work_timing import Timing
from fitcounter.store import bills, items, tickets, works
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item, Ticket
from fitcounter.store.works import WorkRow

NOT_AGREED = (State.EXPECTED, State.COUNTER)
GONE = (*item_states.GONE, State.DECLINED)
ODD_TIMES = 10


class TicketWork(NamedTuple):
    """A job as the ticket lists it. where: it stands on each boot. may_drop: it is not agreed
    yet.
    """

    row: WorkRow
    name: str
    answer: str
    where: tuple[tuple[Item, WorkSeen], ...]
    may_drop: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkInput:
    """what: of the list, by its first letters, or in the shop's own words. price: for each boot or
    item, None for that of the list. size: as typed, where the price goes by it.

    asks: the yes of the customer, where the rest was agreed before. odd: an unusual price is right.
    version: of the ticket as its page was shown.
    """

    what: str
    item_ids: frozenset[int]
    price: int | None = None
    size: str = ""
    asks: PriceChange | None = None
    odd: bool = False
    version: int | None = None


def of_ticket(store: Store, ticket_id: int) -> list[TicketWork]:
    """All work on what is on a ticket, in the order it was asked for."""
    held = items.of_ticket(store, ticket_id)
    seen = {one.id: other_work.of_item(store, one) for one in held}
    found = []
    for row in works.of_ticket(store, ticket_id):
        where = [
            (one, line) for one in held for line in seen[one.id] if line.line.work_id == row.id
        ]
        waiting = all(one.state in NOT_AGREED for one, _ in where)
        found.append(
            TicketWork(
                row,
                work_name(row.what),
                work_name(row.answer),
                tuple(where),
                row.line_id is None and (waiting or bool(row.answer)),
            )
        )
    return found


def may_take_work(item: Item) -> bool:
    """It is here, or comes in, and does not go back undone."""
    return item.state not in GONE


def nothing_here() -> OutOfOrder:
    """What is said where no item of a ticket can take more work."""
    return OutOfOrder(say("Nothing on this ticket is here any more, so no work can be added."))


def add(
    store: Store, act: Act, shop: Shop, ticket_id: int, typed: WorkInput, data_dir: Path
) -> Written:
    """Adds a job to what is on a ticket; where that is agreed, with its price line and the
    customer's yes. What is ready goes back to the bench.

    Raises BadInput (field: what, items, price, size, odd, and those of the price's change),
    Conflict, OutOfOrder, NotFound.
    """
    entry = _entry(store, typed.what)
    if tickets_payments.looks_like_card(typed.what):
        raise BadInput(say(tickets_payments.NO_CARDS), typed=typed.what, field="what")
    asks = typed.asks or PriceChange(lines=(), why=typed.what)
    picture, path = read_signature(asks.signature), new_path(data_dir, ticket_id)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if typed.version not in (None, ticket.version):
            raise Conflict(say(TWO_PEOPLE))
        if entry.answer:
            return _asked_for(store, act, ticket, entry)
        on = _items(store, ticket, typed)
        amount = _amount(entry, shop, typed) * len(on)
        work_id = works.add(
            store,
            act,
            [one.id for one in on],
            ticket_id=ticket_id,
            what=entry.what,
            timing=entry.timing,
            days=entry.days,
            amount_minor=amount,
            taxable=entry.taxable,
        )
        if not all(one.state in NOT_AGREED for one in on):
            if picture:
                files.put(path, picture)
            agreed = (on, asks, path.name if picture else "")
            _bill(store, act, shop, works.get(store, work_id), agreed)
        for one in on:
            _back_to_bench(store, act, one)
        store.change("tickets", ticket.id, ticket.version)
        return _added(store, ticket, entry, on, amount)

    with files.only_with(path):
        return store.once(act, "work-added", write)


def _entry(store: Store, typed: str) -> PriceEntry:
    """What is meant. Raises BadInput where nothing was typed or several begin so."""
    what = typed.strip()
    if len(what) < 2:
        raise BadInput(say("Type at least two letters of the work."), typed=typed, field="what")
    found = price_list.pick(store, what, "what")
    return found or PriceEntry("", what, None, 0, 0, Timing.ANY, 1, "", sized=False)


def _asked_for(store: Store, act: Act, ticket: Ticket, entry: PriceEntry) -> Written:
    """Kept, with the answer; no price and no work."""
    work_lines.keep_asked(store, act, ticket.id, picked_line.asked_line(entry))
    store.change("tickets", ticket.id, ticket.version)
    return Written(ticket.id, words=entry.said_answer, detail={"answered": entry.key})


def _items(store: Store, ticket: Ticket, typed: WorkInput) -> list[Item]:
    """Raises BadInput, OutOfOrder."""
    held = [one for one in items.of_ticket(store, ticket.id) if may_take_work(one)]
    if not held:
        raise nothing_here()
    on = [one for one in held if one.id in typed.item_ids]
    if not on or len(on) != len(typed.item_ids):
        raise BadInput(say("Tick what the work is on."), field="items")
    if len({one.state in NOT_AGREED for one in on}) > 1:
        raise BadInput(
            say("One of these is agreed and one is not. Add the work to each by itself."),
            field="items",
        )
    return on


def _amount(entry: PriceEntry, shop: Shop, typed: WorkInput) -> int:
    """The price of one piece. Raises BadInput where there is none, or it is odd."""
    amount = price_list.amount_of(entry, shop, typed.size) if typed.price is None else typed.price
    if amount is None:
        raise BadInput(say("Type the price, or 0 if it is free."), field="price")
    if amount > tickets_payments.MOST_MINOR:
        raise BadInput(say("This amount is too large. Type a smaller one."), field="price")
    usual = entry.price_minor or max(shop.stretch_minor, shop.panel_minor, shop.round_minor)
    if usual and amount > ODD_TIMES * usual and not typed.odd:
        said = money.say(amount, shop.currency)
        words = say(
            "{amount} for “{what}”? Tick this if it is right.", amount=said, what=entry.name
        )
        raise BadInput(words, field="odd")
    return amount


def _bill(
    store: Store,
    act: Act,
    shop: Shop,
    work: WorkRow,
    agreed: tuple[Sequence[Item], PriceChange, str],
) -> None:
    """The price line and the customer's yes to it. agreed: on what, the yes, the signature's file.
    Raises BadInput.
    """
    on, asks, signature_file = agreed
    price_change.check(asks)
    ticket = tickets.get(store, work.ticket_id)
    before = agreed_price.standing(store, shop, ticket)
    price_change.keep_older(store, ticket, before)
    what = work_lines.line_words(work.what, on)
    line = bills.NewLine(what, "job", work.amount_minor, item_id=on[0].id, taxable=work.taxable)
    works.bill(store, work.id, bills.add_line(store, ticket.id, line))
    after = agreed_price.raised(store, ticket, before.ceiling_minor)
    how = price_change.yes_to(ticket, asks, before, after)
    price_change.agree_anew(store, act, ticket, asks, (how, signature_file, after))


def _back_to_bench(store: Store, act: Act, item: Item) -> None:
    """What was finished or ready is at the bench again."""
    if item.state in (State.FINISHED, State.SHELVED):
        stretched = item.work == Work.STRETCH
        step = "more-work" if stretched else "back-on-tree"
        write_step(store, act, item, step, StepInput(act.at, columns={"shelf": ""}))
    else:
        store.change("items", item.id, item.version)


def _added(
    store: Store, ticket: Ticket, entry: PriceEntry, on: Sequence[Item], amount: int
) -> Written:
    words = say(
        "{work} is added: {amount}.", work=entry.name, amount=money.say(amount, ticket.currency)
    )
    detail = {"items": [one.id for one in on], "entry": entry.key, "amount": amount}
    return Written(ticket.id, words=words, detail=detail)


def drop(store: Store, act: Act, ticket_id: int, work_id: int) -> Written:
    """Takes out a job that was not agreed yet. Raises Conflict, NotFound."""

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        found = [one for one in of_ticket(store, ticket_id) if one.row.id == work_id]
        if not found or not found[0].may_drop:
            words = say("This work is agreed. Change the price, or say at the boot it is not done.")
            raise Conflict(words, ticket_id=ticket_id)
        works.drop(store, work_id)
        store.change("tickets", ticket.id, ticket.version)
        words = say("{work} is taken out.", work=found[0].name)
        return Written(ticket_id, words=words, detail={"work": work_id})

    return store.once(act, "work-dropped", write)
