"""Short lists in words that empty themselves when the work is done, and finding a job from whatever
is at hand.

The row is the answer: "41 Okafor: both boots here, shelf C2; bag Tuesday; owes $45".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from babel.dates import format_date

from fitcounter.desk.common import money
from fitcounter.desk.shop import Shop
from fitcounter.desk.tags.resolve import tagged_item
from fitcounter.errors import BadInput, NotFound, RetiredTag
from fitcounter.fit import item_states
from fitcounter.store import bills, customers, items, lists, search, tickets
from fitcounter.store.customers import name_key
from fitcounter.store.database import Store, utc_text, utc_time
from fitcounter.store.records import Customer, Item, Payment, PriceLine, Ticket

# A week either way the day of the week says enough; beyond, the date.
NEAR_DAYS = 6
# of one list on Today; the rest is one tap away, so that the page opens as quickly on a bad day
MOST_ROWS = 40


@dataclass(frozen=True, slots=True)
class Row:
    """One ticket as one line: whose, where each thing is, what is owed in minor units, and whether
    it is all here.

    late_days: past the promised day, 0 where it is not. asked: the last call. today: the shop's own
    day.
    """

    ticket: Ticket
    customer: Customer
    items: list[Item]
    due_minor: int
    ready: bool
    late_days: int
    asked: lists.CallRecord | None
    shop: Shop
    today: date

    @property
    def words(self) -> str:
        """Where each thing is, in one sentence; put together only for the rows that are read."""
        return words_of(self.items, self.ticket, self.shop, self.today)

    @property
    def some_here(self) -> bool:
        """Is anything of it on the shelf?"""
        return any(one.state in item_states.READY for one in self.items)

    @property
    def to_tell(self) -> bool:
        """Is there something to call about: all of it is here, or a part, and she agreed to come
        twice?
        """
        return self.ready or bool(self.ticket.come_twice and self.some_here)


@dataclass(frozen=True, slots=True)
class Desk:
    """The front desk's own lists of today."""

    calls: list[Row]
    late: list[Row]
    undecided: list[Row]
    fetched: list[Row]


def open_rows(store: Store, shop: Shop, today: date) -> list[Row]:
    """Every open ticket as a row, by promised day."""
    whose, things = lists.customers(store), lists.items(store)
    listed, paid, asked = lists.listed_minor(store), lists.paid_minor(store), lists.asked(store)
    rows = []
    for ticket in lists.open_tickets(store):
        due = _due(ticket, listed.get(ticket.id, 0), paid.get(ticket.id, 0))
        rows.append(
            _row(
                ticket,
                whose[ticket.customer_id],
                things.get(ticket.id, []),
                due,
                shop,
                today,
                asked.get(ticket.id),
            )
        )
    return rows


def row_of(store: Store, ticket: Ticket, shop: Shop, today: date) -> Row:
    """One ticket as a row, whatever its state."""
    held = items.of_ticket(store, ticket.id)
    total = money.sums(ticket, bills.lines(store, ticket.id), bills.payments(store, ticket.id))
    return _row(
        ticket, customers.get(store, ticket.customer_id), held, total.due_minor, shop, today, None
    )


def desk_lists(store: Store, shop: Shop, rows: Sequence[Row], now: datetime) -> Desk:
    """Calls to make, what is late, what is not agreed yet, and what was fetched today."""
    today = shop.today(now)
    zone = ZoneInfo(shop.zone)
    first, last = (
        utc_text(datetime.combine(today + timedelta(days=n), time(), zone)) for n in (0, 1)
    )
    return Desk(
        calls=[row for row in rows if row.to_tell and _to_call(row, today)],
        late=[row for row in rows if row.late_days],
        undecided=[row for row in rows if any(one.state == "counter" for one in row.items)],
        fetched=[row_of(store, one, shop, today) for one in lists.fetched_on(store, first, last)],
    )


def shelved(store: Store, shop: Shop, now: datetime) -> list[Row]:
    """Tickets with something on the shelf, those that are all here first, then by promised day."""
    rows = [
        row
        for row in open_rows(store, shop, shop.today(now))
        if any(one.state in item_states.READY for one in row.items)
    ]
    return sorted(rows, key=lambda row: not row.ready)


def find(store: Store, shop: Shop, typed: str, today: date) -> list[Row]:
    """What one field finds, best first: a tag's code or address, a number, the last four of a
    phone, a name from two letters. Raises RetiredTag for a tag that opens nothing any more.
    """
    text = typed.strip()
    found = _tickets(store, text)
    return [row_of(store, one, shop, today) for one in found]


def words_of(held: Sequence[Item], ticket: Ticket, shop: Shop, today: date) -> str:
    """'both boots here, shelf C2; bag Thursday': each thing once, the two boots together where they
    stand alike.
    """
    said: dict[str, list[Item]] = {}
    for one in held:
        said.setdefault(_where(one, ticket, shop, today), []).append(one)
    return "; ".join(f"{names(group)} {where}" for where, group in said.items())


