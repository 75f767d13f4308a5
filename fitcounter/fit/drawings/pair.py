"""The drawing of a pair of boots against the line they must reach, as SVG paths: pure geometry,
nothing is looked up.

A tube of girth g, seen from the side, is g/π wide, so a shaft stands inside girth/π wide at its
height. Shaft and wanted line share the front of the boot, so the whole shortfall shows at the back,
where the eye can compare it; it is drawn WIDER times its width, and the caption says so. Only the
boot is drawn, never a leg, and a shaft that was not read is dotted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import pi

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.drawings.outline import ANKLE_MM, GROUND_MM, PLAIN_MM, SHIN, TOE_MM, Pen, num
from fitcounter.fit.handbook.leg import MM_PER_INCH, SIXTEENTHS, TOLERANCE_MM
from fitcounter.fit.tape import (
    say_inches,
    say_short_by,
    sixteenths_nearest,
    sixteenths_up,
    split_sixteenths,
    write_drawn,
)

WIDER = 2
HALF_PX, LADDER_PX, EDGE_PX = (
    164.0,
    22.0,
    2.0,
)  # a boot's half of the plate, of which its share of the heights, and the edge
MOST_PX_PER_MM = 0.5
HATCH_MM, SLANT_MM, HATCH_FILLS = 5.0, 7.0, 0.86
BAND_MM = 12.0
LABEL_PX = 13.0  # heights closer than this are not all written
ABOVE_PX, BELOW_PX = 5.0, 17.0  # words stand so far above or below their line


@dataclass(frozen=True, slots=True)
class Place:
    """One height of one boot, in mm above the heel seat. inside_mm: inside girth, None where it was
    not read.

    need_mm: what it is short by (below 0: room), None where it is not known.
    """

    height_mm: float
    inside_mm: float | None
    need_mm: float | None


@dataclass(frozen=True, slots=True)
class BootProfile:
    """One boot for the drawing. tightest_mm: height of the tightest place, None where the boot is
    wide enough.

    zip_mm: lowest and highest height of the zip, None for a boot without.
    """

    places: tuple[Place, ...]
    tightest_mm: float | None
    zip_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place in pixels.

    over, under: a fraction composed of small figures, empty where there is none.
    """

    x: float
    y: float
    anchor: str
    text: str
    over: str = ""
    under: str = ""


@dataclass(frozen=True, slots=True)
class BootDrawing:
    """The paths of one boot: body, sole and heel are filled, the others are strokes.

    Empty text: nothing to draw.
    """

    side: Label
    body: str
    edge: str
    unread: str
    sole: str
    heel: str
    stitch: str
    zip: str
    wanted: str
    need: str
    tape: str
    figure: Label | None
    unit: Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """A plate: its box in pixels, its boots, the heights beside them, and the same in words."""

    left_px: float
    width_px: float
    height_px: float
    title: str
    description: str
    caption: str
    boots: tuple[BootDrawing, ...]
    heights: tuple[Label, ...]
    ground: str
    foot: Label


def profile_drawing(
    left: BootProfile | None, right: BootProfile | None, *, unit: str, marks: Sequence[float] = ()
) -> Drawing:
    """Draws one boot or both.

    unit: "in" or "cm"; marks: heights to write beside the boots, mm (otherwise the places').
    """
    sides = [(side, boot) for side, boot in (("left", left), ("right", right)) if boot is not None]
    shafts = [_Shaft(boot) for _, boot in sides]
    scale = min(
        MOST_PX_PER_MM,
        *((HALF_PX - LADDER_PX - EDGE_PX) / (TOE_MM + shaft.deepest) for shaft in shafts),
    )
    top = max(shaft.top for shaft in shafts)
    margin = max(
        16.0,
        *(
            38.0 - (top - boot.tightest_mm) * scale
            for _, boot in sides
            if boot.tightest_mm is not None
        ),
        0.0,
    )
    base = margin + top * scale
    ground = base - GROUND_MM * scale
    boots = tuple(
        _boot(side, boot, shaft, scale, base, unit)
        for (side, boot), shaft in zip(sides, shafts, strict=True)
    )
    one = len(sides) == 1
    start = HALF_PX - LADDER_PX if one and right else 0.0
    width = HALF_PX + LADDER_PX if one else 2 * HALF_PX
    foot, anchor = (
        (HALF_PX, "middle") if not one else (start, "start") if right else (width, "end")
    )  # inside the plate
    heights = _ladder(
        [boot for _, boot in sides], [h for h in marks if h <= top], unit, base, scale
    )
    return Drawing(
        start,
        width,
        round(ground + 24, 1),
        f"{'Both boots' if not one else f'The {sides[0][0]} boot'}, from the side",
        " ".join(_words(side, boot, unit) for side, boot in sides),
        _caption([boot for _, boot in sides]),
        boots,
        heights,
        f"M{num(start)} {num(ground)}H{num(start + width)}",
        Label(foot, round(ground + 17, 1), anchor, "inches up" if unit == "in" else "cm up"),
    )


