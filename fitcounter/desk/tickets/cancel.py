"""Cancelling a job, whole or one item of it, at any moment: what goes back, what is charged, what
is given back, and why. It can be undone until something of it is handed over.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from fitcounter.desk.bench import undo_step
from fitcounter.desk.common import money
from fitcounter.desk.common.item_words import named
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.quote.agree import TWO_PEOPLE, TicketOpening, open_for_asking
from fitcounter.desk.rounds.round_rows import running_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import payments as tickets_payments
from fitcounter.desk.tickets.cancel_page import CancelPage, look
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State
from fitcounter.fit.work_timing import LineState
from fitcounter.store import bills, items, plans, rounds, tags, tickets, trees, undos, works
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item, Ticket
from fitcounter.store.undos import Writes

WHY = {
    "customer": marked("The customer wants it back"),
    "shop": marked("We cannot do it"),
}
NOT_DONE = "Work not done"  # the line that takes off what is not charged
UNDO = "cancel"  # under which the way back is kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancellation:
    """item_id: of one item, None for all of the job. why: of WHY; note: in words.

    charge_minor: the price of the ticket from now on, as its lines are (before tax where tax comes
    on top). refund_minor, method: what is given back at once. version: of the ticket as its page
    was shown.
    """

    item_id: int | None
    charge_minor: int
    why: str = "customer"
    note: str = ""
    refund_minor: int = 0
    method: str = ""
    version: int | None = None


def cancel(
    store: Store, act: Act, shop: Shop, ticket_id: int, typed: Cancellation, data_dir: Path
) -> Written:
    """Moves each item to be picked up undone or half done, lowers the price to what is charged, and
    gives money back.

    Raises BadInput (field: charge, refund, why, note), Conflict, OutOfOrder.
    """
    if typed.why not in WHY:
        raise BadInput(say("Pick why it is cancelled."), typed=typed.why, field="why")
    if tickets_payments.looks_like_card(typed.note):
        raise BadInput(say(tickets_payments.NO_CARDS), typed=typed.note, field="note")

    def write() -> Written:
        page = look(store, shop, ticket_id, typed.item_id)
        if typed.version not in (None, page.ticket.version):
            raise Conflict(say(TWO_PEOPLE))
        _tagged(store, act, page, data_dir)
        off = [words for one in page.items if (words := _on_tree(store, page.ticket, one))]
        lines = _lower(store, page, typed)
        for one in page.items:
            _cancel_item(store, act, page, one, typed, lines if one is page.items[0] else [])
        _close(store, act, page.ticket)
        _refund(store, act, page.ticket, typed)
        ticket = tickets.get(store, ticket_id)
        store.change("tickets", ticket.id, ticket.version)
        detail = {
            "items": [one.id for one in page.items],
            "charge": typed.charge_minor,
            "refund": typed.refund_minor,
            "why": typed.why,
        }
        return Written(ticket_id, words=_now(store, page, off), detail=detail)

    return store.once(act, "cancelled", write)


def _tagged(store: Store, act: Act, page: CancelPage, data_dir: Path) -> None:
    """What was never agreed has no tag yet: without one it could not be handed over."""
    bare = [
        one
        for one in page.items
        if one.state == State.COUNTER and tags.of_item(store, one.id) is None
    ]
    if bare:
        open_for_asking(store, act, page.ticket, TicketOpening(items=bare), data_dir)


def _cancel_item(
    store: Store,
    act: Act,
    page: CancelPage,
    item: Item,
    typed: Cancellation,
    lines: Sequence[int],
) -> None:
    """One item goes back. lines: of the price, that go again when all of it is undone."""
    item = items.get(store, item.id)
    columns: dict[str, object] = {
        "cancelled": typed.why,
        "half_done": int(item.id in page.half_done),
        "cancel_why": typed.note,
        "waits_for": "",
        "waits_what": "",
    }
    writes = Writes(store, item, columns)
    if _is_on_tree(item):
        writes.change(
            "rounds", running_round(writes, item).id, off_at=utc_text(act.at), outcome="stopped"
        )
    tree_bookings.release(store, item)
    plans.drop_planned(store, item.id)
    for line_id in lines:
        writes.made("price_lines", line_id)
    for one in works.open_of_item(store, item.id):
        writes.change("work_lines", one.id, state=LineState.NOT_DONE)
    writes.keep(UNDO)
    together = [one.id for one in page.items]
    detail = {"cancelled": typed.why, "half_done": columns["half_done"], "with": together}
    write_step(store, act, item, "decline", StepInput(act.at, detail=detail, columns=columns))
    if item.state == State.EXPECTED:  # it is still at home: there is nothing to pick up
        home = items.get(store, item.id)
        write_step(store, act, home, "hand-over", StepInput(act.at))


def _close(store: Store, act: Act, ticket: Ticket) -> None:
    """A ticket with nothing of it here any more is over."""
    if all(one.state in item_states.GONE for one in items.of_ticket(store, ticket.id)):
        now = tickets.get(store, ticket.id)
        store.change("tickets", now.id, now.version, state="closed")
        bills.bill(store, ticket.id, utc_text(act.at))


def _lower(store: Store, page: CancelPage, typed: Cancellation) -> list[int]:
    """A line that takes off what is not charged; its id, where there is one. Raises BadInput."""
    off = page.listed_minor - typed.charge_minor
    if off < 0:
        most = money.say(page.listed_minor, page.ticket.currency)
        words = say("The price is {amount} now. Charge at most that.", amount=most)
        raise BadInput(words, typed=str(typed.charge_minor), field="charge")
    lines = bills.lines(store, page.ticket.id)
    plain = sum(one.quantity * one.amount_minor for one in lines if not one.taxable)
    taxed = page.listed_minor - plain
    net = min(off, max(taxed, 0))
    return [
        bills.take_off(store, page.ticket.id, NOT_DONE, amount, typed.note, taxable)
        for amount, taxable in ((net, 1), (off - net, 0))
        if amount
    ]


def _refund(store: Store, act: Act, ticket: Ticket, typed: Cancellation) -> None:
    """What is given back at once, never more than the shop owes now. Raises BadInput."""
    if not typed.refund_minor:
        return
    lines, paid = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    owed = max(0, -money.sums(ticket, lines, paid).due_minor)
    if typed.refund_minor > owed:
        amount = money.say(owed, ticket.currency)
        words = say("{amount} is to be given back. Refund at most that.", amount=amount)
        raise BadInput(words, typed=str(typed.refund_minor), field="refund")
    why = typed.note or say(WHY[typed.why])
    bills.pay(store, act, ticket.id, "refund", typed.refund_minor, why, method=typed.method)


def _now(store: Store, page: CancelPage, off: Sequence[str]) -> str:
    """What is true now, and what to take off which tree."""
    ticket = tickets.get(store, page.ticket.id)
    lines, paid = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    due = money.sums(ticket, lines, paid).due_minor
    amount = money.say(abs(due), ticket.currency)
    sentences = [say("Cancelled.")]
    if off:
        sentences.append(say("Take off the tree: {items}.", items=spoken().listed(list(off))))
    if due:
        sentences.append(
            say("The balance is {amount}.", amount=amount)
            if due > 0
            else say("To refund: {amount}.", amount=amount)
        )
    return " ".join(sentences)


def _is_on_tree(item: Item) -> bool:
    aside = item.state_before if item.state == State.WAITING else ""
    return State.ON_TREE in (item.state, aside)


def _on_tree(store: Store, ticket: Ticket, item: Item) -> str:
    """ "Left 31 (tree 10)"; "" for what is on none."""
    last = rounds.last(store, item.id)
    if not _is_on_tree(item):
        return ""
    name = named(item.side, item.kind, ticket.number)
    if last is None or last.tree_id is None:
        return name
    return say("{item} (tree {tree})", item=name, tree=trees.get(store, last.tree_id).label)


def last_cancelled(store: Store, ticket_id: int) -> list[Item]:
    """What was cancelled last and can be undone: all of it is still here."""
    last: tuple[int, list[int]] = (0, [])
    here = {}
    for one in items.of_ticket(store, ticket_id):
        kept = undos.last_named(store, one.id, UNDO) if one.state == State.DECLINED else None
        if kept and one.cancelled:
            here[one.id] = one
            last = max(last, (kept[1][-1].id, json.loads(kept[1][-1].detail)["with"]))
    return [here[one] for one in last[1]] if all(one in here for one in last[1]) else []


def undo(store: Store, act: Act, shop: Shop, ticket_id: int) -> Written:
    """Puts what was cancelled last back to where it stood, and the price with it.

    What was given back stays given back: the balance says so. Raises OutOfOrder.
    """

    def write() -> Written:
        going = last_cancelled(store, ticket_id)
        if not going:
            raise OutOfOrder(
                say("Nothing is cancelled here any more, so there is nothing to undo.")
            )
        for item in going:
            undo_id, steps = undos.last_named(store, item.id, UNDO) or (0, [])
            undos.take_back(store, undo_id, steps, utc_text(act.at))
            undo_step.book_again(store, shop, items.get(store, item.id))
        ticket = tickets.get(store, ticket_id)
        store.change("tickets", ticket.id, ticket.version)
        return Written(
            ticket_id,
            words=say("The job goes on. The price is as before."),
            detail={"items": [one.id for one in going]},
        )

    return store.once(act, "cancel-undone", write)
