"""The leg: its stations in field terms, which readings are plausible, and what posture, time and
layers add.

Refusals are typing errors only. "Once more" has no upper bound on calves: wide calves are the
shop's customers. People are ANSUR II and bdims (handbook_leg): fit adults, few wide or swollen
legs, so never a reason to doubt a customer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from fitcounter.errors import BadReading, message
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.handbook import plausible

FOOT_STATIONS = ("ball", "instep", "heel")
SHAFT_STATIONS = ("small", "achilles", "rise", "calf", "below-knee", "knee")
STATIONS = (*FOOT_STATIONS, *SHAFT_STATIONS)
POSTURES = ("standing", "seated")
TIMES = ("morning", "midday", "evening")
LAYERS = ("skin", "sheer", "sock", "breeches", "jeans")
EASES = tuple(book.EASE)

NAMES = {
    "ball": message("ball of the foot"),
    "instep": message("instep"),
    "heel": message("heel measure"),
    "small": message("small of the leg"),
    "achilles": message("Achilles turn"),
    "rise": message("calf rise"),
    "calf": message("calf"),
    "below-knee": message("below the knee"),
    "knee": message("knee"),
}

_TIME_SHARES = {"morning": book.MORNING, "midday": book.MIDDAY, "evening": 0.0}
_POSTURE_SHARES = {"standing": 0.0, "seated": book.SEATED}


def allowed_girth_mm(girth_mm: float, posture: str, time: str, layer_mm: float) -> float:
    """The girth to fit: shares for posture and time add up and come first, then 2πt for a layer
    that was not there.
    """
    share = _TIME_SHARES[time] + _POSTURE_SHARES[posture]
    return girth_mm * (1 + share) + 2 * math.pi * layer_mm


def refuse_typing_error(station: str | None, girth_mm: float, typed: str, field: str) -> None:
    """Raises BadReading where no leg has such a girth at that station; stations without a range
    pass.
    """
    if station not in plausible.REFUSE_MM:
        return
    low, high = plausible.REFUSE_MM[station]
    if not low <= girth_mm <= high:
        sentence = message(
            "{field}: {typed} is no {place}. Type it again, {low} to {high} mm, or add its unit, as"
            " in 16 in or 41 cm.",
            field=field,
            typed=typed,
            place=NAMES[station],
            low=low,
            high=high,
        )
        raise BadReading(sentence, typed=typed, field=field)


def asks_again(girths_mm: Mapping[str, float]) -> dict[str, str]:
    """Stations whose girth is asked once more, each with why; girths_mm: station -> girth of one
    leg as read.
    """
    asked = {}
    for station, girth in girths_mm.items():
        if girth < plausible.ASK_UNDER_MM.get(station, 0) or girth > plausible.ASK_OVER_MM.get(
            station, math.inf
        ):
            asked[station] = message("few legs read that")
    asked.update(_asks_by_neighbour(girths_mm))
    return asked


def _asks_by_neighbour(girths_mm: Mapping[str, float]) -> dict[str, str]:
    """The same, for stations that are judged by another one of the same leg."""
    small, calf, below, heel = (
        girths_mm.get(station) for station in ("small", "calf", "below-knee", "heel")
    )
    asked = {}
    if (
        small
        and calf
        and not plausible.CALF_TO_SMALL_LOW <= calf / small <= plausible.CALF_TO_SMALL_HIGH
    ):
        asked["calf"] = message("few calves are so to the small of the leg")
    if (
        calf
        and below
        and not plausible.BELOW_KNEE_TO_CALF_LOW * calf
        <= below
        <= calf + plausible.BELOW_KNEE_OVER_CALF_MM
    ):
        asked["below-knee"] = message("few legs are so to their calf")
    if small and heel and heel <= small:
        asked["heel"] = message("it is more than the small of the leg")
    return asked
