"""The handbook's figures for legs as people have them: what is refused, what is asked again, and
the slips of tape and pencil. Lengths are millimetres, shares are fractions of one.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter, Trust
from fitcounter.fit.handbook.leg import ANSUR, BDIMS

PLAUSIBLE = Chapter("Plausible legs")
_range = PLAUSIBLE.choice
_TYPING = "a typing error: wider than any leg that a shop meets"
REFUSE_MM = {
    station: (
        _range(f"{station}, refused under", low, "mm", _TYPING),
        _range(f"{station}, refused over", high, "mm", _TYPING),
    )
    for station, (low, high) in {
        "small": (130, 450),
        "calf": (200, 800),
        "knee": (220, 750),
        "below-knee": (180, 700),
        "heel": (200, 550),
        "ball": (150, 380),
    }.items()
}
_LOW_PEOPLE = f"under 0.1 % of 6,575 people: {ANSUR}; {BDIMS}"
ASK_UNDER_MM = {
    station: PLAUSIBLE.figure(f"{station}, once more under", low, "mm", Trust.PUBLISHED, source)
    for station, low, source in (
        ("small", 175, _LOW_PEOPLE),
        ("calf", 280, _LOW_PEOPLE),
        ("knee", 290, BDIMS),
        ("heel", 260, ANSUR),
        ("ball", 190, ANSUR),
    )
}
ASK_OVER_MM = {
    station: PLAUSIBLE.figure(f"{station}, once more over", high, "mm", Trust.PUBLISHED, source)
    for station, high, source in (
        ("small", 330, _LOW_PEOPLE),
        ("knee", 490, BDIMS),
        ("heel", 405, ANSUR),
        ("ball", 305, ANSUR),
    )
}
_ALL_PEOPLE = f"all 6,575 people lie in 1.35 to 2.15: {ANSUR}; {BDIMS}"
CALF_TO_SMALL_LOW = PLAUSIBLE.figure(
    "calf to small, once more under", 1.2, "", Trust.PUBLISHED, _ALL_PEOPLE
)
CALF_TO_SMALL_HIGH = PLAUSIBLE.figure(
    "calf to small, once more over", 2.4, "", Trust.PUBLISHED, _ALL_PEOPLE
)
BELOW_KNEE_OVER_CALF_MM = _range(
    "below knee over the calf, once more beyond",
    10,
    "mm",
    "the calf is the fullest place of most legs",
)
BELOW_KNEE_TO_CALF_LOW = _range("below knee, once more under", 0.80, "of the calf", "no data read")
SIDES_DIFFER_MM = _range(
    "left against right, once more from",
    13.0,
    "mm",
    "½ in; one side is often fuller by about 8 mm (Teo et al. 2018)",
)
SIDES_PROMPT_MM = _range(
    "left against right, gentle prompt from",
    30.0,
    "mm",
    "a prompt only; clinicians look from 3 cm on",
)
UNIT_SLIP = {
    unit: (
        _range(
            f"a value in {unit} that looks like the other unit, from",
            low,
            unit,
            "ordinary girths in the other unit",
        ),
        _range(
            f"a value in {unit} that looks like the other unit, to",
            high,
            unit,
            "ordinary girths in the other unit",
        ),
    )
    for unit, (low, high) in {"cm": (11, 22), "in": (29, 50)}.items()
}
INCH_SLIP_WITHIN_MM = _range(
    "an inch off the neighbours' trend, within",
    6.0,
    "mm",
    "what two sound readings may differ by, and a little",
)
COPIED_FROM = _range(
    "readings alike on both legs before it looks copied", 3, "heights", "two may be chance"
)
LAST_ROOM_MM = _range(
    "room by the leg of last time that needs no new reading",
    25.4,
    "mm",
    "1 in; legs change between visits, so nothing nearer is taken from last time",
)

CHAPTERS = (PLAUSIBLE,)
