"""The guarantee: its last day, and whether the boot or the leg has changed when a pair comes back.

What it covers is the shop's choice, printed with it: a free hold if the boot went back; not if the
leg grew. Local law may give the customer more; nothing here takes any of it away.
"""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Literal

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook.wearing import (
    BOOT_BACK_OVER_MM,
    GUARANTEE_YEARS,
    LEG_FULLER_OVER_MM,
    LONGEST_TERM,
    MONTHS_A_YEAR,
)

TermUnit = Literal["years", "months", "days"]
Change = Literal["boot back", "leg fuller", "both", "neither", "cannot tell"]


@dataclass(frozen=True, slots=True)
class Term:
    """How long the guarantee runs: a count of calendar years, calendar months or days, 0–10, 0–120
    or 0–3660; 0 means none.

    Raises BadInput outside those ranges.
    """

    count: int = GUARANTEE_YEARS
    unit: TermUnit = "years"

    def __post_init__(self) -> None:
        if self.unit not in LONGEST_TERM:
            raise BadInput(
                message("Choose years, months or days."), typed=self.unit, field="guarantee_unit"
            )
        if not 0 <= self.count <= LONGEST_TERM[self.unit]:
            longest = f"{LONGEST_TERM[self.unit]} {self.unit}"
            raise BadInput(
                message("Give a guarantee of at most {longest}.", longest=longest),
                typed=str(self.count),
                field="guarantee_count",
            )


@dataclass(frozen=True, slots=True)
class RawReading:
    """A raw reading, at the place that was tightest, just as the tape gave it.

    reading_mm: girth, or width for a boot laid flat. method: how it was taken ("inside", "outside",
    "flat"; for a leg over what and in which posture). Two readings are compared only where the
    method is the same.
    """

    reading_mm: Fraction
    method: str


@dataclass(frozen=True, slots=True)
class Comeback:
    """What has changed since pickup.

    boot_back_mm, leg_fuller_mm: loss of girth of the boot, gain of girth of the leg, None where it
    cannot be compared.
    """

    change: Change
    boot_back_mm: Fraction | None
    leg_fuller_mm: Fraction | None

    @property
    def free_round(self) -> bool:
        """Whether the guarantee, while it runs, gives a free round."""
        return self.change in ("boot back", "both")


def guarantee_end(pickup_day: date, term: Term) -> date | None:
    """The last day covered: the same date one year (or `term`) later, or the last day of a month
    that is too short. None: no guarantee.

    29 February 2024 and a year gives 28 February 2025.
    """
    if term.count == 0:
        return None
    if term.unit == "days":
        return pickup_day + timedelta(days=term.count)
    months = term.count * (MONTHS_A_YEAR if term.unit == "years" else 1)
    year, month0 = divmod(
        pickup_day.year * MONTHS_A_YEAR + pickup_day.month - 1 + months, MONTHS_A_YEAR
    )
    return date(year, month0 + 1, min(pickup_day.day, monthrange(year, month0 + 1)[1]))


def covered(day: date, end: date | None) -> bool:
    """Whether a comeback on that local day is within the guarantee; the last day is."""
    return end is not None and day <= end


def compare(
    boot_pickup: RawReading,
    boot_today: RawReading,
    leg_pickup: RawReading | None,
    leg_today: RawReading | None,
) -> Comeback:
    """Whether boot, leg, both or neither changed between pickup and today.

    All readings at the place that was tightest at pickup. Boot back: by over 4 mm; leg fuller: by
    over 6 mm; what is less is reading error (both the shop's choice). Unrounded lengths are
    compared. A flat width counts twice.
    """
    boot_back = _difference(boot_today, boot_pickup)
    leg_fuller = _difference(leg_pickup, leg_today)
    is_back = boot_back is not None and boot_back > BOOT_BACK_OVER_MM
    is_fuller = leg_fuller is not None and leg_fuller > LEG_FULLER_OVER_MM
    change: Change = (
        "both"
        if is_back and is_fuller
        else "boot back"
        if is_back
        else "leg fuller"
        if is_fuller
        else "neither"
    )
    return Comeback("cannot tell" if boot_back is None else change, boot_back, leg_fuller)


def _difference(smaller: RawReading | None, larger: RawReading | None) -> Fraction | None:
    """How much girth the second has over the first, mm; None where one is missing or they were
    taken in different ways.
    """
    if smaller is None or larger is None or smaller.method != larger.method:
        return None
    return (larger.reading_mm - smaller.reading_mm) * (2 if larger.method == "flat" else 1)
