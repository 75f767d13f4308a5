"""What is said at the handing over, and the money that goes with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fitcounter.desk.common import money
from fitcounter.desk.front_desk.both_boots_or_one_alone import CalendarWish
from fitcounter.desk.tickets import payments
from fitcounter.store import bills
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Ticket


@dataclass(frozen=True, slots=True)
class Handover:
    """What is said at the handing over. item_ids: those scanned or ticked. hour, minute: of the
    first wears, on the shop's clock.

    part: the rest is picked up later. preset: of the calendar, empty where no boot of
    the ticket was stretched. alone: one boot of a pair is worn in before the other is home.
    minutes: of each wear, empty for the usual ones. second_minor: the rest of the payment, paid in
    another way. tip_minor: apart from it, given as the first part was.
    above: more than the balance is meant so.
    """

    item_ids: frozenset[int]
    happened_at: datetime
    collected_by: str
    paid_minor: int = 0
    method: str = ""
    second_minor: int = 0
    second_method: str = ""
    tip_minor: int = 0
    above: bool = True
    part: bool = False
    preset: str = ""
    minutes: tuple[int, ...] = ()
    hour: int = 18
    minute: int = 0
    catch_up: bool = False
    alone: bool = False

    @property
    def calendar(self) -> CalendarWish:
        """What of it is about the calendar."""
        return CalendarWish(
            begun_at=self.happened_at,
            preset=self.preset,
            minutes=self.minutes,
            hour=self.hour,
            minute=self.minute,
            alone=self.alone,
        )


def take_money(store: Store, act: Act, ticket: Ticket, handed: Handover) -> None:
    """What was paid, in one or two parts, and the tip beside it. Raises BadInput."""
    ticket_id = ticket.id
    sums = money.sums(ticket, bills.lines(store, ticket_id), bills.payments(store, ticket_id))
    paid = handed.paid_minor + handed.second_minor
    payments.not_above(ticket, paid, sums.due_minor, above=handed.above)
    if handed.paid_minor or handed.tip_minor:
        bills.pay(
            store,
            act,
            ticket_id,
            "payment",
            handed.paid_minor,
            method=handed.method,
            tip_minor=handed.tip_minor,
        )
    if handed.second_minor:
        bills.pay(
            store, act, ticket_id, "payment", handed.second_minor, method=handed.second_method
        )
