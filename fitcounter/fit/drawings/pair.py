"""The drawing of a pair of boots against the line they must reach, as SVG paths: pure geometry,
nothing is looked up.

A tube of girth g, seen from the side, is g/π wide, so a shaft stands inside girth/π wide at its
height. Shaft and wanted line share the front of the boot, so the whole shortfall shows at the back,
where the eye can compare it; it is drawn WIDER times its width, and the caption says so. Only the
boot is drawn, never a leg, and a shaft that was not read is dotted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

from fitcounter.errors import message
from fitcounter.fit.drawings.labels import Label, fraction_label, length_label
from fitcounter.fit.drawings.outline import ANKLE_MM, GROUND_MM, SHIN, TOE_MM, Pen, num
from fitcounter.fit.drawings.pair_words import boot_words, caption, need_at, unit_word
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftLines
from fitcounter.fit.tape import height_as_marked, say_short_by, sixteenths_up

HALF_PX, LADDER_PX, EDGE_PX = (
    164.0,
    22.0,
    2.0,
)  # a boot's half of the plate, of which its share of the heights, and the edge
MOST_PX_PER_MM = 0.5
HATCH_MM, SLANT_MM, HATCH_FILLS = 5.0, 7.0, 0.86
LABEL_PX = 13.0  # heights closer than this are not all written
ABOVE_PX, BELOW_PX = 5.0, 17.0  # words stand so far above or below their line


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
    boots = [boot for _, boot in sides]
    shafts = [ShaftLines(boot) for boot in boots]
    scale = min(
        MOST_PX_PER_MM,
        *((HALF_PX - LADDER_PX - EDGE_PX) / (TOE_MM + shaft.deepest) for shaft in shafts),
    )
    top = max(shaft.top for shaft in shafts)
    base = _margin_px(boots, top, scale) + top * scale
    ground = base - GROUND_MM * scale
    start, width, foot, anchor = _plate(left, right)
    return Drawing(
        start,
        width,
        round(ground + 24, 1),
        _title([side for side, _ in sides]),
        _description([boot_words(side, boot, unit) for side, boot in sides]),
        caption(boots),
        tuple(
            _boot(side, boot, shaft, (scale, base), unit)
            for (side, boot), shaft in zip(sides, shafts, strict=True)
        ),
        _ladder(boots, [h for h in marks if h <= top], unit, base, scale),
        f"M{num(start)} {num(ground)}H{num(start + width)}",
        Label(
            foot,
            round(ground + 17, 1),
            anchor,
            message("inches up") if unit == "in" else message("cm up"),
        ),
    )


_SIDES = {"left": message("Left"), "right": message("Right")}


def _title(sides: Sequence[str]) -> str:
    if len(sides) > 1:
        return message("Both boots, from the side")
    if sides[0] == "left":
        return message("The left boot, from the side")
    return message("The right boot, from the side")


def _description(boots: Sequence[str]) -> str:
    if len(boots) < 2:
        return boots[0]
    return message("{left} {right}", left=boots[0], right=boots[1])


def _margin_px(boots: Sequence[BootProfile], top_mm: float, scale: float) -> float:
    """Room above the top line: more where the figure of a tightest place stands near it."""
    tightest = [boot.tightest_mm for boot in boots if boot.tightest_mm is not None]
    return max(16.0, *(38.0 - (top_mm - height) * scale for height in tightest), 0.0)


def _plate(left: BootProfile | None, right: BootProfile | None) -> tuple[float, float, float, str]:
    """Left edge and width of the plate, and where its foot stands inside it, with its anchor."""
    if left and right:
        return 0.0, 2 * HALF_PX, HALF_PX, "middle"
    start, width = (HALF_PX - LADDER_PX if right else 0.0), HALF_PX + LADDER_PX
    return (start, width, start, "start") if right else (start, width, width, "end")


def _boot(
    side: str, boot: BootProfile, shaft: ShaftLines, stand: tuple[float, float], unit: str
) -> BootDrawing:
    """stand: pixels per mm, and the y of the heel seat."""
    scale, base = stand
    toe = -1 if side == "left" else 1
    out = EDGE_PX if toe < 0 else 2 * HALF_PX - EDGE_PX
    pen = Pen(out - toe * TOE_MM * scale, base, scale, toe)
    edge, unread, stitch = _edges(shaft, pen)
    figure, tape = None, ""
    words_y = pen.at(0, shaft.top)[1] - ABOVE_PX  # above the top line, where no outline runs
    if boot.tightest_mm is not None:
        figure, label_h, tape = _tightest(boot, shaft, pen, out, unit)
        words_y = pen.at(0, label_h)[1] + BELOW_PX
    anchor = "start" if toe < 0 else "end"
    name_y = round(base - GROUND_MM * scale + 17, 1)
    return BootDrawing(
        Label(out + (-toe) * 4, name_y, anchor, _SIDES[side]),
        pen.body(shaft.back, shaft.top),
        edge,
        unread,
        pen.sole(),
        pen.heel(),
        stitch,
        _zip(boot, shaft, pen),
        "".join(pen.along(shaft.wanted, run[0][0], run[-1][0]) for run in shaft.runs),
        _hatching(shaft, pen),
        tape,
        figure,
        Label(out, round(words_y, 1), anchor, unit_word(boot, unit)),
    )


def _edges(shaft: ShaftLines, pen: Pen) -> tuple[str, str, str]:
    """The outline where it was read, where it was not, and the stitching of vamp and top line."""
    low, high = shaft.read or (shaft.top, shaft.top)
    low, high = max(low, ANKLE_MM), max(high, ANKLE_MM)
    top_is_read = shaft.read is not None and high == shaft.top
    lines = (shaft.back, SHIN.at)
    edge = [pen.along(line, low, high) for line in lines] + [pen.foot(shaft.back)]
    unread = [
        pen.along(line, *span) for line in lines for span in ((ANKLE_MM, low), (high, shaft.top))
    ]
    (edge if top_is_read else unread).append(pen.top_line(shaft.back, shaft.top))
    stitch = pen.vamp() + (pen.top_stitch(shaft.back, shaft.top) if top_is_read else "")
    return "".join(edge), "".join(unread), stitch


def _tightest(
    boot: BootProfile, shaft: ShaftLines, pen: Pen, out: float, unit: str
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
    sixteenths = sixteenths_up(need_at(boot, h))
    y = round(pen.at(0, label_h)[1] - 7, 1)
    anchor = "start" if pen.toe < 0 else "end"
    if unit == "in":
        return fraction_label(out, y, anchor, sixteenths), label_h, tape
    return (
        Label(out, y, anchor, say_short_by(need_at(boot, h), "cm").removesuffix(" cm")),
        label_h,
        tape,
    )


def _hatching(shaft: ShaftLines, pen: Pen) -> str:
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


def _zip(boot: BootProfile, shaft: ShaftLines, pen: Pen) -> str:
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
        length_label(
            (HALF_PX, round(base - h * scale + 4, 1)),
            "middle",
            height_as_marked(h, unit),
            unit,
        )
        for h in sorted(kept)
    )
