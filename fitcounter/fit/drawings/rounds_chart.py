"""The chart of a boot's rounds as SVG paths: before, on the tree, rested, against the wanted girth.
Pure geometry.

Only a rested reading counts (double stroke); a reading on the tree is a ring and does not. What is
still missing is hatched below the wanted line.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fitcounter.errors import message
from fitcounter.fit.drawings.labels import Label, length_label
from fitcounter.fit.drawings.outline import num
from fitcounter.fit.drawings.rounds_words import CAPTION, RoundReadings, in_words

WIDTH_PX, TOP_PX, FOOT_PX, HEIGHT_PX = 328.0, 34.0, 178.0, 208.0
EDGE_PX, HATCH_PX = 12.0, 40.0  # the margins, and the room at the right for what is missing
Box = tuple[float, float, float, float]
AIR_PX = 6.0  # that words have around them, where there is room
_WANTED = message("wanted")
MANY_ROUNDS = 4  # beyond, only the rested readings carry their figure


@dataclass(frozen=True, slots=True)
class RoundsDrawing:
    """The chart: paths (empty: nothing to draw), rings as (x, y), words, and the same in words."""

    width_px: float
    height_px: float
    title: str
    description: str
    caption: str
    wanted: str
    need: str
    axis: str
    up: str
    back: str
    to_come: str
    marks: str
    rings: tuple[tuple[float, float], ...]
    light: tuple[Label, ...]
    strong: tuple[Label, ...]
    under: tuple[Label, ...]
    wanted_label: Label


def rounds_drawing(
    rounds: Sequence[RoundReadings], wanted_mm: float, *, unit: str
) -> RoundsDrawing:
    """Draws the rounds of one boot in their order; rounds: at least one with a reading.

    unit: "in" or "cm".
    """
    grid = _Grid(rounds, wanted_mm)
    now = _girth_now(rounds)
    wanted_y = grid.y(wanted_mm)
    up, back, to_come = _lines(grid, rounds)
    light = tuple(_tree_labels(grid, rounds, unit))
    strong = tuple(_rested_labels(grid, rounds, unit))
    taken = [_box(label, 12.0) for label in light] + [_box(label, 15.0) for label in strong]
    return RoundsDrawing(
        WIDTH_PX,
        HEIGHT_PX,
        message("Girth, round by round"),
        in_words(rounds, wanted_mm, unit),
        CAPTION,
        f"M0 {num(wanted_y)}H{num(WIDTH_PX)}",
        _hatching(grid, rounds, now, wanted_y),
        f"M0 {num(FOOT_PX)}H{num(WIDTH_PX)}"
        + "".join(f"M{num(grid.tree_x(i))} {num(FOOT_PX)}v6" for i in range(len(rounds))),
        up,
        back,
        to_come,
        _marks(grid, rounds),
        tuple(
            (grid.tree_x(i), grid.y(turn.on_tree_mm))
            for i, turn in enumerate(rounds)
            if turn.on_tree_mm is not None
        ),
        light,
        strong,
        tuple(
            Label(grid.tree_x(i), FOOT_PX + 20, "middle", _round_name(i + 1, grid))
            for i in range(len(rounds))
        ),
        _wanted_label(grid, rounds, wanted_mm, unit, taken),
    )


def _girth_now(rounds: Sequence[RoundReadings]) -> float | None:
    """The last rested reading, else the first one before any round; None without either."""
    rested = [turn.rested_mm for turn in rounds if turn.rested_mm is not None]
    before = (turn.before_mm for turn in rounds if turn.before_mm is not None)
    return rested[-1] if rested else next(before, None)


class _Grid:
    """Pixels for girths and rounds."""

    def __init__(self, rounds: Sequence[RoundReadings], wanted_mm: float) -> None:
        girths = [
            g
            for one in rounds
            for g in (one.before_mm, one.on_tree_mm, one.rested_mm)
            if g is not None
        ]
        self.low, self.high = min([*girths, wanted_mm]), max([*girths, wanted_mm])
        self.few = len(rounds) <= MANY_ROUNDS
        self.step = min(100.0, (WIDTH_PX - 2 * EDGE_PX - HATCH_PX) / max(len(rounds), 1))

    def y(self, girth_mm: float) -> float:
        share = (girth_mm - self.low) / max(self.high - self.low, 1.0)
        return round(FOOT_PX - 34 - share * (FOOT_PX - 34 - TOP_PX), 1)

    def before_x(self, index: int) -> float:
        return round(EDGE_PX + 4 + index * self.step, 1)

    def tree_x(self, index: int) -> float:
        return round(self.before_x(index) + self.step * 0.54, 1)

    def rested_x(self, index: int) -> float:
        return self.before_x(index + 1)


def _lines(grid: _Grid, rounds: Sequence[RoundReadings]) -> tuple[str, str, str]:
    """Opened on the tree (solid), gone back while it rested (dashed), a rest that is still to come
    (dotted).
    """
    up = back = to_come = ""
    for i, one in enumerate(rounds):
        if one.on_tree_mm is None:
            continue
        ring = f"{num(grid.tree_x(i))} {num(grid.y(one.on_tree_mm))}"
        if one.before_mm is not None:
            up += f"M{num(grid.before_x(i))} {num(grid.y(one.before_mm))}L{ring}"
        if one.rested_mm is not None:
            back += f"M{ring}L{num(grid.rested_x(i))} {num(grid.y(one.rested_mm))}"
        elif one.before_mm is not None:
            to_come += (
                f"M{ring}L{num(grid.rested_x(i))}"
                f" {num(grid.y((one.before_mm + one.on_tree_mm) / 2))}"
            )
    return up, back, to_come


def _counted(grid: _Grid, rounds: Sequence[RoundReadings]) -> Iterable[tuple[float, float]]:
    """x and girth of every reading that counts: the first one before, then each rested one."""
    if rounds and rounds[0].before_mm is not None:
        yield grid.before_x(0), rounds[0].before_mm
    for i, one in enumerate(rounds):
        if one.rested_mm is not None:
            yield grid.rested_x(i), one.rested_mm


def _marks(grid: _Grid, rounds: Sequence[RoundReadings]) -> str:
    return "".join(
        f"M{num(x - 7)} {num(grid.y(g) - 1.5)}h14m-14 3h14" for x, g in _counted(grid, rounds)
    )


def _tree_labels(grid: _Grid, rounds: Sequence[RoundReadings], unit: str) -> Iterable[Label]:
    for i, one in enumerate(rounds):
        if one.on_tree_mm is not None and (grid.few or i == len(rounds) - 1):
            yield length_label(
                (grid.tree_x(i), round(grid.y(one.on_tree_mm) - 10, 1)),
                "middle",
                one.on_tree_mm,
                unit,
            )


def _rested_labels(grid: _Grid, rounds: Sequence[RoundReadings], unit: str) -> Iterable[Label]:
    points = list(_counted(grid, rounds))
    for i, (x, girth) in enumerate(points):
        if grid.few or i in (0, len(points) - 1):
            anchor = "start" if x < 40 else "end" if x > WIDTH_PX - 40 else "middle"
            start = (
                max(0.0, x - 7)
                if anchor == "start"
                else min(WIDTH_PX, x + 7)
                if anchor == "end"
                else x
            )
            yield length_label((start, round(grid.y(girth) + 21, 1)), anchor, girth, unit)


def _wanted_label(
    grid: _Grid, rounds: Sequence[RoundReadings], wanted_mm: float, unit: str, taken: Sequence[Box]
) -> Label:
    """On its line where it covers least: other words above all, then the strokes between the
    readings.
    """
    y = grid.y(wanted_mm)
    places = [
        (x, anchor, y + down)
        for down in (-6.0, 15.0)
        for x, anchor in ((0.0, "start"), (WIDTH_PX, "end"), (WIDTH_PX / 2, "middle"))
    ]
    free = [
        length_label((x, round(at, 1)), anchor, wanted_mm, unit, _WANTED)
        for x, anchor, at in places
    ]
    strokes = list(_stroke_points(grid, rounds))

    def covered(label: Label) -> int:
        box = _box(label, 12.0)
        wide = (box[0] - AIR_PX, box[1] - AIR_PX, box[2] + AIR_PX, box[3] + AIR_PX)
        touched, near = (sum(_meet(one, other) for other in taken) for one in (box, wide))
        return 100 * touched + 20 * near + sum(_meet(box, (x, y, x, y)) for x, y in strokes)

    return min(free, key=covered)


def _box(label: Label, size_px: float) -> Box:
    """About what words cover: left, top, right, bottom."""
    words = f"{label.before} {label.text}" if label.before else label.text
    width = 0.58 * size_px * len(words) + (
        0.45 * size_px * (len(label.over) + len(label.under) + 1) if label.over else 0
    )
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.y - size_px, left + width, label.y + 3


def _meet(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _stroke_points(grid: _Grid, rounds: Sequence[RoundReadings]) -> Iterable[tuple[float, float]]:
    """Points along the strokes from each reading to the next, close enough that no words slip
    between.
    """
    for i, one in enumerate(rounds):
        after = one.rested_mm if one.rested_mm is not None else one.before_mm
        ends = [
            (grid.before_x(i), one.before_mm),
            (grid.tree_x(i), one.on_tree_mm),
            (grid.rested_x(i), after),
        ]
        known = [(x, grid.y(girth)) for x, girth in ends if girth is not None]
        for (x, y), (to_x, to_y) in pairwise(known):
            yield from (
                (x + (to_x - x) * step / 12, y + (to_y - y) * step / 12) for step in range(13)
            )


def _hatching(
    grid: _Grid, rounds: Sequence[RoundReadings], now: float | None, wanted_y: float
) -> str:
    """From the last reading that counts up to the wanted line, right of all rounds."""
    if now is None or grid.y(now) - wanted_y < 3:
        return ""
    y, x = grid.y(now), min(grid.rested_x(len(rounds) - 1) + 12, WIDTH_PX - HATCH_PX + 4)
    slant = min(6.0, (y - wanted_y) / 3)
    return "".join(
        f"M{num(x + 4 * i)} {num(y)}L{num(x + 4 * i + slant)} {num(wanted_y)}" for i in range(8)
    )


def _round_name(number: int, grid: _Grid) -> str:
    return message("round {number}", number=number) if grid.few else str(number)
