"""A price line that is picked from the list of work while a price is agreed, or is in any words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.desk.quote.work_lines import line_words
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store.database import Store
from fitcounter.store.records import Item


class FreeLine(NamedTuple):
    """As typed. number: of the line; on: a key of `places`; amount: None for that of the list.
    asked: what the shop does not do is kept as asked for.
    """

    number: int
    what: str
    on: str
    amount: int | None
    asked: bool = False


def places(waiting: Sequence[Item]) -> list[tuple[str, str, Sequence[Item]]]:
    """What a job may be on: key, words, the items. Both boots of a pair come first."""
    found: list[tuple[str, str, Sequence[Item]]] = []
    for fit_id in dict.fromkeys(one.fit_id for one in waiting if one.fit_id is not None):
        pair = [one for one in waiting if one.fit_id == fit_id]
        if len(pair) == 2:
            found.append((_key(pair), say("both boots"), pair))
    return [*found, *((_key([one]), _name(one), [one]) for one in waiting)]


def line_of(store: Store, shop: Shop, typed: FreeLine, waiting: Sequence[Item]) -> OfferLine:
    """The line, with the list's price for each item, its tax and its days.

    Raises BadInput at the line: where several begin so, and where no price is known; at `asked`
    with the shop's answer where it does not do that.
    """
    if not waiting:  # agreed meanwhile, or sent twice: the agreement itself says which
        return OfferLine(typed.what, "flat", typed.amount or 0)
    where = f"line_{typed.number}"
    entry = price_list.pick(store, typed.what, f"{where}_what")
    if entry is not None and entry.answer:
        return _asked_for(entry, typed)
    on = _on(waiting, typed.on)
    amount = typed.amount
    if amount is None and entry is not None and entry.price_minor is not None:
        amount = None if entry.size_minor else entry.price_minor * len(on)
    if amount is None:
        raise BadInput(say("Type the price, or 0 if it is free."), field=f"{where}_amount")
    if entry is None:
        return OfferLine(typed.what, "flat", amount)
    ids = tuple(one.id for one in on)
    words = line_words(entry.what, on)
    line = OfferLine(words, "job", amount, ids[0], entry.taxable, ids)
    return replace(line, timing=entry.timing, work=entry.what, days=entry.days)


def _asked_for(entry: PriceEntry, typed: FreeLine) -> OfferLine:
    """What the shop does not do: answered once, then kept. Raises BadInput."""
    if not typed.asked:
        raise BadInput(entry.said_answer, typed=typed.what, field="asked")
    if typed.amount:
        words = say("Remove the amount: this is only kept as asked for.")
        raise BadInput(words, field=f"line_{typed.number}_amount")
    return asked_line(entry)


def asked_line(entry: PriceEntry) -> OfferLine:
    """What the shop does not do, as it is kept: asked for, without a price, with its answer."""
    kept = OfferLine(entry.what, "job", 0, timing=entry.timing, work=entry.what)
    return replace(kept, answer=entry.answer)


def _on(waiting: Sequence[Item], key: str) -> Sequence[Item]:
    """What was chosen; what comes first where nothing was."""
    held = {one: on for one, _, on in places(waiting)}
    return held.get(key) or next(iter(held.values()))


def _key(on: Sequence[Item]) -> str:
    return "-".join(str(one.id) for one in on)


def _name(item: Item) -> str:
    if item.side:
        return say("left boot") if item.side == "left" else say("right boot")
    return item.description or say(item.kind)
