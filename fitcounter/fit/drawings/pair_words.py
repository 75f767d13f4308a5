"""The drawing of a pair in words: its caption, and each boot in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.errors import message
from fitcounter.fit.drawings.shaft_lines import BootProfile
from fitcounter.fit.handbook.leg import MM_PER_INCH, SIXTEENTHS, TOLERANCE_MM
from fitcounter.fit.tape import say_height, say_short_by, sixteenths_up, write_drawn

_BOOTS = {"left": message("Left boot"), "right": message("Right boot")}


def need_at(boot: BootProfile, h: float) -> float:
    return next(
        (
            place.need_mm
            for place in boot.places
            if place.height_mm == h and place.need_mm is not None
        ),
        0.0,
    )


def unit_word(boot: BootProfile, unit: str) -> str:
    if boot.tightest_mm is None:
        return message("wide enough")
    if unit != "in":
        return unit
    many = sixteenths_up(need_at(boot, boot.tightest_mm)) > SIXTEENTHS
    return message("inches") if many else message("inch")


def boot_words(side: str, boot: BootProfile, unit: str) -> str:
    """One boot in a sentence, for who cannot see the drawing."""
    which = _BOOTS[side]
    if boot.tightest_mm is None:
        return message("{boot}: wide enough.", boot=which)
    short = [place.height_mm for place in boot.places if (place.need_mm or 0) > TOLERANCE_MM]
    low, high = (
        _about(h, unit)
        for h in (min(short, default=boot.tightest_mm), max(short, default=boot.tightest_mm))
    )
    known = {
        "boot": which,
        "tightest": say_height(boot.tightest_mm, unit),
        "need": say_short_by(need_at(boot, boot.tightest_mm), unit),
        "low": low,
        "high": high,
    }
    if low == high:
        return message(
            "{boot}: short at about {low}. The tightest place is at {tightest}, short by {need}.",
            **known,
        )
    return message(
        "{boot}: short from about {low} to {high}. The tightest place is at {tightest}, short by"
        " {need}.",
        **known,
    )


def _about(h: float, unit: str) -> str:
    """A height to the half inch or the centimetre: the ends of a stretch are not read, they lie
    between readings.
    """
    half_inches = round(h / float(MM_PER_INCH) * 2)
    if unit != "in":
        return f"{round(h / 10)} cm"
    return f"{write_drawn(half_inches * SIXTEENTHS // 2)} in"


def caption(boots: Sequence[BootProfile]) -> str:
    if all(boot.tightest_mm is None for boot in boots):
        return message("Wide enough wherever they were measured.")
    unread = all(place.inside_mm is None for boot in boots for place in boot.places)
    dashed = message(
        "Dashed is the line your boots must reach. The hatching is what is missing, drawn at twice"
        " its width."
    )
    if not unread:
        return dashed
    return message(
        "{caption} The shaft was not measured: its dotted outline is a plain one.", caption=dashed
    )
