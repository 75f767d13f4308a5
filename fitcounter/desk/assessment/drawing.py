"""A boot's profile for its drawing, and the drawing of one boot as it is now."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import lru_cache

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.shop import Shop
from fitcounter.fit.drawings.pair import Drawing, profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, Place
from fitcounter.fit.handbook.leg import TOLERANCE_MM, UM_PER_MM
from fitcounter.store.records import Item

MOST_DRAWN = 256


def profile(places: Iterable[Place], worst: Place, boot: Item) -> BootProfile:
    """The evaluated heights of one boot; its tightest place only where it is short there."""
    tightest = worst.height_mm if (worst.need_mm or 0) > TOLERANCE_MM else None
    return BootProfile(tuple(places), tightest, _zip_mm(boot))


def boot_now(found: Standing, boot: Item, shop: Shop) -> Drawing:
    """One boot against the line it must reach, as it is now, with the shop's heights beside it."""
    shown = [Place(one.height_mm, one.girth_mm, one.need_mm) for one in found.verdict.places]
    worst = found.verdict.worst
    own = profile(shown, Place(worst.height_mm, worst.girth_mm, worst.need_mm), boot)
    return _drawn(own, str(boot.side), "in" if shop.unit == "in" else "cm", tuple(shop.heights_mm))


@lru_cache(maxsize=MOST_DRAWN)
def _drawn(boot: BootProfile, side: str, unit: str, marks: tuple[float, ...]) -> Drawing:
    """The same boot is drawn once: its page is opened at every scan, its figures change with a
    reading.
    """
    return profile_drawing(
        boot if side == "left" else None, boot if side == "right" else None, unit=unit, marks=marks
    )


def _zip_mm(boot: Item) -> tuple[float, float] | None:
    if not boot.zip:
        return None
    held = json.loads(boot.zip)
    return held["from_um"] / UM_PER_MM, held["to_um"] / UM_PER_MM
