"""Short lists of the front desk that empty themselves when the work is done: calls to make, what is
late, undecided or fetched, and what waits on the shelves.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fitcounter.desk.front_desk import delays
from fitcounter.desk.front_desk.ticket_rows import TicketRow, open_rows, rows_of
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.store import lists, tills
from fitcounter.store.database import Store, utc_text

# Of one list on Today; the rest is one tap away, so that the page opens as quickly on a bad day.
MOST_ROWS = 40


class DeskLists(NamedTuple):
    """The front desk's own lists of today. owing, to_give_back: picked up, with a balance."""

    calls: list[TicketRow]
    late: list[TicketRow]
    undecided: list[TicketRow]
    fetched: list[TicketRow]
    owing: list[TicketRow]
    to_give_back: list[TicketRow]


def desk_lists(store: Store, shop: Shop, rows: Sequence[TicketRow], now: datetime) -> DeskLists:
    """Calls to make, what is late, what is not agreed yet, and what was fetched today."""
    today = shop.today(now)
    zone = ZoneInfo(shop.zone)
    with_balance = tills.open_money(store, picked_up=True, most=MOST_ROWS)
    money_open = rows_of(store, with_balance, shop, today)
    first, last = (
        utc_text(datetime.combine(today + timedelta(days=n), time(), zone)) for n in (0, 1)
    )
    return DeskLists(
        calls=[
            row
            for row in rows
            if (row.to_tell and _to_call(row, today)) or delays.to_tell(row, today)
        ],
        late=[row for row in rows if row.when.late],
        undecided=[row for row in rows if any(item.state == "counter" for item in row.items)],
        fetched=rows_of(store, lists.fetched_on(store, first, last), shop, today),
        owing=[row for row in money_open if row.due_minor > 0],
        to_give_back=[row for row in money_open if row.due_minor < 0],
    )


class OpenMoney(NamedTuple):
    """Every ticket with a balance. sums: what is owed to the shop in all, minor units by
    currency.
    """

    owing: list[TicketRow]
    to_give_back: list[TicketRow]
    sums: dict[str, int]


def still_owed(store: Store, shop: Shop, now: datetime) -> OpenMoney:
    """Whoever owes the shop or is owed something, ready or not, the largest first."""
    today = shop.today(now)
    known = {row.ticket.id: row for row in open_rows(store, shop, today)}
    money = tills.open_money(store, picked_up=False)
    others = rows_of(store, [one for one in money if one.id not in known], shop, today)
    known |= {row.ticket.id: row for row in others}
    rows = [known[one.id] for one in money if one.id in known]
    return OpenMoney(
        [row for row in rows if row.due_minor > 0],
        [row for row in rows if row.due_minor < 0],
        tills.owed_minor(store),
    )


def shelved(store: Store, shop: Shop, now: datetime) -> list[TicketRow]:
    """Tickets with something on the shelf, those that are all here first, then by promised day."""
    rows = [row for row in open_rows(store, shop, shop.today(now)) if row.some_here]
    return sorted(rows, key=lambda row: not row.ready)


def _to_call(row: TicketRow, today: date) -> bool:
    """Nobody was told yet, something came onto the shelf since, or it is time to ask again."""
    asked = row.asked
    if asked is None or any(
        one.since > asked.at for one in row.items if one.state in item_states.READY
    ):
        return True
    return asked.again_day is not None and asked.again_day <= today.isoformat()
