"""Words at a place of a drawing: lengths with their sixteenths composed of small figures."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fitcounter.fit.handbook.leg import SIXTEENTHS
from fitcounter.fit.tape import sixteenths_nearest, split_sixteenths, write_drawn


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place in pixels.

    over, under: a fraction composed of small figures, empty where there is none. before: a message
    in front of it all, "" for none.
    """

    x: float
    y: float
    anchor: str
    text: str
    over: str = ""
    under: str = ""
    before: str = ""


def fraction_label(x: float, y: float, anchor: str, sixteenths: int) -> Label:
    whole, over, under = split_sixteenths(sixteenths)
    if under == SIXTEENTHS:
        return Label(x, y, anchor, str(whole or ""), str(over), str(under))
    return Label(x, y, anchor, write_drawn(sixteenths))


def length_label(
    place: tuple[float, float], anchor: str, mm: float, unit: str, before: str = ""
) -> Label:
    """A length as words at a place (x, y), sixteenths composed; before: what stands in front of
    it.
    """
    x, y = place
    if unit != "in":
        return Label(x, y, anchor, centimetres(mm), before=before)
    return replace(fraction_label(x, y, anchor, sixteenths_nearest(mm)), before=before)


def centimetres(h: float) -> str:
    return f"{h / 10:.1f}".removesuffix(".0")