class _Shaft:
    """A boot's lines over the height: front and back of the shaft, and the wanted line where it is
    short.
    """

    def __init__(self, boot: BootProfile) -> None:
        read = [
            (place.height_mm, place.inside_mm)
            for place in boot.places
            if place.inside_mm is not None
        ]
        self.inside = Profile.through(read) if read else None
        self.read = self.inside.span if self.inside else None
        self.top = max(place.height_mm for place in boot.places)
        self.runs = [] if boot.tightest_mm is None else short_runs(boot.places)
        self.need = [Profile.straight(run) for run in self.runs]
        width = max(
            self.girth(place.height_mm) + WIDER * max(place.need_mm or 0, 0)
            for place in boot.places
        )
        self.deepest = max(width / pi, 104.0)

    def girth(self, h: float) -> float:
        """Inside girth as read; beyond the readings a plain shaft of the same size."""
        if self.inside is None or self.read is None:
            return PLAIN_MM.at(h)
        low, high = self.read
        end = min(max(h, low), high)
        return self.inside.at(end) * PLAIN_MM.at(h) / PLAIN_MM.at(end)

    def back(self, h: float) -> float:
        return SHIN.at(h) - self.girth(h) / pi

    def wanted(self, h: float) -> float:
        """The wanted line's back, where the boot is short; the shaft's own elsewhere."""
        need = sum(curve.at(h) for curve in self.need if curve.span[0] <= h <= curve.span[1])
        return self.back(h) - WIDER * need / pi


def short_runs(places: Iterable[Place]) -> list[tuple[tuple[float, float], ...]]:
    """Stretches of height over which a boot is short, as (height_mm, need_mm), straight between
    places, 0 at a crossing.

    A height alone becomes a band, so that it can be seen.
    """
    runs: list[list[tuple[float, float]]] = [[]]
    known = sorted(
        (place.height_mm, place.need_mm) for place in places if place.need_mm is not None
    )
    for below, (h, need) in zip([None, *known], known, strict=False):
        if below is not None and (below[1] > 0) != (need > 0):
            runs[-1].append((below[0] + (h - below[0]) * below[1] / (below[1] - need), 0.0))
        if need > 0:
            runs[-1].append((h, need))
        elif runs[-1]:
            runs.append([])
    return [
        tuple(run) if len(run) > 1 else ((run[0][0] - BAND_MM, run[0][1]), run[0])
        for run in runs
        if run
    ]


def _boot(
    side: str, boot: BootProfile, shaft: _Shaft, scale: float, base: float, unit: str
) -> BootDrawing:
    toe = -1 if side == "left" else 1
    out = EDGE_PX if toe < 0 else 2 * HALF_PX - EDGE_PX
    pen = Pen(out - toe * TOE_MM * scale, base, scale, toe)
    low, high = shaft.read or (shaft.top, shaft.top)
    low, high = max(low, ANKLE_MM), max(high, ANKLE_MM)
    top_is_read = shaft.read is not None and high == shaft.top
    lines = (shaft.back, SHIN.at)
    edge = [pen.along(line, low, high) for line in lines] + [pen.foot(shaft.back)]
    unread = [
        pen.along(line, *span) for line in lines for span in ((ANKLE_MM, low), (high, shaft.top))
    ]
    (edge if top_is_read else unread).append(pen.top_line(shaft.back, shaft.top))
    figure, words_y, tape = (
        None,
        pen.at(0, shaft.top)[1] - ABOVE_PX,
        "",
    )  # above the top line, where no outline runs
    if boot.tightest_mm is not None:
        figure, label_h, tape = _tightest(boot, shaft, pen, out, unit)
        words_y = pen.at(0, label_h)[1] + BELOW_PX
    return BootDrawing(
        Label(
            out + (-toe) * 4,
            round(base - GROUND_MM * scale + 17, 1),
            "start" if toe < 0 else "end",
            side.capitalize(),
        ),
        pen.body(shaft.back, shaft.top),
        "".join(edge),
        "".join(unread),
        pen.sole(),
        pen.heel(),
        pen.vamp() + (pen.top_stitch(shaft.back, shaft.top) if top_is_read else ""),
        _zip(boot, shaft, pen),
        "".join(pen.along(shaft.wanted, run[0][0], run[-1][0]) for run in shaft.runs),
        _hatching(shaft, pen),
        tape,
        figure,
        Label(out, round(words_y, 1), "start" if toe < 0 else "end", _unit_word(boot, unit)),
    )


