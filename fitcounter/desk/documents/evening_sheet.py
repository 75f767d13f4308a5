"""The evening sheet, which tomorrow runs on where the computer does not: every open job, the trees,
what is to be done, whom to call.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from fitcounter.desk.bench import board
from fitcounter.desk.common import item_words, money
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.documents import orders, paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.papers import bench_papers
from fitcounter.papers.bench_records import (
    EveningRow,
    EveningSheet,
    EveningTree,
)
from fitcounter.store import bench_days, items
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Store
from fitcounter.store.records import Item


def evening_pdf(store: Store, shop: Shop, now: datetime) -> bytes:
    """Every open job, where it is, what is next, what it owes; the trees; what is to be done
    tomorrow; whom to call.
    """
    sheet = evening(store, shop, now)
    return bench_papers.evening_sheet(sheet, spoken().say, spoken().locale)


def evening_page(store: Store, shop: Shop, now: datetime) -> bytes:
    """The same as one HTML file, where PDFs cannot be made."""
    sheet = evening(store, shop, now)
    return bench_papers.evening_page(sheet, spoken().say, spoken().locale)


def evening(store: Store, shop: Shop, now: datetime) -> EveningSheet:
    """The evening sheet as a record."""
    today = shop.today(now)
    rows = ticket_rows.open_rows(store, shop, today)
    bench = board.board(store, shop, now)
    due = [*bench.off, *bench.read, *bench.later]
    days = bench_days.everything(store)
    return EveningSheet(
        shop=head(shop),
        day=today,
        made_at=_when(now, shop),
        jobs=tuple(_job(store, row, shop, days) for row in rows),
        trees=tuple(
            EveningTree(one.tree.label, _holds(one), _until(one, shop)) for one in bench.trees
        ),
        to_do_tomorrow=tuple(_order(store, one, shop) for one in due if one.at is not None),
        to_call=tuple(
            f"{row.ticket.number} {row.customer.name} {row.customer.phone_typed}"
            for row in front_desk_today.desk_lists(store, shop, rows, now).calls
        ),
        paper=paper_sizes.of_pages(shop),
    )


def _job(
    store: Store, row: ticket_rows.TicketRow, shop: Shop, days: Mapping[int, BootDays]
) -> EveningRow:
    here = [one for one in row.items if one.state not in item_states.GONE]
    owes = money.say(row.due_minor, row.ticket.currency) if row.due_minor > 0 else ""
    shelves = dict.fromkeys(one.shelf for one in here if one.shelf)
    return EveningRow(
        number=str(row.ticket.number),
        customer=row.customer.name,
        what=ticket_rows.names(row.items),
        where=", ".join(shelves),
        state=say("{where}; {day}", where=row.words, day=row.when_words)
        if row.when_words
        else row.words,
        next_step=_next_steps(store, shop, here, days),
        promised_on=row.when.promised,
        owes=owes,
        phone=row.customer.phone_typed,
        late=row.when.late,
        rush=row.rush,
    )


def _next_steps(
    store: Store, shop: Shop, here: Sequence[Item], days: Mapping[int, BootDays]
) -> str:
    """What to do next, of each item where it is not the same for all."""
    said = {one: orders.next_order(store, shop, one, days) for one in here}
    if len(set(said.values())) < 2:
        return next(iter(said.values()), "")
    lines = [
        say("{item}: {order}", item=item_words.item_word(one.side or one.kind), order=order)
        for one, order in said.items()
        if order
    ]
    return "; ".join(lines)


def _order(store: Store, due: board.Entry, shop: Shop) -> str:
    """What to do with a boot that is due, as an order with its day and hour, and the girth."""
    said = {"item": _called(due.row), "moment": _when(due.at, shop) if due.at else ""}
    if due.row.state != "on-tree":
        wanted = orders.girth(store, shop, items.get(store, due.row.id), "read")
        return ": ".join(filter(None, (say("Measure {item}, {moment}", **said), wanted)))
    if not due.tree:
        return say("Take {item} off its tree, {moment}", **said)
    return say("Take {item} off tree {tree}, {moment}", tree=due.tree, **said)


def _holds(one: board.TreeSeen) -> str:
    return _called(one.on_it) if one.on_it else ""


def _until(one: board.TreeSeen, shop: Shop) -> str:
    return _when(one.due_at, shop) if one.due_at else ""


def _called(row: board.BoardRow) -> str:
    """Left 41; Bag 41 where it has no side."""
    return item_words.named(row.side, row.kind, row.number)


def _when(at: datetime, shop: Shop) -> str:
    """With its date, because a weekday alone does not say which week."""
    return spoken().moment(shop.local(at))
