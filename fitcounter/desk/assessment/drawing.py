"""A boot's profile for its drawing, and the drawing of one boot as it is now."""

from __future__ import annotations

from functools import lru_cache

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.verdict import Case, Verdict
from fitcounter.fit.drawings.pair import Drawing, profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint
from fitcounter.fit.handbook.leg import TOLERANCE_MM
from fitcounter.store.records import Item

MOST_DRAWN = 256


def profile(case: Case, verdict: Verdict) -> BootProfile:
    """The evaluated heights of one boot; its tightest place only where it is short there."""
    worst, fastener = verdict.worst, case.boot.zip
    return BootProfile(
        tuple(ShaftPoint(now.height_mm, now.girth_mm, now.need_mm) for now in verdict.places),
        worst.height_mm if worst.need_mm > TOLERANCE_MM else None,
        (fastener.strip.from_mm, fastener.strip.to_mm) if fastener else None,
    )


def boot_now(now: Standing, boot: Item, shop: Shop) -> Drawing:
    """One boot against the line it must reach, as it is now, with the shop's heights beside it."""
    own, unit = profile(now.case, now.verdict), "in" if shop.unit == "in" else "cm"
    return _drawn(own, str(boot.side), unit, tuple(shop.heights_mm))


@lru_cache(maxsize=MOST_DRAWN)
def _drawn(boot: BootProfile, side: str, unit: str, marks: tuple[float, ...]) -> Drawing:
    """The same boot is drawn once: its page is opened at every scan, its figures change with a
    reading.
    """
    return profile_drawing(
        boot if side == "left" else None, boot if side == "right" else None, unit=unit, marks=marks
    )
