"""Trees by day, as the boxes of a drawing: a lane a tree, a bar a claim, a stroke a week.

Pure geometry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

LANE_PX, DAY_PX, LEFT_PX, TOP_PX = 48, 22, 56, 30  # a lane is as high as a thumb


@dataclass(frozen=True, slots=True)
class Claimed:
    """A tree taken from first up to, not including, until.

    words: on the bar; planned: not on the tree yet; item_id: of the boot, None for none.
    """

    first: date
    until: date
    words: str
    planned: bool
    item_id: int | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """A box in pixels with its words; lane, first and until: the same for a sentence."""

    x: int
    y: int
    width_px: int
    words: str
    planned: bool
    lane: str
    first: date
    until: date
    item_id: int | None


@dataclass(frozen=True, slots=True)
class Mark:
    """A word at a place: a tree's label, a day (ISO 8601) over the lanes."""

    x: int
    y: int
    text: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """The drawing. closed: x of days nobody is there; weeks: x of Mondays."""

    width_px: int
    height_px: int
    bars: tuple[Bar, ...]
    labels: tuple[Mark, ...]
    days: tuple[Mark, ...]
    closed: tuple[int, ...]
    rules: tuple[int, ...]
    today_x: int


def timeline(
    lanes: Sequence[tuple[str, Sequence[Claimed]]], today: date, open_on: Sequence[bool]
) -> Timeline:
    """lanes: label and claims, top to bottom.

    open_on: for each day from today on whether somebody is there; as long as the drawing.
    """
    length = len(open_on)
    bars = []
    for row, (label, claims) in enumerate(lanes):
        for one in claims:
            start, end = max(0, (one.first - today).days), min(length, (one.until - today).days)
            if end > start:
                box = (
                    LEFT_PX + start * DAY_PX,
                    TOP_PX + row * LANE_PX + 4,
                    (end - start) * DAY_PX - 2,
                )
                said = (one.words, one.planned, label)
                bars.append(Bar(*box, *said, one.first, one.until, one.item_id))
    mondays = [n for n in range(length) if (today + timedelta(days=n)).weekday() == 0]
    bottom = TOP_PX + len(lanes) * LANE_PX
    return Timeline(
        width_px=LEFT_PX + length * DAY_PX,
        height_px=bottom + 4,
        bars=tuple(bars),
        labels=tuple(
            Mark(0, TOP_PX + row * LANE_PX + 30, label) for row, (label, _) in enumerate(lanes)
        ),
        days=tuple(
            Mark(LEFT_PX + n * DAY_PX, TOP_PX - 10, (today + timedelta(days=n)).isoformat())
            for n in mondays
        ),
        closed=tuple(LEFT_PX + n * DAY_PX for n in range(length) if not open_on[n]),
        rules=tuple(TOP_PX + row * LANE_PX for row in range(len(lanes) + 1)),
        today_x=LEFT_PX,
    )
