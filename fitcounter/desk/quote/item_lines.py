"""What an item was brought in for, as price lines: with price and days of the list of work where
it is called there just so.
"""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.store.customers import name_key
from fitcounter.store.records import Item


def lines_of_item(entries: Sequence[PriceEntry], item: Item) -> list[OfferLine]:
    """In the words of New job: one line for each entry that is named there, with commas between;
    else one line, its price open (0).
    """
    named = _named(entries, item.jobs)
    if not named:
        return [_line(item, item.jobs, 0, 1)]
    return [_line(item, part, one.price_minor or 0, one.taxable) for part, one in named]


def days_of_item(entries: Sequence[PriceEntry], item: Item) -> int:
    """Days that what is named usually takes, 0 where it is not on the list."""
    return sum(one.days for _, one in _named(entries, item.jobs))


def _named(entries: Sequence[PriceEntry], jobs: str) -> list[tuple[str, PriceEntry]]:
    """What was typed of each entry; none where a part of it is not on the list or has no fixed
    price there.
    """
    fixed = [one for one in entries if one.price_minor is not None and not one.size_minor]
    by_name = {name_key(one.name): one for one in fixed if not one.answer}
    parts = [part.strip() for part in jobs.split(",") if part.strip()]
    found = [(part, by_name[name_key(part)]) for part in parts if name_key(part) in by_name]
    return found if len(found) == len(parts) else []


def _line(item: Item, work: str, amount_minor: int, taxable: int) -> OfferLine:
    words = f"{item.description}: {work}".removesuffix(": ")
    return OfferLine(words, "job", amount_minor, item.id, taxable)
