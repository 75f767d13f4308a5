"""What the counter did about an item, as lines of its history: calls with their notes, and who
picked it up.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from fitcounter.desk.bench.item_history import Line
from fitcounter.desk.common.how_they_were_told import call_words
from fitcounter.desk.common.translation import say
from fitcounter.store import contacts, tills
from fitcounter.store.database import Store
from fitcounter.store.records import Item

NO_STEP = 0


def with_counter(
    store: Store, item: Item, people: Mapping[int, str], steps: Sequence[Line]
) -> list[Line]:
    """The steps, newest first, with what the counter did among them. people: names by id."""
    history = list(steps)
    for line in _counter_lines(store, item, people):
        later = (n for n, one in enumerate(history) if one.happened_at <= line.happened_at)
        history.insert(next(later, len(history)), line)
    return history


def _counter_lines(store: Store, item: Item, people: Mapping[int, str]) -> list[Line]:
    told = [
        _line(one.at, call_words(one.how), one.note, people.get(one.staff_id or 0, ""))
        for one in contacts.calls_noted(store, item.ticket_id)
    ]
    collected = [
        _line(
            one.at,
            say("Picked up by {name}", name=one.collected_by or say("no name saved")),
            "",
            people.get(one.staff_id or 0, ""),
        )
        for one in tills.handovers(store, item.ticket_id)
        if item.id in json.loads(one.items)
    ]
    return [*told, *collected]


def _line(at: str, head: str, text: str, who: str) -> Line:
    return Line(NO_STEP, at, "", head, text, who, recorded=True, undone=False)
