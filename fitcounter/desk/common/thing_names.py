"""What each thing on a ticket is called."""

from __future__ import annotations

from fitcounter.desk.common.translation import marked
from fitcounter.store.records import Item

NAMES = {
    ("boot", "left"): marked("Left boot"),
    ("boot", "right"): marked("Right boot"),
    ("shoe", None): marked("Shoes"),
    ("bag", None): marked("Bag"),
    ("belt", None): marked("Belt"),
    ("glove", None): marked("Gloves"),
    ("other", None): marked("Other work"),
}


def name_of(item: Item) -> str:
    """Left boot, Bag: what a thing is called by its kind and side, in English, to be said."""
    usual = NAMES.get((item.kind, None), NAMES["other", None])
    return NAMES.get((item.kind, item.side), usual)
