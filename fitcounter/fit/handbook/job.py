"""The handbook's ranges of what a job may say.

Outside of them is a typing error; they judge no leg and no boot.
"""

from __future__ import annotations

from fitcounter.fit.handbook.figure import Chapter

JOB = Chapter("What a job may say")
_ODD = "a typing error, wider than anything a shop meets"

RANGES = {
    name: (
        JOB.choice(f"{name}, from", low, unit, _ODD),
        JOB.choice(f"{name}, to", high, unit, _ODD),
    )
    for name, low, high, unit in (
        ("girth_mm", 10.0, 2000.0, "mm"),
        ("height_mm", 0.0, 1500.0, "mm"),
        ("gap_mm", 0.0, 300.0, "mm"),
        ("layer_mm", 0.0, 50.0, "mm"),
        ("ease_mm", -100.0, 100.0, "mm"),
        ("thickness_mm", 0.1, 20.0, "mm"),
        ("lining_mm", 0.0, 20.0, "mm"),
        ("wall_mm", 0.0, 30.0, "mm"),
        ("seat_mm", 0.0, 300.0, "mm"),
        ("shaft_mm", 0.0, 1500.0, "mm"),
        ("rise_mm", 0.0, 139.0, "mm"),
        ("width_mm", 0.0, 1000.0, "mm"),
        ("lateral_n_per_25mm", 1.0, 5000.0, "N"),
        ("hold_h", 1.0, 2000.0, "h"),
        ("mean", 0.01, 0.99, "share"),
        ("sd", 0.001, 1.0, "share"),
    )
}
READINGS_MOST = JOB.choice("readings at one height at most", 9, "", _ODD)
LIST_MOST = JOB.choice("entries in one list at most", 60, "", _ODD)
WORD_MOST = JOB.choice("letters in a finding or a name at most", 200, "", _ODD)
BOOTS_MOST = JOB.choice("finished boots of a class at most", 1_000_000, "", _ODD)

CHAPTERS = (JOB,)
