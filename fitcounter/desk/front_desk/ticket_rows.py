"""A ticket as one line that is the answer: "41 Okafor, both boots: ready, shelf C2; bag: waiting
for the bench, Tuesday; balance $45".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache

from babel.dates import format_date

from fitcounter.desk.common import item_words, money
from fitcounter.desk.common.and_list import and_list
from fitcounter.desk.common.translation import Speech, say, spoken
from fitcounter.desk.common.usual_work import work_name
from fitcounter.desk.plan.ready_day import HELD, ReadyDay, ReadyDays, ready_days
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.store import bills, customers, findings, items, lists, works
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Customer, Item, Ticket
from fitcounter.store.works import WorkLine

NO_WORK: Mapping[int, Sequence[WorkLine]] = {}
# A week either way the day of the week says enough; beyond, the date.
NEAR_DAYS = 6


@dataclass(frozen=True, slots=True)
class TicketRow:
    """One ticket as one line: whose, where each thing is, and what is owed in minor units.

    ready: all of it is here. when: the day for what is not here yet. asked: the last call, None
    where there was none. ready_days: for the day of each thing. to_do: open work, by item.
    problems: of what is stopped what went wrong, by item.
    """

    ticket: Ticket
    customer: Customer
    items: list[Item]
    due_minor: int
    ready: bool
    when: ReadyDay
    asked: lists.CallRecord | None
    shop: Shop
    ready_days: ReadyDays
    to_do: Mapping[int, Sequence[WorkLine]] = field(default_factory=dict)
    problems: Mapping[int, str] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """Where each thing is, and what stopped it, in one sentence; put together only for the rows
        that are read.
        """
        return words_of(self.items, self.ticket, self.ready_days, self.to_do, self.problems)

    @property
    def bare_words(self) -> str:
        """The same without what was typed of a problem or a hold: for what a phone keeps."""
        return words_of(self.items, self.ticket, self.ready_days, self.to_do, None)

    @property
    def when_words(self) -> str:
        """How the promised day stands, where it is at risk, will be missed, or cannot be said."""
        return self.when.words(spoken()) if self.when.not_on_track else ""

    @property
    def late_days(self) -> int:
        return self.when.late_days

    @property
    def rush(self) -> bool:
        """Whether it goes first: a rush job that is not done yet."""
        return bool(self.ticket.rush) and self.ticket.state == "open" and not self.ready

    @property
    def some_here(self) -> bool:
        """Whether anything of it is on the shelf."""
        return any(item.state in item_states.READY for item in self.items)

    @property
    def to_tell(self) -> bool:
        """Whether there is something to call about: all of it is here, or a part, and the customer
        agreed to pick up the rest later.
        """
        return self.ready or bool(self.ticket.come_twice and self.some_here)


def open_rows(store: Store, shop: Shop, today: date) -> list[TicketRow]:
    """Every open ticket as a row, by promised day."""
    days = ready_days(store, shop, today)
    return _rows(store, shop, days, lists.open_tickets(store), lists.asked(store))


def rows_of(store: Store, tickets: Sequence[Ticket], shop: Shop, today: date) -> list[TicketRow]:
    """These tickets as rows, whatever their state, in as many questions as for one; without their
    last calls.
    """
    if not tickets:
        return []
    days = ready_days(store, shop, today, [ticket.id for ticket in tickets])
    return _rows(store, shop, days, tickets, {}, lists.of_these(tickets))


def _rows(
    store: Store,
    shop: Shop,
    days: ReadyDays,
    tickets: Sequence[Ticket],
    asked: Mapping[int, lists.CallRecord],
    ids: str = lists.OPEN,
) -> list[TicketRow]:
    whose, things = lists.customers(store, ids), lists.items(store, ids)
    listed, paid = lists.listed_minor(store, ids), lists.paid_minor(store, ids)
    to_do = works.all_open(store)
    problems = findings.problems(store, (one for held in things.values() for one in held))
    rows = []
    for ticket in tickets:
        if ticket.customer_id not in whose:
            continue  # somebody closed it between the two looks
        held = things.get(ticket.id, [])
        rows.append(
            TicketRow(
                ticket=ticket,
                customer=whose[ticket.customer_id],
                items=held,
                due_minor=money.sums_of(
                    ticket, listed.get(ticket.id, (0, 0)), paid.get(ticket.id, 0)
                ).due_minor,
                ready=item_states.ready(item.state for item in held),
                when=days.of_ticket(ticket, held),
                asked=asked.get(ticket.id),
                shop=shop,
                ready_days=days,
                to_do=to_do,
                problems=problems,
            )
        )
    return rows


def row_of(store: Store, ticket: Ticket, shop: Shop, today: date) -> TicketRow:
    """One ticket as a row, whatever its state; without its last call."""
    held = items.of_ticket(store, ticket.id)
    lines, payments = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    days = ready_days(store, shop, today, [ticket.id])
    return TicketRow(
        ticket=ticket,
        customer=customers.get(store, ticket.customer_id),
        items=held,
        due_minor=money.sums(ticket, lines, payments).due_minor,
        ready=item_states.ready(item.state for item in held),
        when=days.of_ticket(ticket, held),
        asked=None,
        shop=shop,
        ready_days=days,
        to_do={one.id: works.open_of_item(store, one.id) for one in held},
        problems=findings.problems(store, held),
    )


def words_of(
    held: Sequence[Item],
    ticket: Ticket,
    days: ReadyDays,
    to_do: Mapping[int, Sequence[WorkLine]] = NO_WORK,
    problems: Mapping[int, str] | None = None,
) -> str:
    """'both boots: ready, shelf C2; bag: waiting for the bench, Thursday': each item once, the two
    boots together where they stand alike; with the work that is open.

    problems: what stopped them, by item; None leaves out why anything is stopped or on hold.
    """
    things: dict[str, list[Item]] = {}
    for item in held:
        state = item_words.state_of(item)
        if problems is not None and item.state in HELD:
            state = item_words.stands(item, problems.get(item.id, ""))
        where = _where(item, state, days.of_item(item, ticket, held).day, days.today)
        where = _with_work(where, to_do.get(item.id, ()))
        things.setdefault(where, []).append(item)
    return "; ".join(
        say("{items}: {where}", items=names(group), where=where) for where, group in things.items()
    )


def _with_work(where: str, lines: Sequence[WorkLine]) -> str:
    """ "on the tree, Thursday, to do: heel tips"."""
    if not lines:
        return where
    work = and_list([work_name(one.what) for one in lines])
    return say("{state}, to do: {work}", state=where, work=work)


def names(group: Sequence[Item]) -> str:
    """'both boots', 'left boot and bag'; what has no name of its own by its description."""
    boots = [one for one in group if one.kind == "boot" and one.side]
    rest = [
        say(one.kind) if one.kind != "other" else one.description or say("item")
        for one in group
        if one not in boots
    ]
    if len(boots) == 2:
        return and_list([say("both boots"), *rest])
    sides = [say("left boot") if one.side == "left" else say("right boot") for one in boots]
    return and_list([*sides, *rest])


def near(day: date, today: date) -> str:
    """today, tomorrow, Thursday, or Tue, Apr 14."""
    if day in (today, today + timedelta(days=1)):
        return say("today") if day == today else say("tomorrow")
    return _day_words(day, today < day <= today + timedelta(days=NEAR_DAYS), spoken())


@lru_cache(maxsize=512)
def _day_words(day: date, weekday_alone: bool, words: Speech) -> str:
    return format_date(day, "EEEE", words.locale) if weekday_alone else words.day(day)


def ready_since(held: Sequence[Item], shop: Shop) -> date | None:
    """The shop's own day on which the last thing came onto the shelf; None while nothing is
    there.
    """
    since = max((one.since for one in held if one.state in item_states.READY), default=None)
    return None if since is None else shop.today(utc_time(since))


def _where(item: Item, state: str, day: date | None, today: date) -> str:
    if item.state == "shelved":
        return say("ready, shelf {shelf}", shelf=item.shelf) if item.shelf else say("ready")
    if day is None:
        return state
    return say("{state}, {day}", state=state, day=near(day, today))
