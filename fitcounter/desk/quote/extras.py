"""While they're here: the job that goes with what we saw, offered once, where the price is agreed.

A yes is a price line and a job.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.store.database import Store
from fitcounter.store.records import Finding, Item

# What the trade does about each finding, and in which order beside stretching: common practice, no
# source.
JOBS = {
    "heel-worn": (marked("new heel tips"), marked("Before the heel itself wears down.")),
    "sole-thin": (marked("half soles"), marked("Before the welt wears through.")),
    "loose-heel": (
        marked("heel or sole refastened"),
        marked("After stretching, so the heel is pulled only once."),
    ),
    "open-seam": (
        marked("seam restitched"),
        marked("Before stretching, which would open the seam further."),
    ),
    "zip-worn": (
        marked("new slider, zipper waxed"),
        marked("After stretching, when the size is final."),
    ),
    "zip-damaged": (marked("new zipper"), marked("After stretching, when the size is final.")),
    "elastic-tired": (marked("new elastic"), marked("After stretching, when the size is final.")),
    "zip-gapes": (marked("new zipper"), marked("After stretching, when the size is final.")),
    "lining-torn": (
        marked("lining patched"),
        marked("Before stretching, so the lining moves with the leather."),
    ),
    "worn-lining": (
        marked("lining patched"),
        marked("Before stretching, so the lining moves with the leather."),
    ),
    "scuffs": (marked("scuffs recolored"), marked("Last, with the polish.")),
    "stain": (marked("cleaned and recolored"), marked("Last, with the polish.")),
    "dye-rub": (marked("color fixed"), marked("Last, with the polish.")),
    "dry-leather": (
        marked("cleaned and conditioned"),
        marked("Before stretching: dry leather cannot take it."),
    ),
}

# Which entry of the list of work each is.
CODES = {
    "heel-worn": "heel-tips",
    "sole-thin": "half-soles",
    "loose-heel": "heel-fastened",
    "open-seam": "seam",
    "zip-worn": "slider",
    "zip-damaged": "zip",
    "zip-gapes": "zip",
    "elastic-tired": "elastic",
    "lining-torn": "lining",
    "worn-lining": "lining",
    "scuffs": "recolored",
    "stain": "cleaned",
    "dye-rub": "color-fixed",
    "dry-leather": "conditioned",
}


class Extra(NamedTuple):
    """One job to offer.

    word: the finding; on: which boots or thing, in words; when: before or after stretching, and
    why. entry: of the list of work.
    """

    word: str
    job: str
    when: str
    on: str
    seen: str
    item_ids: tuple[int, ...]
    entry: PriceEntry

    @property
    def price_minor(self) -> int | None:
        """For all of them, where the list has a price."""
        each = self.entry.price_minor
        return None if each is None else each * len(self.item_ids)

    @property
    def line(self) -> str:
        """As it stands among the prices."""
        return say("{work}, {item}", work=f"{self.job[:1].upper()}{self.job[1:]}", item=self.on)


def offered(store: Store, waiting: Sequence[Item], seen: Sequence[Finding]) -> tuple[Extra, ...]:
    """A job for each finding on what waits to be agreed, the two boots of a pair together.

    What is agreed is never offered again.
    """
    found = []
    for word, (job, when) in JOBS.items():
        on = [
            item
            for item in waiting
            if any(one.item_id == item.id and one.word == word for one in seen)
        ]
        if on:
            found.append(
                Extra(
                    word,
                    say(job),
                    say(when),
                    _on(on),
                    say(SIGHTS[word].words),
                    tuple(item.id for item in on),
                    price_list.get(store, CODES[word]),
                )
            )
    return tuple(found)


def _on(held: Sequence[Item]) -> str:
    sides = [item.side for item in held if item.side]
    if len(sides) == 2:
        return say("both boots")
    if sides:
        return say("left boot") if sides[0] == "left" else say("right boot")
    return held[0].description or say(held[0].kind)
