"""The boots behind a figure of the book, each with its ticket."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from fitcounter.desk.book import estimate_and_result, estimate_charts
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import outcomes
from fitcounter.store.database import Store
from fitcounter.store.outcomes import EstimateAndResult

MOST_BOOTS = 500
Told = Callable[[EstimateAndResult, int | None], bool]
# What a figure counts. The second is by how many days a boot was ready early, None where unknown.
_FINISHED: dict[str, tuple[str, Told]] = {
    "all": (marked("Finished"), lambda one, early: True),
    "same": (marked("As many rounds as estimated"), lambda one, early: one.rounds == one.likely),
    "fewer": (
        marked("Fewer rounds than estimated"),
        lambda one, early: one.rounds < (one.likely or 0),
    ),
    "more": (
        marked("More rounds than estimated"),
        lambda one, early: one.rounds > (one.likely or 0),
    ),
    "one-round": (marked("Done in one round"), lambda one, early: one.rounds == 1),
    "promised": (marked("With a promised day"), lambda one, early: early is not None),
    "kept": (marked("Promised day kept"), lambda one, early: early is not None and early >= 0),
    "late": (marked("Ready after the promised day"), lambda one, early: (early or 0) < 0),
}
_OTHERS = {
    "stopped": marked("Stopped"),
    "declined": marked("Given back undone"),
    "unfinished": marked("Not finished yet"),
}
FIGURES = (*_FINISHED, *_OTHERS)


class BootsBehind(NamedTuple):
    """title: what the figure counts. boots: newest first, at most MOST_BOOTS; number: of all."""

    title: str
    boots: tuple[tuple[outcomes.BootName, EstimateAndResult], ...]
    number: int


def behind(store: Store, shop: Shop, figure: str, estimate: int | None = None) -> BootsBehind:
    """figure: of FIGURES. estimate: only of those with so many rounds estimated. Raises NotFound
    for another.
    """
    if figure not in FIGURES:
        raise NotFound(say("The book has no such figure."))
    held = [
        one
        for one in outcomes.said_and_took(store, outcomes.newest_items_from(store))
        if _counts(one, shop, figure)
        and estimate in (None, min(one.likely or 0, estimate_charts.MOST_ROUNDS))
    ]
    shown = held[:MOST_BOOTS]
    names = outcomes.names_of(store, [one.item_id for one in shown])
    title = _OTHERS[figure] if figure in _OTHERS else _FINISHED[figure][0]
    return BootsBehind(say(title), tuple((names[one.item_id], one) for one in shown), len(held))


def _counts(one: EstimateAndResult, shop: Shop, figure: str) -> bool:
    if figure in _OTHERS or one.outcome != "finished":
        return one.outcome == figure
    early = (
        estimate_and_result.days_early(one, shop) if one.promise_day and one.shelved_at else None
    )
    return _FINISHED[figure][1](one, early)
