"""The shop's own limits: what it set differently from the handbook, a leather at a time, and every
answer that is given by them.

What is stored is only what differs, so that a better handbook reaches whatever the shop left alone.
A stored value that cannot be is passed over: the handbook's stands.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from fitcounter.desk.assessment.safe import as_far_as_safe
from fitcounter.fit.assessment.assess import Assessment, assess, read_job
from fitcounter.fit.assessment.materials import HANDBOOK, Factors, Own
from fitcounter.fit.handbook.leather import LEATHERS, MOST_OWN_STRAIN, Leather
from fitcounter.fit.handbook.rounds import KEPT_LEAST, KEPT_MOST
from fitcounter.store import settings
from fitcounter.store.database import Store

EVERY = "every"  # stands in the place of a leather: what narrows the limits of all of them
OWN_FIGURES = "the shop's own figures"


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


def told(
    store: Store, job: dict[str, Any], sides: Sequence[str], *, safe: bool = False
) -> Assessment:
    """The answer to a job by the shop's limits.

    safe: as far as is safe, with no amount asked. Raises BadInput, BadReading.
    """
    own = of_shop(store)
    asked = as_far_as_safe(job, sides, own) if safe else job
    return assess(read_job(asked, tuple(sides)), own)


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
    return replace(row, **now, thickness_mm=thickness, reason=f"{row.reason}; {OWN_FIGURES}")  # type: ignore[arg-type]  # all are numbers