def names(group: Sequence[Item]) -> str:
    """'both boots', 'left boot and bag'; what has no name of its own by its description."""
    boots = [one for one in group if one.kind == "boot" and one.side]
    rest = [
        one.kind if one.kind != "other" else one.description or "thing"
        for one in group
        if one not in boots
    ]
    if len(boots) == 2:
        return " and ".join(["both boots", *rest])
    return " and ".join([f"{one.side} boot" for one in boots] + rest)


def _row(
    ticket: Ticket,
    customer: Customer,
    held: list[Item],
    due_minor: int,
    shop: Shop,
    today: date,
    asked: lists.CallRecord | None,
) -> Row:
    is_ready = item_states.ready(one.state for one in held)
    promised = date.fromisoformat(ticket.promise_day) if ticket.promise_day else today
    late = (
        (today - promised).days
        if promised < today
        and ticket.state == "open"
        and not is_ready
        and not ticket.handed_over_at
        else 0
    )
    return Row(ticket, customer, held, due_minor, is_ready, late, asked, shop, today)


def _where(item: Item, ticket: Ticket, shop: Shop, today: date) -> str:
    if item.state == "shelved":
        return f"here, shelf {item.shelf}" if item.shelf else "here"
    if item.state in (*item_states.GONE, *item_states.ASIDE, "expected", "counter"):
        return item_states.WORDS_OF_SEVERAL[item.state]
    day = item.promised_day or (ticket.promise_day if not ticket.handed_over_at else None)
    state = item_states.WORDS_OF_SEVERAL[item.state]
    return f"{state}, {near(date.fromisoformat(day), today, shop)}" if day else state


def near(day: date, today: date, shop: Shop) -> str:
    """today, tomorrow, Thursday, or 14 April."""
    if day in (today, today + timedelta(days=1)):
        return "today" if day == today else "tomorrow"
    return _said(
        day, "EEEE" if today < day <= today + timedelta(days=NEAR_DAYS) else "d MMMM", shop.locale
    )


@lru_cache(maxsize=512)
def _said(day: date, pattern: str, locale: str) -> str:
    return format_date(day, pattern, locale)


def _due(ticket: Ticket, listed: int, paid: int) -> int:
    line = PriceLine(0, ticket.id, None, 0, "", "flat", 1, listed)
    return money.sums(
        ticket, [line], [Payment(0, ticket.id, "", "payment", paid, None, "")]
    ).due_minor


def ready_since(held: Sequence[Item], shop: Shop) -> date | None:
    """The shop's own day on which the last thing came onto the shelf; None while nothing is
    there.
    """
    since = max((one.since for one in held if one.state in item_states.READY), default=None)
    return None if since is None else shop.today(utc_time(since))


def _to_call(row: Row, today: date) -> bool:
    """Nobody was told yet, something came onto the shelf since, or it is time to ask again."""
    asked = row.asked
    if asked is None or any(
        one.since > asked.at for one in row.items if one.state in item_states.READY
    ):
        return True
    return asked.again_day is not None and asked.again_day <= today.isoformat()


def _tickets(store: Store, text: str) -> list[Ticket]:
    digits = "".join(one for one in text if one.isascii() and one.isdigit())
    if text.isascii() and text.isdigit() and len(text) <= 3:
        return search.by_number(store, int(text))
    if digits and len(digits) == len(
        [one for one in text if not one.isspace() and one not in "()+-."]
    ):
        numbered = search.by_number(store, int(digits)) if len(digits) == 4 else []
        return numbered + search.of_customers(
            store, [one.id for one in search.by_last4(store, digits[-4:])]
        )
    try:
        item = items.get(store, tagged_item(store, text))
        return [tickets.get(store, item.ticket_id)]
    except RetiredTag:
        raise  # it may have hung on another customer's thing
    except (BadInput, NotFound):
        return search.of_customers(store, [one.id for one in _named(store, text)])


def _named(store: Store, text: str) -> list[Customer]:
    return search.by_name(store, text) or [
        one
        for one in search.open_names(store)
        if _one_slip(name_key(text), name_key(one.name).split())
    ]


def _one_slip(typed: str, words: Iterable[str]) -> bool:
    """Is a word of the name the typed one but for one letter more, less, other or two swapped? From
    four letters on.
    """
    piece = typed.strip()
    if len(piece) < 4:
        return False
    return any(_near(piece, word[: len(piece) + cut]) for word in words for cut in (-1, 0, 1))


def _near(one: str, other: str) -> bool:
    """At most one insertion, deletion, substitution or swap of neighbours apart."""
    if abs(len(one) - len(other)) > 1:
        return False
    start = next(
        (n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    a, b = one[start:], other[start:]
    return a[1:] == b[1:] or a[1:] == b or a == b[1:] or (a[:2] == b[:2][::-1] and a[2:] == b[2:])
