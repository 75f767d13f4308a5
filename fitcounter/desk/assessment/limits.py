"""The shop's own limits: what it set differently from the handbook, a leather at a time, and every
answer that is given by them.

What is stored is only what differs, so that a better handbook reaches whatever the shop left alone.
A stored value that cannot be is passed over: the handbook's stands.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Any

from fitcounter.desk.common.translation import marked
from fitcounter.fit.assessment.assess import Assessment, assess, case_of
from fitcounter.fit.assessment.job import Asked, Job, Side
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.assessment.job_checks import check_job
from fitcounter.fit.assessment.materials import HANDBOOK, Factors, Own
from fitcounter.fit.assessment.materials import limits as boot_limits
from fitcounter.fit.handbook.leather import LEATHERS, MOST_OWN_STRAIN, Leather
from fitcounter.fit.handbook.rounds import KEPT_LEAST, KEPT_MOST
from fitcounter.fit.tape import Length
from fitcounter.store import settings
from fitcounter.store.database import Store

EVERY = "every"  # stands in the place of a leather: what narrows the limits of all of them
OWN_FIGURES = marked("the shop's own figures")
NEXT_TO_NOTHING_MM = 0.001  # asked for to learn the leather part and the ceiling


@dataclass(frozen=True, slots=True)
class Span:
    """What a figure may be. unit: "%" for a share, "mm"; least and most: as it is stored."""

    unit: str
    least: float
    most: float


_STRAIN, _THICKNESS, _FACTOR = (
    Span("%", 0.0, MOST_OWN_STRAIN),
    Span("mm", 0.3, 8.0),
    Span("%", 0.1, 1.0),
)
SPANS = {
    "routine": _STRAIN,
    "round": _STRAIN,
    "ceiling": _STRAIN,
    "kept_mean": Span("%", KEPT_LEAST, KEPT_MOST),
    "kept_sd": Span("%", 0.01, 0.4),
    "strain_10mpa": Span("%", 0.05, 0.6),
    "thickness_from_mm": _THICKNESS,
    "thickness_to_mm": _THICKNESS,
}
FACTOR_SPANS = dict.fromkeys(("cloth_lining", "dry_or_old", "prior_stretch", "careful"), _FACTOR)


def of_shop(store: Store) -> Own:
    """What the shop set; the handbook where it set nothing."""
    return _read(settings.of_leathers(store))


def leather_of(store: Store, code: str) -> Leather:
    """The row of a leather as this shop has it. code: one of the handbook's."""
    return of_shop(store).row(LEATHERS[code])


def assessed(store: Store, job: Job, *, safe: bool = False) -> Assessment:
    """The answer to a job by the shop's limits.

    safe: as far as is safe, with no amount asked. Raises BadInput, BadReading.
    """
    own = of_shop(store)
    return assess(checked(job, own, safe=safe), own)


def checked(job: Job, own: Own, *, safe: bool = False) -> Job:
    """The job as it is answered, with nothing in it that cannot be.

    own: the shop's limits; safe: as far as is safe, with no amount asked. Raises BadInput,
    BadReading.
    """
    if safe:
        return as_far_as_safe(job, own)
    check_job(job)
    return job


def as_far_as_safe(job: Job, own: Own) -> Job:
    """The job with the ceiling's whole growth asked for at each height that was read on the boot.

    For somebody who asked for no number; there is no tier for it, and its page shows the reach.

    Raises BadInput, BadReading.
    """
    probe = replace(job, sides=tuple(_asking(side, {}) for side in job.sides))
    check_job(probe)
    sides = tuple(_asking(side, _growth(probe, side, own)) for side in probe.sides)
    safe = replace(job, sides=sides)
    check_job(safe)
    return safe


def _growth(job: Job, side: Side, own: Own) -> dict[float, float]:
    """Height above the heel seat to the most that the leather part may grow there, mm."""
    case = case_of(job, side, own)
    bounds = boot_limits(case.leather, case.narrowing, case.factors)
    return {round(place.height_mm, 3): bounds.ceiling * place.leather_mm for place in case.places}


def _asking(side: Side, growth_mm: Mapping[float, float]) -> Side:
    """The side with its amounts; without a growth they are next to nothing."""
    amounts = []
    for reading in side.shaft:
        height_mm = _above_seat_mm(reading.height.float_mm, side.boot)
        amount_mm = max(0.0, growth_mm.get(height_mm, 0.0)) if growth_mm else NEXT_TO_NOTHING_MM
        amounts.append(Asked(_length(height_mm), (_length(amount_mm),)))
    return replace(side, target="amount", amounts=tuple(amounts))


def _above_seat_mm(height_mm: float, boot: Boot) -> float:
    """A height of the boot above its heel seat: amounts know no other datum."""
    seat = {"ground": height_mm - boot.seat_mm, "top-line": boot.shaft_mm - height_mm}
    return round(seat.get(boot.heights_from, height_mm), 3)


def _length(mm: float) -> Length:
    """A reckoned length as if it had been typed: to the micrometre."""
    text = f"{mm:.3f}"
    return Length(Fraction(text), f"{text} mm", "mm")


def figures_of(row: Leather) -> dict[str, float]:
    """Every figure of a row that the shop may set, by its key."""
    low, high = row.thickness_mm
    return {
        "routine": row.routine,
        "round": row.round,
        "ceiling": row.ceiling,
        "kept_mean": row.kept_mean,
        "kept_sd": row.kept_sd,
        "strain_10mpa": row.strain_10mpa,
        "thickness_from_mm": low,
        "thickness_to_mm": high,
    }


def factors_of(factors: Factors) -> dict[str, float]:
    return {key: getattr(factors, key) for key in FACTOR_SPANS}


@lru_cache(maxsize=16)
def _read(held: tuple[tuple[str, str], ...]) -> Own:
    stored = {code: json.loads(text) for code, text in held}
    rows = tuple(
        _row(LEATHERS[code], own)
        for code, text in stored.items()
        if code in LEATHERS and (own := _sound(text, SPANS))
    )
    return Own(rows, replace(HANDBOOK.factors, **_sound(stored.get(EVERY), FACTOR_SPANS)))


def _sound(held: object, spans: Mapping[str, Span]) -> dict[str, float]:
    """The stored figures that can be."""
    pairs = held.items() if isinstance(held, dict) else ()
    return {
        key: float(value)
        for key, value in pairs
        if key in spans
        and isinstance(value, int | float)
        and spans[key].least <= value <= spans[key].most
    }


def _row(row: Leather, own: Mapping[str, float]) -> Leather:
    """The handbook's row with the shop's figures in it."""
    now = {**figures_of(row), **own}
    thickness = (now.pop("thickness_from_mm"), now.pop("thickness_to_mm"))
    numbers: dict[str, Any] = {**now, "thickness_mm": thickness}
    return replace(row, **numbers, reason=f"{row.reason}; {OWN_FIGURES}")
