"""What can be done where stretching is not the answer: the choices that fit these boots, with
their price and day. What is chosen becomes the work that is agreed.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.quote import agree, price_list
from fitcounter.desk.quote.panel_price import panel_minor
from fitcounter.desk.quote.verdict import Answer
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import fits
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item

# Each with what it means; common practice in the trade, without a source.
SEWN_IN = {
    "elastic-gusset": marked(
        "Elastic is let in at the back. It gives with the leg, and tires after some years."
    ),
    "zip-gusset": marked("A strip of leather between zipper and shaft, from the top down."),
    "panel": marked("Leather is let in at the back seam, as far down as it is short."),
}
# Nothing is done: the boots go back, with this as the reason.
GIVES_BACK = {
    "strap": (
        marked("Next strap hole"),
        marked("Helps at the top only. Nothing to pay; they go back now."),
    ),
    "another": (marked("Another boot"), marked("With a wider shaft. These go back undone.")),
}
ORDER = ("strap", "elastic-gusset", "zip-gusset", "panel", "another")
_CLOSURES = {"strap": ("zip", "laces", "straps"), "zip-gusset": ("zip",)}


class InsteadWay(NamedTuple):
    """One way: its name and what it means, in words. price_minor: for all boots that are short,
    None where the list has none; day: when it could be ready, None where nothing is done.
    """

    key: str
    name: str
    means: str
    price_minor: int | None
    day: date | None


def choices(store: Store, shop: Shop, given: Answer, today: date) -> tuple[InsteadWay, ...]:
    """Cheapest first as the trade has it; none where stretching is an answer. today: the shop's
    own day.
    """
    if given.tier not in ("panel", "refuse"):
        return ()
    days = shop_days.of_shop(store, shop)
    found = []
    for key in keys_for(given.boots):
        if key in GIVES_BACK:
            name, means = GIVES_BACK[key]
            found.append(InsteadWay(key, say(name), say(means), None, None))
            continue
        entry = price_list.get(store, key)
        day = days.next_open(today + timedelta(days=entry.days))
        minor = panel_minor(store, shop, given, key)
        found.append(InsteadWay(key, entry.name, say(SEWN_IN[key]), minor, day))
    return tuple(found)


def keys_for(boots: Sequence[Item]) -> tuple[str, ...]:
    """The choices that these boots allow: no gusset beside a zipper that is not there, no strap
    hole on a pull-on.
    """
    closures = {boot.closure for boot in boots}
    return tuple(key for key in ORDER if closures <= set(_CLOSURES.get(key, closures)))


def choose(store: Store, act: Act, fit_id: int, key: str, data_dir: Path) -> Written:
    """Keeps what was chosen until it is agreed, or gives the boots back with it as the reason.

    Raises NotFound, BadInput (no choice for these boots), OutOfOrder (agreed already).
    """
    boots = fits.boots(store, fit_id)
    if key not in keys_for(boots):
        raise BadInput(say("Pick one of these ways."), typed=key)
    if key in GIVES_BACK:
        return agree.decline(store, act, fit_id, GIVES_BACK[key][0], data_dir)

    def write() -> Written:
        agree.still_at_the_counter(boots)
        fit = fits.get(store, fit_id)
        store.change("fits", fit_id, fit.version, instead=key)
        return Written(fit.ticket_id, row_id=fit_id, detail={"fit": fit_id, "instead": key})

    return store.once(act, "instead-chosen", write)
