"""Already here: a half-done paper job, put in as it stands.

What was done before is kept as not recorded, never as a reading.
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fitcounter.desk.common.catch_up import write_catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import NewJob
from fitcounter.desk.quote.agree import TicketOpening, open_for_asking
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput
from fitcounter.fit import item_states
from fitcounter.store import bills, items, rounds, tickets, trees
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item

PLACES = tuple(
    state for state in item_states.WAY if state not in ("expected", "counter", *item_states.GONE)
)
NOON = 12


class Stands(NamedTuple):
    """Where one boot stands.

    state: one of PLACES; since: the day it came there; tree: as it is labelled, '' for none.
    """

    side: str
    state: str
    since: date
    tree: str = ""
    shelf: str = ""


class Already(NamedTuple):
    """A paper job. job: who and what, as for a new one; total_minor, paid_minor: what was agreed
    and paid on paper.

    others: where the things beside the boots stand, None where they wait at the counter; number:
    the slip's own, None for a new one.
    """

    job: NewJob
    stands: tuple[Stands, ...]
    promised: date | None = None
    total_minor: int = 0
    paid_minor: int = 0
    others: Stands | None = None
    number: int | None = None


def put_in(store: Store, act: Act, shop: Shop, already: Already, data_dir: Path) -> Written:
    """One ticket with its boots where they stand, tagged, with the customer's link.

    Raises BadInput at tree_<side> or state_<side>.
    """
    return store.once(act, "already-here", lambda: write_in(store, act, shop, already, data_dir))


def write_in(store: Store, act: Act, shop: Shop, already: Already, data_dir: Path) -> Written:
    """The same inside a write that is open."""
    for one in already.stands:
        if one.state == "on-tree" and not one.tree.strip():
            raise BadInput(say("Type the tree’s label."), field=f"tree_{one.side}")
    ticket_id, fit_id = new_job.write_ticket(store, act, shop, already.job)
    if already.number is not None:
        store.change("tickets", ticket_id, None, number=already.number)
    for item in items.of_ticket(store, ticket_id):
        stands = (
            already.others
            if item.side is None
            else next(one for one in already.stands if one.side == item.side)
        )
        if stands is not None:
            _stand(store, act, shop, item, stands)
    if already.total_minor:
        line = NewLine(say("As agreed on paper"), "flat", already.total_minor)
        bills.add_line(store, ticket_id, line)
    if already.paid_minor:
        bills.pay(store, act, ticket_id, "deposit", already.paid_minor)
    promised = {"promise_day": already.promised.isoformat()} if already.promised else {}
    here = items.of_ticket(store, ticket_id)
    opening = TicketOpening(items=here, days=promised)
    open_for_asking(store, act, tickets.get(store, ticket_id), opening, data_dir)
    return Written(ticket_id, row_id=fit_id, detail={"items": len(here)})


def _stand(store: Store, act: Act, shop: Shop, item: Item, stands: Stands) -> None:
    at = min(_noon(shop, stands.since), act.at)
    columns: dict[str, object] = {"shelf": stands.shelf} if stands.shelf else {}
    write_catch_up(store, act, item, stands.state, StepInput(at, columns=columns))
    if stands.state == "on-tree":
        _on_tree(store, shop, item, stands, at)


def _on_tree(store: Store, shop: Shop, boot: Item, stands: Stands, at: datetime) -> None:
    """The round that is running: its tree and its day, no reading that nobody wrote down."""
    tree = _tree(store, stands)
    due_at = at + timedelta(hours=shop.hold_h)
    store.insert(
        "rounds",
        item_id=boot.id,
        n=1,
        tree_id=tree.id,
        on_at=utc_text(at),
        due_off_at=utc_text(due_at),
    )
    tree_bookings.book(store, shop, boot, 1, tree, (at, due_at))


def _tree(store: Store, stands: Stands) -> TreeRow:
    where = f"tree_{stands.side}"
    tree = trees.by_label(store, stands.tree.strip())
    if tree is None:
        raise BadInput(
            say("No tree has that label. Type the label, or ask the owner to add the tree."),
            typed=stands.tree,
            field=where,
        )
    if tree.side not in ("either", stands.side):
        raise BadInput(
            say("Tree {tree} is for left boots. Check the label.", tree=tree.label)
            if tree.side == "left"
            else say("Tree {tree} is for right boots. Check the label.", tree=tree.label),
            typed=stands.tree,
            field=where,
        )
    if rounds.on_tree(store, tree.id) is not None:
        raise BadInput(
            say("Another boot is saved on tree {tree}. Check which one.", tree=tree.label),
            typed=stands.tree,
            field=where,
        )
    return tree


def _noon(shop: Shop, day: date) -> datetime:
    return datetime.combine(day, time(NOON), ZoneInfo(shop.zone))
