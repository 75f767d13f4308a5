"""The guarantee of a ticket: whether it covers a day, and closing the tickets whose last day is
over.
"""

from __future__ import annotations

from datetime import date, timedelta

from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.shop import Shop
from fitcounter.fit.wear import guarantee
from fitcounter.store import items, outcomes
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Ticket


def covers(ticket: Ticket, day: date) -> bool:
    """Whether a comeback on that shop-local day is under the ticket's guarantee."""
    end = date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None
    return guarantee.covered(day, end)


def close_expired(store: Store, act: Act, shop: Shop) -> int:
    """Closes every ticket whose guarantee ended before today, with its items; returns how many."""
    yesterday = shop.today(act.at) - timedelta(days=1)
    expired = outcomes.guarantee_over(store, yesterday)
    for ticket in expired:
        _close(store, act, ticket)
    return len(expired)


def _close(store: Store, act: Act, ticket: Ticket) -> None:
    def write() -> Written:
        for item in items.of_ticket(store, ticket.id):
            if item.state == "out":
                write_step(store, act, item, "close", StepInput(act.at))
        store.change("tickets", ticket.id, ticket.version, state="closed")
        return Written(ticket.id, detail={"closed": True})

    store.once(act, "guarantee-over", write)
