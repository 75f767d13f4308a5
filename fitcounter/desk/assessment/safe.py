"""As far as is safe: no number was asked for, so the job is asked with the ceiling's whole growth
as an amount.

There is no tier for it; the page shows the reach.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.tape import parse_length

NEXT_TO_NOTHING = "0.001 mm"


def as_far_as_safe(job: dict[str, Any], sides: Sequence[str], own: Own) -> dict[str, Any]:
    """The job with amount = ceiling × leather part at each height read on the boot, side by side.

    A first asking, for next to nothing, tells the leather part and the ceiling at those heights.
    own: the shop's limits.
    """
    probe = {**job, **{side: _asked(job, side, {}) for side in sides}}
    told: dict[str, Any] = assess(read_job(probe, tuple(sides)), own).as_json()
    most = {side: _growth(told[side]) for side in sides}
    return {**job, **{side: _asked(job, side, most[side]) for side in sides}}


def _growth(told: dict[str, Any]) -> dict[float, float]:
    return {
        round(one["height_mm"], 3): told["limits"]["ceiling"] * one["leather_mm"]
        for one in told["heights"]
    }


def _asked(job: dict[str, Any], side: str, growth_mm: dict[float, float]) -> dict[str, Any]:
    """One side with its amounts; without a growth they are next to nothing."""
    boot = {**job["boot"], **job[side]["differs"]}
    amounts = []
    for one in job[side]["boot"]:
        height = _seat_height_mm(one["height"], job["unit"], boot)
        amount = f"{max(0.0, growth_mm.get(height, 0.0)):.3f} mm" if growth_mm else NEXT_TO_NOTHING
        amounts.append({"height": f"{height:.3f} mm", "amount": amount})
    return {**job[side], "target": "amount", "amounts": amounts}


def _seat_height_mm(typed: str, unit: str, boot: dict[str, Any]) -> float:
    """A height of the boot above its heel seat: amounts know no other datum."""
    height = parse_length(typed, unit, zero_ok=True).float_mm
    seat = {"ground": height - float(boot["seat_mm"]), "top-line": float(boot["shaft_mm"]) - height}
    return round(seat.get(boot["heights_from"], height), 3)
