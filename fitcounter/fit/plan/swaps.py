"""The order in which holds are placed: by promised day, then swapped in pairs while the objective
falls.

The number of placements is bounded, not the time: the same bench gives the same plan on every
machine.
"""

from __future__ import annotations

from collections.abc import Iterable

from fitcounter.fit.plan.floor import Floor, Moment, Order, beginning, place, put, total


def first_orders(floor: Floor, pairs: list[int]) -> list[Order]:
    """Orders to start from, pairs in this sequence: each pair to its end, boots taking turns; and
    all pairs round by round.
    """
    boots_of: dict[int, list[int]] = {pair: [] for pair in pairs}
    for number, boot in enumerate(floor.boots):
        boots_of[boot.pair].append(number)
    longest = max((boot.holds for boot in floor.boots), default=0)
    turns = [
        [number for pair in pairs for number in boots_of[pair] if floor.boots[number].holds > turn]
        for turn in range(longest)
    ]
    pair_by_pair = [
        number
        for pair in pairs
        for turn in turns
        for number in turn
        if floor.boots[number].pair == pair
    ]
    round_by_round = [number for turn in turns for number in turn]
    return [pair_by_pair, round_by_round]


def improved(floor: Floor, order: Order, placements: int) -> tuple[Order, int, int]:
    """Swap two holds of different boots while the objective falls: the order, its objective, and
    the placements left.
    """
    _, moments = place(floor, order, beginning(floor))
    best = total(floor, moments[-1].from_day)
    placements -= len(order)
    fell = True
    while fell:
        fell = False
        for early, late in (
            (a, a + gap) for gap in range(1, len(order)) for a in range(len(order) - gap)
        ):
            if order[early] == order[late]:
                continue
            if placements <= 0:
                return order, best, 0
            trial = order.copy()
            trial[early], trial[late] = trial[late], trial[early]
            objective, used = tried(floor, trial, moments, (early, late), best)
            placements -= used
            if objective < best:
                order, best, fell = trial, objective, True
                moments[early:] = place(floor, order, moments[early], early)[1]
    return order, best, placements


def tried(
    floor: Floor, trial: Order, moments: list[Moment], swap: tuple[int, int], best: int
) -> tuple[int, int]:
    """The objective of an order in which two holds of the placed one are swapped, and the holds
    placed to find it.

    swap: their positions, the earlier first. Past it, as soon as the floor looks as it did before,
    the rest is as it was and nothing is gained.
    """
    early, late = swap
    free, from_day = list(moments[early].free), list(moments[early].from_day)
    for position in range(early, len(trial)):
        put(floor, trial[position], free, from_day)
        if position >= late:
            before = moments[position + 1]
            if from_day == list(before.from_day) and free == list(before.free):
                return best, position - early + 1
    return total(floor, from_day), len(trial) - early


def best_order(floor: Floor, orders: Iterable[Order], placements: int) -> Order:
    """The best order found from these (whole orders), within so many placements."""

    def worth(order: Order) -> int:
        return total(floor, place(floor, order, beginning(floor))[1][-1].from_day)

    starts = dict.fromkeys(tuple(order) for order in orders)
    ranked = sorted((list(order) for order in starts), key=worth)
    found: list[tuple[int, Order]] = []
    for start in ranked:
        order, objective, placements = improved(floor, start, placements)
        found.append((objective, order))
    return min(found, key=lambda entry: entry[0])[1]
