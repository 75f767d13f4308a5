"""Cautions: shown, never stored as health data. The shop does not diagnose; local rules and
licensed practice come first.

Sources: NHS and CDC pages on clots; leaflets for compression garments, by analogy; Conservation
Science for shrinkage.
"""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.errors import message
from fitcounter.fit.assessment.job import Job, Side
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.plausible import SIDES_PROMPT_MM

ONE_LEG_FULLER = message("One leg is a good bit fuller today. Is that usual?")
CLOT = message(
    "New swelling, pain, warmth or redness in one leg can be a clot: get medical advice today. With"
    " breathlessness or chest pain call the emergency services now. No boots are fitted to a new"
    " swelling."
)
TAKE_OFF = message(
    "Any tight new shaft: take it off at numbness, tingling, a change of colour or pain."
)
COMPRESSION = message(
    "Compression stockings or lymphoedema: measure over what is worn, and ask the clinician about"
    " the boots."
)
NUMB_FEET = message("Numb feet or diabetes: look at the skin after every wear.")
KNEE_BONE = message("A top line at the outer knee bone presses on a nerve there: keep it below.")
WILL_NOT_PASS = message(
    "The heel will not pass this throat: do not force a foot into a pull-on boot."
)
DEFERENCE = message("This is no medical advice; local rules and licensed practice come first.")
CUSTOMER = (CLOT, TAKE_OFF, COMPRESSION, NUMB_FEET, KNEE_BONE, DEFERENCE)
LOADED = message("Wedges and screws stand under load: keep fingers out, wear eye cover.")
SOLVENTS = message("Solvents: fresh air and gloves, by each product's safety data sheet.")
HEAT = message(
    "No heat above {most} °C on damp leather: vegetable-tanned shrinks wet from {vegetable} °C,"
    " chrome-tanned from {chrome} °C.",
    most=book.DAMP_HEAT_C,
    vegetable=book.VEGETABLE_SHRINKS_C,
    chrome=book.CHROME_SHRINKS_C,
)
BENCH = (
    LOADED,
    SOLVENTS,
    HEAT,
    message("The shop's local rules and licensed practice come first."),
)


def legs_differ_mm(left: Side, right: Side) -> dict[str, float]:
    """Left less right girth in mm as read, at each place read on both legs: by station name, else
    by height.
    """
    return {
        label: girth - other
        for label, girth in _girths(left).items()
        for other_label, other in _girths(right).items()
        if label == other_label
    }


def _girths(side: Side) -> dict[str, float]:
    return {
        reading.station or f"{reading.height.float_mm:.1f} mm": reading.girth_mm
        for reading in side.leg
    }


def one_leg_fuller(sides: Sequence[Side]) -> bool:
    """True from 30 mm of difference at one place: one gentle prompt to the fitter, once, on no
    paper.
    """
    return len(sides) > 1 and any(
        abs(differ) >= SIDES_PROMPT_MM for differ in legs_differ_mm(*sides).values()
    )


def will_not_pass(side: Side) -> bool:
    """True where the heel measure is larger than the throat of a boot without a zip (a handbook's
    rule for pull-on boots).
    """
    heel = heel_measure_mm(side)
    return (
        side.boot.zip is None
        and side.boot.throat_mm is not None
        and heel is not None
        and side.boot.throat_mm < heel
    )


def heel_measure_mm(side: Side) -> float | None:
    """Round the heel point and the instep, as read."""
    if side.heel is not None:
        return side.heel.float_mm
    return next((reading.girth_mm for reading in side.foot if reading.station == "heel"), None)


def cautions(job: Job) -> list[str]:
    """What is said with the answer: what this job asks for first, then what is always said."""
    first = [ONE_LEG_FULLER] if one_leg_fuller(job.sides) else []
    first += [WILL_NOT_PASS] if any(will_not_pass(side) for side in job.sides) else []
    return [*first, *CUSTOMER]
