"""What the shop knows of one customer beyond a single ticket: every ticket with its money, the legs
as measured over the years, and what was said.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import spoken
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import notes
from fitcounter.desk.tickets.notes import NoteLine
from fitcounter.desk.tickets.page import name_of
from fitcounter.store import bills, fits, items, readings, tickets
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import LegReading, Ticket

MOST_TICKETS, MOST_NOTES = 40, 60
WIDE, HIGH, EDGE = 320, 120, 16  # of the chart, in its own units


class PastTicket(NamedTuple):
    """what: the things on it, in words. paid, due: minor units of its currency."""

    ticket: Ticket
    day: date
    what: str
    paid_minor: int
    due_minor: int


class LegsOnDay(NamedTuple):
    """The widest girth read of each leg, in mm; None where it was not read."""

    day: date
    left: float | None
    right: float | None


class LegChart(NamedTuple):
    """Points of each leg, as (x, y) with the day it was read; y grows downwards."""

    left: tuple[tuple[float, float], ...]
    right: tuple[tuple[float, float], ...]
    width: int = WIDE
    height: int = HIGH


class CustomerHistory(NamedTuple):
    """Newest first, but the legs: those from the first day on. chart: None for a single day."""

    tickets: tuple[PastTicket, ...]
    legs: tuple[LegsOnDay, ...]
    chart: LegChart | None
    notes: tuple[tuple[int, NoteLine], ...]


def of_customer(store: Store, shop: Shop, customer_id: int) -> CustomerHistory:
    """The latest tickets with all that hangs on them. notes: each with its ticket's number."""
    held = tickets.of_customer(store, customer_id)[:MOST_TICKETS]
    legs = tuple(_legs(store, shop, held))
    said = [(one.number, line) for one in held for line in notes.of_ticket(store, one.id)]
    said.sort(key=lambda pair: pair[1].at, reverse=True)
    past = tuple(_past(store, shop, one) for one in held)
    return CustomerHistory(past, legs, chart_of(legs), tuple(said[:MOST_NOTES]))


def _past(store: Store, shop: Shop, ticket: Ticket) -> PastTicket:
    sums = money.sums(ticket, bills.lines(store, ticket.id), bills.payments(store, ticket.id))
    held = items.of_ticket(store, ticket.id)
    names = [name_of(one) if one.side else one.description or name_of(one) for one in held]
    what = spoken().listed(list(dict.fromkeys(names))) if names else ""
    day = shop.local(utc_time(ticket.opened_at)).date()
    return PastTicket(ticket, day, what, sums.paid_minor, sums.due_minor)


def _legs(store: Store, shop: Shop, held: Sequence[Ticket]) -> list[LegsOnDay]:
    found = []
    for ticket in reversed(held):
        for fit in reversed(fits.of_ticket(store, ticket.id)):
            read = readings.legs(store, fit.id)
            if read:
                day = shop.local(utc_time(read[0].read_at)).date()
                found.append(LegsOnDay(day, _widest(read, "left"), _widest(read, "right")))
    return found


def _widest(read: Sequence[LegReading], side: str) -> float | None:
    return max((one.girth_um / 1000 for one in read if one.side == side), default=None)


def chart_of(legs: Sequence[LegsOnDay]) -> LegChart | None:
    """The legs over the days they were read; None where there are not two days or no two girths."""
    sizes = [mm for one in legs for mm in (one.left, one.right) if mm is not None]
    if len({one.day for one in legs}) < 2 or not sizes:
        return None
    first, days = legs[0].day, max(legs[-1].day - legs[0].day, timedelta(days=1)).days
    least, spread = min(sizes), max(max(sizes) - min(sizes), 1.0)

    def place(day: date, mm: float) -> tuple[float, float]:
        across = EDGE + (WIDE - 2 * EDGE) * (day - first).days / days
        return round(across, 1), round(HIGH - EDGE - (HIGH - 2 * EDGE) * (mm - least) / spread, 1)

    left = tuple(place(one.day, one.left) for one in legs if one.left is not None)
    right = tuple(place(one.day, one.right) for one in legs if one.right is not None)
    return LegChart(left, right)
