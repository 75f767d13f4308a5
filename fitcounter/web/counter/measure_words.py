"""The words of the measuring form: its choices and the names of its cells and lengths."""

from __future__ import annotations

from fitcounter.desk.common.translation import marked
from fitcounter.fit.assessment.legs import NAMES, SHAFT_STATIONS

UNITS = {"in": marked("inches"), "cm": marked("centimeters")}
EASES = {
    "snug": marked("tight: flesh gives a little"),
    "close": marked("close to the skin"),
    "easy": marked("one finger"),
    "roomy": marked("two fingers"),
}
METHODS = {
    "inside": marked("measured inside"),
    "outside": marked("measured outside"),
    "flat": marked("laid flat, across"),
}
DATUMS = {
    "heel-seat": marked("the inside heel seat"),
    "ground": marked("the ground"),
    "top-line": marked("the top line, downwards"),
}
STATIONS = {"": "–", **{word: NAMES[word] for word in SHAFT_STATIONS}}
POSTURES = {"standing": marked("standing"), "seated": marked("seated")}
PARTS = {
    "morning": marked("morning"),
    "midday": marked("middle of the day"),
    "evening": marked("evening"),
}
# A reading by what it is of and by its side, as the sheet calls it.
NAMES_OF_CELLS = {
    ("leg", "left"): marked("Left leg"),
    ("leg", "right"): marked("Right leg"),
    ("gap", "left"): marked("Left gap"),
    ("gap", "right"): marked("Right gap"),
    ("amount", "left"): marked("Left, how much bigger"),
    ("amount", "right"): marked("Right, how much bigger"),
    ("boot", "left"): marked("Left boot"),
    ("boot", "right"): marked("Right boot"),
}
# The lengths of how it was measured, by their labels.
LENGTHS = {
    "layer": marked("Worn later, not on now: thickness"),
    "seat": marked("Heel seat above the ground"),
    "shaft": marked("Shaft height, heel seat to top line"),
    "rise": marked("Heel height of the boot"),
    "wall": marked("Wall thickness (leather and lining)"),
    "heel_left": marked("Left, around heel and instep"),
    "heel_right": marked("Right, around heel and instep"),
}
