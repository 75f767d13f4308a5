"""What cancelling a job would mean: what goes back and how far it came, what is charged."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.errors import OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State, Work
from fitcounter.fit.work_timing import LineState
from fitcounter.store import bills, items, rounds, tickets, works
from fitcounter.store.database import Store
from fitcounter.store.records import Item, PriceLine, Ticket

_DONE = (*item_states.READY, State.FINISHED, *item_states.GONE)
_BEGUN_LINES = (LineState.WORKING, LineState.DONE)
_BEGUN = (State.WORKING, State.ON_TREE, State.RESTING, State.TO_DECIDE, State.FINISHING)


class CancelPage(NamedTuple):
    """What would be cancelled. half_done: ids of the items on which work has begun.

    listed_minor: the price now, before tax where tax comes on top. charge_minor: what the work done
    would cost, None where a person must say. paid_minor: so far.
    """

    ticket: Ticket
    items: tuple[Item, ...]
    half_done: frozenset[int]
    listed_minor: int
    charge_minor: int | None
    paid_minor: int


def look(store: Store, shop: Shop, ticket_id: int, item_id: int | None = None) -> CancelPage:
    """Raises NotFound; OutOfOrder where there is nothing to cancel."""
    ticket = tickets.get(store, ticket_id)
    held = items.of_ticket(store, ticket_id)
    going = [one for one in held if item_id in (None, one.id) and may_cancel(one)]
    if not going:
        raise OutOfOrder(say("Nothing on this ticket can be cancelled: it is done or gone."))
    lines, paid = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    lines_on = works.lines_of_ticket(store, ticket_id)
    begun = {one.item_id for one in lines_on if one.state in _BEGUN_LINES}
    half = frozenset(one.id for one in going if _begun(store, one) or one.id in begun)
    listed = sum(one.quantity * one.amount_minor for one in lines)
    charge = _charge(store, shop, held, going, lines)
    return CancelPage(
        ticket, tuple(going), half, listed, charge, money.sums(ticket, lines, paid).paid_minor
    )


def _jobs(store: Store, held: Sequence[Item]) -> dict[int, list[tuple[int, str]]]:
    """Other work by its price line: on which item, and where it is."""
    found: dict[int, list[tuple[int, str]]] = {}
    for one in works.lines_of_ticket(store, held[0].ticket_id):
        if one.line_id is not None:
            found.setdefault(one.line_id, []).append((one.item_id, one.state))
    return found


def may_cancel(item: Item) -> bool:
    """It is neither ready nor gone."""
    return item.state not in _DONE


def _begun(store: Store, item: Item) -> bool:
    """Whether work has begun on it."""
    where = item.state_before if item.state in item_states.ASIDE else item.state
    return where in _BEGUN or any(one.on_at for one in rounds.of_item(store, item.id))


def _charge(
    store: Store,
    shop: Shop,
    held: Sequence[Item],
    going: Sequence[Item],
    lines: Sequence[PriceLine],
) -> int | None:
    """What the ticket would cost from now on: the lines of what stays, and of each pair the rounds
    that were done, at the price of a further round and never above its own line.

    None where only a person can say: one boot of a pair, or other work half done.
    """
    gone = {one.id for one in going}
    boots = [one for one in held if one.work == Work.STRETCH]
    pair_goes = [one for one in boots if one.id in gone]
    if pair_goes and len(pair_goes) < len(boots):
        return None
    total = 0
    jobs = _jobs(store, held)
    for line in lines:
        amount = line.quantity * line.amount_minor
        if line.id in jobs:
            states = {state for item_id, state in jobs[line.id]}
            if gone.isdisjoint(item_id for item_id, _ in jobs[line.id]) or states == {"done"}:
                total += amount
            elif amount and states & set(_BEGUN_LINES):
                return None
        elif line.item_id in gone:
            item = next(one for one in going if one.id == line.item_id)
            if _begun(store, item) and amount and item.work == Work.OTHER:
                return None
        elif line.item_id is None and pair_goes and line.kind != "reduction":
            done = max(len([r for r in rounds.of_item(store, b.id) if r.on_at]) for b in pair_goes)
            total += min(amount, done * shop.round_minor)
        else:
            total += amount
    return max(0, min(total, sum(one.quantity * one.amount_minor for one in lines)))
