"""While they're here: the job that goes with what we saw, offered once, where the price is agreed.

A yes is a price line and a job.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.desk.common.condition import SIGHTS
from fitcounter.fit.handbook.figure import Trust
from fitcounter.store.records import Finding, Item

# What the trade does about each finding, and in which order beside stretching: common practice, no
# source.
TRUST = Trust.COMMON_PRACTICE
JOBS = {
    "heel-worn": ("new heel tips", "before the heel itself wears down"),
    "sole-thin": ("half soles", "before the welt is walked through"),
    "loose-heel": (
        "heel or sole refastened",
        "after stretching, so that it is not pulled at twice",
    ),
    "open-seam": ("seam restitched", "before stretching, which would open it further"),
    "zip-worn": ("new slider, the zip waxed", "after stretching, when the girth is settled"),
    "zip-damaged": ("new zip", "after stretching, when the girth is settled"),
    "elastic-tired": ("new elastic", "after stretching, when the girth is settled"),
    "worn-lining": ("lining patched", "before stretching, so that it moves with the leather"),
    "scuffs": ("scuffs recoloured", "last, with the polish"),
    "stain": ("cleaned and recoloured", "last, with the polish"),
    "dye-rub": ("colour fixed", "last, with the polish"),
    "dry-leather": (
        "cleaned and conditioned",
        "before stretching, which dry leather does not bear",
    ),
}


@dataclass(frozen=True, slots=True)
class Extra:
    """One job to offer.

    word: the finding; on: which boots or thing, in words; when: before or after stretching, and
    why.
    """

    word: str
    job: str
    when: str
    on: str
    seen: str
    item_ids: tuple[int, ...]

    @property
    def line(self) -> str:
        """As it stands among the prices."""
        return f"{self.job[:1].upper()}{self.job[1:]}, {self.on}"


def offered(waiting: Sequence[Item], seen: Sequence[Finding]) -> tuple[Extra, ...]:
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
                Extra(word, job, when, _on(on), SIGHTS[word].words, tuple(item.id for item in on))
            )
    return tuple(found)


def _on(held: Sequence[Item]) -> str:
    sides = [item.side for item in held if item.side]
    return (
        "both boots"
        if len(sides) == 2
        else f"{sides[0]} boot"
        if sides
        else held[0].description or held[0].kind
    )
