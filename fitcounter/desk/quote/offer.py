"""What is put before the customer: price lines with their ceiling, two days, what may happen with
these boots.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from babel.numbers import get_currency_precision

from fitcounter.desk.common import money, shop_days
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.common.usual_work import USUAL
from fitcounter.desk.quote import consent, extras, item_lines, price_list, rush, work_lines
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.panel_price import PANEL, panel_minor
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.desk.quote.verdict import Answer, answer
from fitcounter.desk.shop import Shop
from fitcounter.errors import OutOfOrder
from fitcounter.store import bills, findings, items, tickets, works
from fitcounter.store.database import Store
from fitcounter.store.records import Finding, Item, Ticket

WAITING = ("counter",)  # what is still at home is agreed when it is here


class Offer(NamedTuple):
    """What there is to agree. waiting: items not agreed yet. further_minor: what rounds beyond the
    included ones may cost at most.

    noted: what we saw, in the language spoken just now; seen: the same as found.
    sentences: what may happen.
    extras: what may be done while they are here. charges_rush: a rush is agreed with it, or not;
    False where it was agreed before. looked: somebody was asked for damage.
    hope, promise: the latest of all things on the ticket.
    """

    ticket: Ticket
    waiting: tuple[Item, ...]
    answers: tuple[Answer, ...]
    lines: tuple[OfferLine, ...]
    further_minor: int
    hope: date | None
    promise: date | None
    noted: tuple[str, ...]
    sentences: tuple[str, ...]
    extras: tuple[extras.Extra, ...] = ()
    seen: tuple[Finding, ...] = ()
    charges_rush: bool = True
    looked: bool = True

    @property
    def total_minor(self) -> int:
        return sum(line.amount_minor for line in self.lines)

    @property
    def sums(self) -> money.Sums:
        """Of the lines as they are offered, with the tax on them."""
        taxed = sum(line.amount_minor for line in self.lines if line.taxable)
        return money.sums_of(self.ticket, (taxed, self.total_minor - taxed), 0)

    @property
    def ceiling_minor(self) -> int:
        return self.total_minor + self.further_minor

    def deposit_minor(self, percent: int) -> int:
        """What is usually asked for: so much of the whole total, without minor digits."""
        return round_to_whole(self.sums.total_minor * percent // 100, self.ticket.currency)


def make_offer(store: Store, shop: Shop, ticket_id: int, today: date) -> Offer:
    """What there is to agree on a ticket now; nothing waiting gives an empty offer.

    Raises NotFound; OutOfOrder when boots are not measured.
    """
    ticket = tickets.get(store, ticket_id)
    waiting = tuple(one for one in items.of_ticket(store, ticket_id) if one.state in WAITING)
    told = tuple(_answers(store, shop, waiting, today))
    asked = work_lines.asked_lines(store, ticket_id, waiting)
    entries = price_list.entries(store)
    lines = (*_lines(store, shop, told, waiting, entries), *asked)
    seen = [one for item in waiting for one in findings.of_item(store, item.id)]
    days = shop_days.of_shop(store, shop)
    own_days = [date.fromisoformat(one.promised_day) for one in waiting if one.promised_day]
    own_days += [days.next_open(day) for day in _work_days(store, waiting, told, entries, today)]
    promised = [one.days.promise for one in told if one.days.promise]
    promise = max(promised + own_days, default=None)
    return Offer(
        ticket,
        waiting,
        told,
        lines,
        further_minor=sum(further_minor(shop, one) for one in told),
        hope=max([one.days.hope for one in told if one.days.hope] + own_days, default=None),
        promise=days.next_open(promise) if promise else None,
        noted=tuple(consent.noted(waiting, seen, spoken())),
        seen=tuple(seen),
        sentences=tuple(consent.sentences(waiting, seen, paneled(told))),
        extras=extras.offered(store, waiting, seen),
        looked=consent.looked_at(store, waiting),
        charges_rush=not rush.is_charged(bills.lines(store, ticket_id)),
    )


def _work_days(
    store: Store,
    waiting: Sequence[Item],
    told: Sequence[Answer],
    entries: Sequence[PriceEntry],
    today: date,
) -> list[date]:
    """When the work on items that the bench plan does not know could be done: as many days as the
    list says, unless a day was promised.
    """
    planned = {one.fit.id for one in told if one.days.promise}
    asked = {item_id: before + after for item_id, (before, after) in works.days_of(store).items()}
    usual = {
        one.id: 0 if one.promised_day else item_lines.days_of_item(entries, one) for one in waiting
    }
    own = [
        today + timedelta(days=asked.get(one.id, 0) + usual[one.id])
        for one in waiting
        if asked.get(one.id, 0) + usual[one.id] and one.fit_id not in planned
    ]
    let_in = [price_list.get(store, one.instead) for one in told if one.fit.instead and one.instead]
    return [*own, *(today + timedelta(days=entry.days) for entry in let_in)]


def paneled(told: Sequence[Answer]) -> dict[int, str]:
    """What is let in, by fit; the fits that are stretched have nothing."""
    return {one.fit.id: one.instead for one in told if one.instead}


def further_minor(shop: Shop, told: Answer) -> int:
    """What rounds beyond the included ones may cost at most, within the rounds that are agreed."""
    if not told.can_stretch:
        return 0
    return beyond_minor(shop, told.eight_in_ten, told.fit.max_rounds)


def beyond_minor(shop: Shop, eight_in_ten: int | None, max_rounds: int) -> int:
    """The price of the rounds beyond the included ones, up to the promised number of them."""
    return (
        max(0, min(eight_in_ten or max_rounds, max_rounds) - shop.rounds_included)
        * shop.round_minor
    )


def round_to_whole(minor: int, currency: str) -> int:
    """A sum without its minor digits, as deposits are asked for."""
    whole: int = 10 ** get_currency_precision(currency)
    return minor // whole * whole


def _answers(store: Store, shop: Shop, waiting: Sequence[Item], today: date) -> list[Answer]:
    told = []
    for fit_id in dict.fromkeys(
        one.fit_id for one in waiting if one.fit_id is not None and one.work == "stretch"
    ):
        try:
            told.append(answer(store, shop, fit_id, today))
        except OutOfOrder as error:
            raise OutOfOrder(
                say("The boots are not measured yet. Measure them, or give them back undone.")
            ) from error
    return told


def _lines(
    store: Store,
    shop: Shop,
    told: Sequence[Answer],
    waiting: Sequence[Item],
    entries: Sequence[PriceEntry],
) -> list[OfferLine]:
    """The price lines in our English, as they are kept: desk.customer.phrases says them in the
    customer's language.
    """
    lines: list[OfferLine] = []
    for one in told:
        boots = "the pair" if len(one.boots) == 2 else f"the {one.boots[0].side} boot"
        if one.can_stretch:
            several = f"up to {shop.rounds_included} rounds"
            rounds = "one round" if shop.rounds_included == 1 else several
            lines.append(OfferLine(f"Stretching {boots}, {rounds}", "flat", shop.stretch_minor))
        elif one.instead == PANEL:
            amount = panel_minor(store, shop, one) or 0
            lines.append(OfferLine(f"A panel for {boots}", "job", amount))
        elif one.instead:
            what = work_lines.line_words(USUAL[one.instead].what, one.boots)
            amount = panel_minor(store, shop, one, one.instead) or 0
            lines.append(OfferLine(what, "job", amount))
    for item in waiting:
        if item.work == "other":
            lines += item_lines.lines_of_item(entries, item)
    return lines
