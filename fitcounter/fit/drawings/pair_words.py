"""The drawing of a pair in words: its caption, and each boot in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.fit.drawings.labels import centimetres
from fitcounter.fit.drawings.shaft_lines import BootProfile
from fitcounter.fit.handbook.leg import MM_PER_INCH, SIXTEENTHS, TOLERANCE_MM
from fitcounter.fit.tape import say_inches, say_short_by, sixteenths_up, write_drawn


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
        return "wide enough"
    if unit != "in":
        return unit
    return "inches" if sixteenths_up(need_at(boot, boot.tightest_mm)) > SIXTEENTHS else "inch"


def boot_words(side: str, boot: BootProfile, unit: str) -> str:
    """One boot in a sentence, for who cannot see the drawing."""
    if boot.tightest_mm is None:
        return f"The {side} boot is wide enough."
    short = [place.height_mm for place in boot.places if (place.need_mm or 0) > TOLERANCE_MM]
    low, high = (
        _about(h, unit)
        for h in (min(short, default=boot.tightest_mm), max(short, default=boot.tightest_mm))
    )
    span = f"at about {low}" if low == high else f"from about {low} to {high}"
    need = (
        say_short_by(need_at(boot, boot.tightest_mm), unit).removesuffix(" in").removesuffix(" cm")
    )
    units, up = (unit_word(boot, unit), "inches") if unit == "in" else ("cm", "cm")
    tightest = say_inches(boot.tightest_mm) if unit == "in" else centimetres(boot.tightest_mm)
    return (
        f"The {side} boot is short {span} {up} up; its tightest place is {tightest} {up} up, short"
        f" by {need} {units}."
    )


def _about(h: float, unit: str) -> str:
    """A height to the half inch or the centimetre: the ends of a stretch are not read, they lie
    between readings.
    """
    half_inches = round(h / float(MM_PER_INCH) * 2)
    return write_drawn(half_inches * SIXTEENTHS // 2) if unit == "in" else str(round(h / 10))


def caption(boots: Sequence[BootProfile]) -> str:
    if all(boot.tightest_mm is None for boot in boots):
        return "Wide enough wherever they were read."
    unread = all(place.inside_mm is None for boot in boots for place in boot.places)
    dotted = " The shaft was not measured: its dotted outline is a plain one." if unread else ""
    return (
        "Dashed is the line your boots must reach. The hatching is what is missing, drawn at twice"
        f" its width.{dotted}"
    )
