"""When the wearing-in calendar begins: both boots of a pair at home, or one alone as agreed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from fitcounter.desk.common import wear_rules
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear_calendar import make_plan
from fitcounter.store import customers, rounds, wears
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Item, Ticket


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarWish:
    """What was said of the calendar at the counter. preset: empty where none begins. alone: one
    boot of a pair is worn in before the other is home.
    """

    begun_at: datetime
    preset: str = ""
    minutes: tuple[int, ...] = ()
    hour: int = 18
    minute: int = 0
    alone: bool = False


def boots_to_wear_in(
    held: Sequence[Item], going: Sequence[Item], *, alone: bool
) -> tuple[list[Item], str]:
    """The stretched boots that the calendar begins with now, none where it does not begin yet; and
    the side, where it is for one boot alone.

    held: everything on the ticket; going: what leaves now. A boot whose other is still here begins
    only where that is what was agreed.
    """
    stretched = [item for item in held if item.work == "stretch" and item.state != "declined"]
    home = {item.id for item in going} | {
        item.id for item in stretched if item.state in item_states.GONE
    }
    leaving = {item.fit_id for item in stretched if item in going}
    boots = [item for item in stretched if item.fit_id in leaving and item.id in home]
    waiting = [item for item in stretched if item.fit_id in leaving and item.id not in home]
    if waiting and not alone:
        return [], ""
    return boots, (boots[0].side or "") if len(boots) == 1 else ""


def begin(
    store: Store, ticket: Ticket, boots: tuple[list[Item], str], wish: CalendarWish, shop: Shop
) -> None:
    """The wearing-in calendar from this pickup on, inside a write.

    Off the tree counts from the last round's off of either boot.
    """
    items, side = boots
    rules = wear_rules.rules(shop, wish.preset, wish.minutes)
    offs = [
        utc_time(one.off_at)
        for item in items
        for one in rounds.of_item(store, item.id)
        if one.off_at
    ]
    # a boot on a shaper stands at its size until it is picked up
    on_shaper = all(item.shaper for item in items)
    off = wish.begun_at if on_shaper or not offs else max(offs)
    plan = make_plan(
        wish.begun_at, clock(shop.zone, wish.hour, wish.minute), rules, min(off, wish.begun_at)
    )
    language = customers.get(store, ticket.customer_id).language
    wears.add(store, ticket.id, replace(plan, boots=side), language)
