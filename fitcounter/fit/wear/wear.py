"""One wear, and the rules a pair is worn in by.

The figures are common practice of the trade, no source, unless it says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook.wearing import (
    GROWING_MIN,
    LONGEST_REST_H,
    LONGEST_WEAR_MIN,
    MOST_WEARS,
    REST_H,
    THREE_SHORT_WEARS_MIN,
    TOO_LONG_OVER_MIN,
)

RestFrom = Literal["start", "end"]
WearState = Literal["planned", "worn", "missed", "moved", "off"]

EXTRA = 0
"""The step number of a wear that belongs to no step of the plan."""


@dataclass(frozen=True, slots=True)
class WearRules:
    """How a pair is worn in.

    minutes: planned length of each wear, 1–960. rest_h: elapsed hours of rest, 1–240, counted from
    putting on ("start") or from taking off ("end", the strict form). free_day_between: one whole
    local day without boots between any two wears.
    preset: the name these rules came from, or "own". Raises BadInput outside those ranges.
    """

    minutes: tuple[int, ...]
    rest_h: int = REST_H
    rest_from: RestFrom = "start"
    free_day_between: bool = False
    preset: str = "own"

    def __post_init__(self) -> None:
        if not 1 <= len(self.minutes) <= MOST_WEARS:
            raise BadInput(
                message("Give between 1 and {most_wears} wears.", most_wears=MOST_WEARS),
                typed=str(len(self.minutes)),
                field="minutes",
            )
        for minutes in self.minutes:
            if not 1 <= minutes <= LONGEST_WEAR_MIN:
                raise BadInput(
                    message(
                        "Give each wear between 1 and {longest_wear_min} minutes.",
                        longest_wear_min=LONGEST_WEAR_MIN,
                    ),
                    typed=str(minutes),
                    field="minutes",
                )
        if not 1 <= self.rest_h <= LONGEST_REST_H:
            raise BadInput(
                message(
                    "Give a rest between 1 and {longest_rest_h} hours.",
                    longest_rest_h=LONGEST_REST_H,
                ),
                typed=str(self.rest_h),
                field="rest_h",
            )
        if self.rest_from not in ("start", "end"):
            raise BadInput(
                message("Count the rest from putting on (start) or from taking off (end)."),
                typed=self.rest_from,
                field="rest_from",
            )


PRESETS = {
    "three-short-wears": WearRules(
        THREE_SHORT_WEARS_MIN, REST_H, "start", False, "three-short-wears"
    ),
    "growing": WearRules(GROWING_MIN, REST_H, "start", True, "growing"),
}


@dataclass(frozen=True, slots=True)
class Wear:
    """One wear on one day.

    n: step, from 1; 0 (`EXTRA`) is a wear that was no step. start, end: UTC, as planned. minutes:
    as planned.
    local_day: the day it is planned for or, once worn, the day it was put on. state: planned (to
    come) · worn · missed (its day went by) · moved (she said not today) · off (withdrawn).
    actual_start (UTC) and actual_minutes: as said, only when worn.
    """

    n: int
    start: datetime
    end: datetime
    minutes: int
    local_day: date
    state: WearState = "planned"
    actual_start: datetime | None = None
    actual_minutes: int | None = None

    @property
    def began(self) -> datetime:
        """When it was put on if it was worn, else when it is planned to be."""
        return self.start if self.actual_start is None else self.actual_start

    @property
    def ended(self) -> datetime:
        """When it was taken off if it was worn, else when it is planned to be."""
        return (
            self.end
            if self.actual_minutes is None
            else self.began + timedelta(minutes=self.actual_minutes)
        )

    @property
    def too_long(self) -> bool:
        """Whether it was worn more than five minutes longer than planned."""
        return (
            self.actual_minutes is not None
            and self.actual_minutes > self.minutes + TOO_LONG_OVER_MIN
        )


def preset(name: str) -> WearRules:
    """The rules of that name: "three-short-wears" or "growing". Raises BadInput for any other."""
    if name not in PRESETS:
        raise BadInput(message("Choose three short wears or growing."), typed=name, field="preset")
    return PRESETS[name]
