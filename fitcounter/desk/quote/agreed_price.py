"""The price as it was agreed, kept with the customer's yes: its lines, its total, and what may not
be passed without asking.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from fitcounter.desk.common import money
from fitcounter.desk.quote import offer
from fitcounter.desk.shop import Shop
from fitcounter.store import bills, fits, outcomes, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Consent, Fit, PriceLine, Ticket


@dataclass(frozen=True, slots=True)
class AgreedPrice:
    """lines: as they stood. total_minor, tax_minor: with them. ceiling_minor: of the total, never
    below it.
    """

    lines: tuple[PriceLine, ...]
    total_minor: int
    tax_minor: int
    ceiling_minor: int

    @property
    def further(self) -> bool:
        """Whether it may come to more than the total without asking."""
        return self.ceiling_minor > self.total_minor


def standing(store: Store, shop: Shop, ticket: Ticket) -> AgreedPrice:
    """The price of a ticket as it stands, with its ceiling: as it was agreed last, never below
    the total; where none was kept, worked out anew.
    """
    lines = bills.lines(store, ticket.id)
    last = next((one for one in reversed(tickets.consents(store, ticket.id)) if one.price), None)
    agreed = of_consent(last) if last else None
    ceiling = agreed.ceiling_minor if agreed else with_further(store, shop, ticket, lines)
    return _price(ticket, lines, ceiling)


def anew(store: Store, shop: Shop, ticket: Ticket) -> AgreedPrice:
    """The same as it is agreed just now, with the ceiling that its estimates give."""
    lines = bills.lines(store, ticket.id)
    return _price(ticket, lines, with_further(store, shop, ticket, lines))


def raised(store: Store, ticket: Ticket, ceiling_minor: int) -> AgreedPrice:
    """The same with a ceiling that stands, lifted to the total where that is above it."""
    return _price(ticket, bills.lines(store, ticket.id), ceiling_minor)


def as_text(price: AgreedPrice) -> str:
    """As it is kept with a yes."""
    return json.dumps(asdict(price), ensure_ascii=False)


def of_consent(consent: Consent) -> AgreedPrice | None:
    """The price that a yes was given to; None where it was not kept with it."""
    if not consent.price:
        return None
    kept = json.loads(consent.price)
    lines = tuple(PriceLine(**line) for line in kept.pop("lines"))
    return AgreedPrice(lines=lines, **kept)


def with_further(store: Store, shop: Shop, ticket: Ticket, lines: Sequence[PriceLine]) -> int:
    """The total with all further rounds that may be done without asking, and the tax on them."""
    further = sum(_further(store, shop, fit) for fit in fits.of_ticket(store, ticket.id))
    more = PriceLine(0, ticket.id, None, 0, "", "round", 1, further)
    return money.sums(ticket, [*lines, more], ()).total_minor


def _price(ticket: Ticket, lines: Sequence[PriceLine], ceiling_minor: int) -> AgreedPrice:
    sums = money.sums(ticket, lines, ())
    return AgreedPrice(
        tuple(lines), sums.total_minor, sums.tax_minor, max(ceiling_minor, sums.total_minor)
    )


def _further(store: Store, shop: Shop, fit: Fit) -> int:
    """What further rounds of a pair may cost at most: as it was agreed, whatever a round costs by
    now; worked out anew where that was not kept.
    """
    boots = [one for one in fits.boots(store, fit.id) if one.work == "stretch"]
    told = [
        one
        for one in (outcomes.latest_prediction(store, boot.id) for boot in boots)
        if one is not None and not all(boot.cancelled for boot in boots)
    ]
    kept = next(
        (
            one["assessment"]["further_minor"]
            for one in told
            if "further_minor" in one["assessment"]
        ),
        None,
    )
    if kept is not None:
        return int(kept)
    likely = [
        one["eight_in_ten"] for one in told if one["tier"] in ("routine", "stages", "repair-first")
    ]
    if not likely:
        return 0
    return offer.beyond_minor(shop, None if None in likely else max(likely), fit.max_rounds)