def _tightest(
    boot: BootProfile, shaft: _Shaft, pen: Pen, out: float, unit: str
) -> tuple[Label, float, str]:
    """The tape round the tightest place and its figure, kept clear of the foot."""
    h = boot.tightest_mm or 0.0
    back, front = shaft.wanted(h), SHIN.at(h)
    label_h = max(h, 155.0)
    x, y = pen.at(front, h)
    outward = (
        f"M{num(x)} {num(y)}L{num(out + pen.toe * -64)} {num(pen.at(0, label_h)[1])}H{num(out)}"
    )
    tape = pen.curves((back, h), (back + 25, h - 10, front - 25, h - 10, front, h)) + outward
    sixteenths = sixteenths_up(_need_at(boot, h))
    y = round(pen.at(0, label_h)[1] - 7, 1)
    anchor = "start" if pen.toe < 0 else "end"
    if unit == "in":
        return _fraction_label(out, y, anchor, sixteenths), label_h, tape
    return (
        Label(out, y, anchor, say_short_by(_need_at(boot, h), "cm").removesuffix(" cm")),
        label_h,
        tape,
    )


def _need_at(boot: BootProfile, h: float) -> float:
    return next(
        (
            place.need_mm
            for place in boot.places
            if place.height_mm == h and place.need_mm is not None
        ),
        0.0,
    )


def _unit_word(boot: BootProfile, unit: str) -> str:
    if boot.tightest_mm is None:
        return "wide enough"
    if unit != "in":
        return unit
    return "inches" if sixteenths_up(_need_at(boot, boot.tightest_mm)) > SIXTEENTHS else "inch"


def _hatching(shaft: _Shaft, pen: Pen) -> str:
    path = ""
    for run in shaft.runs:
        low, high = run[0][0], run[-1][0]
        h = low - SLANT_MM
        while h < high:
            start, end = max(h, low), min(h + SLANT_MM, high)
            if shaft.back(end) - shaft.wanted(end) > 0.6:
                edge = shaft.back(end) + HATCH_FILLS * (shaft.wanted(end) - shaft.back(end))
                path += pen.stroke((shaft.back(start), start), (edge, end))
            h += HATCH_MM
    return path


def _zip(boot: BootProfile, shaft: _Shaft, pen: Pen) -> str:
    if boot.zip_mm is None:
        return ""
    low, high = max(boot.zip_mm[0], ANKLE_MM), min(boot.zip_mm[1], shaft.top - 9)
    return pen.along(lambda h: SHIN.at(h) - 0.54 * shaft.girth(h) / pi, low, high)


def _ladder(
    boots: Sequence[BootProfile], marks: Sequence[float], unit: str, base: float, scale: float
) -> tuple[Label, ...]:
    """Heights beside the boots, tightest places first, none written over another."""
    tightest = [boot.tightest_mm for boot in boots if boot.tightest_mm is not None]
    wanted = [
        *tightest,
        *(marks or sorted({place.height_mm for boot in boots for place in boot.places})),
    ]
    kept: list[float] = []
    for h in wanted:
        if all(abs(h - other) * scale >= LABEL_PX for other in kept):
            kept.append(h)
    return tuple(
        length_label(HALF_PX, round(base - h * scale + 4, 1), "middle", h, unit)
        for h in sorted(kept)
    )


def _fraction_label(x: float, y: float, anchor: str, sixteenths: int) -> Label:
    whole, over, under = split_sixteenths(sixteenths)
    if under == SIXTEENTHS:
        return Label(x, y, anchor, str(whole or ""), str(over), str(under))
    return Label(x, y, anchor, write_drawn(sixteenths))


def length_label(x: float, y: float, anchor: str, mm: float, unit: str, before: str = "") -> Label:
    """A length as words at a place, sixteenths composed; before: what stands in front of it."""
    if unit != "in":
        return Label(x, y, anchor, before + _centimetres(mm))
    label = _fraction_label(x, y, anchor, sixteenths_nearest(mm))
    return replace(label, text=before + label.text)


def _words(side: str, boot: BootProfile, unit: str) -> str:
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
        say_short_by(_need_at(boot, boot.tightest_mm), unit).removesuffix(" in").removesuffix(" cm")
    )
    units, up = (_unit_word(boot, unit), "inches") if unit == "in" else ("cm", "cm")
    tightest = say_inches(boot.tightest_mm) if unit == "in" else _centimetres(boot.tightest_mm)
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


def _centimetres(h: float) -> str:
    return f"{h / 10:.1f}".removesuffix(".0")


def _caption(boots: Sequence[BootProfile]) -> str:
    if all(boot.tightest_mm is None for boot in boots):
        return "Wide enough wherever they were read."
    unread = all(place.inside_mm is None for boot in boots for place in boot.places)
    dotted = " The shaft was not measured: its dotted outline is a plain one." if unread else ""
    return (
        "Dashed is the line your boots must reach. The hatching is what is missing, drawn at twice"
        f" its width.{dotted}"
    )
