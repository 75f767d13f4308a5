"""The pictures of the owner's book, drawn by the server: rounds estimated and taken, days, kept
shares, trees. Pixels of a viewBox.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.desk.common.translation import say, say_n

WIDTH = 320
# estimate and result: columns and rows of rounds, a ring a boot
CELL = 78
LEFT, TOP = 76, 26
MOST_ROUNDS = 4
# days before and after the promised one
DAYS_EACH_WAY = 14
BAR_FOOT, BAR_TALL = 96, 72
ROW = 26
LABEL = 92


class Bubble(NamedTuple):
    """So many boots for which `said` rounds were estimated and that took `took`.

    x, y: its middle; r: of a disc as large as they are many.
    """

    said: int
    took: int
    boots: int
    x: float
    y: float
    r: float

    @property
    def kind(self) -> str:
        return "as said" if self.said == self.took else "more" if self.took > self.said else "fewer"


class Grid(NamedTuple):
    """Columns are the estimate, rows the result; on the steps down both are the same."""

    cells: tuple[Bubble, ...]
    columns: tuple[tuple[str, float], ...]
    rows: tuple[tuple[str, float], ...]
    steps: tuple[tuple[float, float], ...]
    width: int
    height: int
    cell: int = CELL


@dataclass(frozen=True, slots=True)
class ChartBar:
    """One bar. label: its day or tree; count: boots or days; late: after the promised day."""

    label: str
    count: float
    x: float
    y: float
    width: float
    height: float
    late: bool = False


class Bars(NamedTuple):
    bars: tuple[ChartBar, ...]
    width: int
    height: int
    zero_x: float = 0.0


def grid(pairs: Iterable[tuple[int, int]]) -> Grid:
    """pairs: rounds estimated and rounds it took, a pair a boot. More than four are drawn as
    four.
    """
    counts = Counter((min(said, MOST_ROUNDS), min(took, MOST_ROUNDS)) for said, took in pairs)
    most = max(counts.values(), default=1)
    rounds = range(1, max([2, *(max(pair) for pair in counts)]) + 1)
    cells = tuple(
        Bubble(
            said,
            took,
            boots,
            _middle(LEFT, said),
            _middle(TOP, took),
            round(max(9.0, 28 * math.sqrt(boots / most)), 1),
        )
        for (said, took), boots in sorted(counts.items())
        if said >= 1 and took >= 1
    )
    columns = tuple((str(n), _middle(LEFT, n)) for n in rounds)
    rows = tuple((str(n), _middle(TOP, n)) for n in rounds)
    steps = tuple((_middle(LEFT, n) - CELL / 2, _middle(TOP, n) - CELL / 2) for n in rounds)
    return Grid(cells, columns, rows, steps, LEFT + CELL * len(rounds), TOP + CELL * len(rounds))


def days(early: Sequence[int]) -> Bars:
    """early: days on the shelf before the promised day, a boot each; beyond two weeks they are
    drawn at two weeks.
    """
    counts = Counter(max(-DAYS_EACH_WAY, min(DAYS_EACH_WAY, day)) for day in early)
    most = max(counts.values(), default=1)
    step = WIDTH / (2 * DAYS_EACH_WAY + 1)
    bars = []
    for day, count in sorted(counts.items(), reverse=True):
        tall = round(BAR_TALL * count / most, 1)
        x = round((DAYS_EACH_WAY - day) * step + 1, 1)
        bars.append(
            ChartBar(
                _day_words(day),
                count,
                x,
                round(BAR_FOOT - tall, 1),
                round(step - 2, 1),
                tall,
                day < 0,
            )
        )
    return Bars(tuple(bars), WIDTH, BAR_FOOT, round((DAYS_EACH_WAY + 0.5) * step, 1))


def trees(used: Mapping[str, float], of_days: int) -> Bars:
    """Days on a boot by tree, the fullest first."""
    wide = WIDTH - LABEL
    ordered = sorted(used.items(), key=lambda one: -one[1])
    bars = [
        ChartBar(
            label,
            count,
            LABEL,
            ROW * n + 4.0,
            round(wide * min(1.0, count / of_days), 1),
            ROW - 10.0,
        )
        for n, (label, count) in enumerate(ordered)
    ]
    return Bars(tuple(bars), WIDTH, ROW * len(ordered))


def _middle(start: int, number: int) -> float:
    return start + CELL * (number - 0.5)


def _day_words(early: int) -> str:
    if early == 0:
        return say("on the promised day")
    if early >= DAYS_EACH_WAY:
        return say("two weeks or more early")
    if early <= -DAYS_EACH_WAY:
        return say("two weeks or more late")
    if early > 0:
        return say_n("{count} day early", "{count} days early", early)
    return say_n("{count} day late", "{count} days late", -early)
