"""Boots of one ticket that come back together: compared with pickup, charged or free, promised for
the day that the bench plan has for them.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.aftercare import comeback, guarantee_term
from fitcounter.desk.aftercare.comeback import ComebackInput, ComebackPage
from fitcounter.desk.common import money
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.store import bills, items, tickets
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item, Ticket

# As they stand among the price lines; their words in a language: desk/customer/phrases.py.
LINES = {
    True: marked("One more round after pickup"),
    False: marked("One more round after pickup, free by the guarantee"),
}


class BackTogether(NamedTuple):
    """What is typed when boots come back. readings: boot and leg as typed, by item; a boot without
    one is not back.

    charged: the round is paid for. keeps_wearing: the customer goes on wearing the other boot in.
    """

    happened_at: datetime
    said: str
    readings: Mapping[int, tuple[str, str]]
    charged: bool
    keeps_wearing: bool
    unit: str


class BackPage(NamedTuple):
    """What the counter sees before the boots are read again. boots: those that are out."""

    ticket: Ticket
    boots: tuple[ComebackPage, ...]
    covered: bool
    price: str


def page(store: Store, shop: Shop, ticket_id: int, now: datetime) -> BackPage:
    """Raises NotFound; Conflict where no stretched boot of the ticket is out."""
    ticket = tickets.get(store, ticket_id)
    out = [one for one in items.of_ticket(store, ticket_id) if _is_out(one)]
    if not out:
        raise Conflict(say("No boot of this ticket was handed over. Look at its page."))
    return BackPage(
        ticket,
        tuple(comeback.page(store, shop, one.id, now) for one in out),
        guarantee_term.covers(ticket, shop.today(now)),
        money.say(shop.round_minor, ticket.currency),
    )


def come_back(store: Store, act: Act, shop: Shop, ticket_id: int, typed: BackTogether) -> Written:
    """Takes the boots in again, all or none; `words` says what changed, who pays, and the promised
    day.

    Raises BadInput where no boot was read; BadReading at "boot-3" or "leg-3"; Conflict, NotFound.
    """
    back = {item_id: read for item_id, read in typed.readings.items() if any(read)}
    if not back:
        raise BadInput(say("Measure each boot that is back, at its mark."), field="boots")

    def write() -> Written:
        said = [_take_in(store, act, shop, item_id, typed) for item_id in back]
        first = items.get(store, next(iter(back)))
        comeback.worn_on(store, first, typed.happened_at, goes_on=typed.keeps_wearing)
        amount = shop.round_minor if typed.charged else 0
        line = bills.NewLine(LINES[typed.charged], "round", amount)
        bills.add_line(store, ticket_id, line)
        promised = comeback.promise(store, shop, act, tuple(back))
        detail = {"boots": sorted(back), "charged": typed.charged}
        words = " ".join([*said, _day_words(promised)])
        return Written(ticket_id, words=words, detail=detail)

    return store.once(act, "back-together", write)


def _take_in(store: Store, act: Act, shop: Shop, item_id: int, typed: BackTogether) -> str:
    boot, leg = typed.readings[item_id]
    came = ComebackInput(typed.happened_at, typed.said, boot, leg, typed.unit)
    try:
        words = comeback.write_back(store, act, item_id, comeback.read(came), shop)
    except FitCounterError as error:
        if error.field in ("boot", "leg"):
            error.field = f"{error.field}-{item_id}"
        raise
    return say("{item}: {words}", item=say(name_of(items.get(store, item_id))), words=words)


def _day_words(promised: date | None) -> str:
    if promised is None:
        return say("No tree is free for them yet, so no day is promised.")
    return say("Promised for {day}.", day=spoken().day(promised))


def _is_out(item: Item) -> bool:
    return item.state == "out" and item.work == "stretch" and item.side is not None
