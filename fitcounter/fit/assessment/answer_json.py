"""One side of an answer in the form that `fitcounter assess` prints: unrounded numbers, every key
always there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.slips import Slip
from fitcounter.fit.assessment.verdict import Course, Verdict
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.tape import short_by_inches

_ROUND_KEYS = (*(str(number) for number in range(book.MOST_ROUNDS + 1)), "more")


def side_json(verdict: Verdict, slips: Sequence[Slip], second_look: bool) -> dict[str, object]:
    """The answer for one boot as a JSON object."""
    limits = verdict.limits
    return {
        "tier": verdict.tier,
        "heights": [_height_json(place) for place in verdict.places],
        "worst": _worst_json(verdict.worst),
        "limits": {
            "routine": limits.routine,
            "round": limits.round,
            "ceiling": limits.ceiling,
            "because": list(limits.because),
        },
        **_course_json(verdict),
        "panel": None if verdict.panel is None else asdict(verdict.panel),
        "stop": None if verdict.course is None else verdict.course.stop,
        "room": None if verdict.room is None else asdict(verdict.room),
        "notes": list(verdict.notes),
        "second_look": second_look,
        "slips": [{"where": slip.where, "question": slip.question} for slip in slips],
    }


def _height_json(place: PlaceNow) -> dict[str, object]:
    """A height as it is now: inside girth after the rounds, leather part as first brought in."""
    return {
        "height_mm": place.height_mm,
        "station": place.first.station,
        "leg_mm": place.first.leg_mm,
        "inside_mm": place.girth_mm,
        "need_mm": place.need_mm,
        "need_u_mm": place.first.need_u_mm,
        "leather_mm": place.first.leather_mm,
        "strain": place.strain,
    }


def _worst_json(worst: PlaceNow) -> dict[str, object]:
    return {
        "height_mm": worst.height_mm,
        "need_mm": worst.need_mm,
        "need_in": short_by_inches(worst.need_mm),
        "need_u_mm": worst.first.need_u_mm,
        "strain": worst.strain,
        "strain_total": worst.strain_total,
    }


def _course_json(verdict: Verdict) -> dict[str, object]:
    course = verdict.course
    if course is None:
        none_needed = (
            {key: float(key == "0") for key in _ROUND_KEYS} if verdict.tier == "none" else None
        )
        empty: dict[str, object] = dict.fromkeys(
            (
                "kept",
                "next",
                "load",
                "rounds",
                "likely",
                "eight_in_ten",
                "within_max",
                "fits",
                "reach_mm",
            )
        )
        return {**empty, "rounds": none_needed}
    return {
        "kept": asdict(course.stand.kept),
        "next": _next_json(course),
        "load": asdict(course.load),
        "rounds": dict(zip(_ROUND_KEYS, course.odds.shares, strict=True)),
        "likely": course.odds.likely,
        "eight_in_ten": course.odds.eight_in_ten,
        "within_max": course.within_max,
        "fits": course.odds.fits,
        "reach_mm": list(course.reach_mm),
    }


def _next_json(course: Course) -> dict[str, object]:
    opening = course.opening
    return {
        "girth_mm": opening.girth_mm,
        "opening_mm": opening.opening_mm,
        "limited_by": opening.limited_by,
        "expected_gain_mm": opening.expected_gain_mm,
    }
