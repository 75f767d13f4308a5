"""How far off the odds are where the boots do not do as the forecast's model says.

`python tests/bench/told_and_seen.py [boots]`

Invented boots on a bench that goes by its readings (2,500 a row unless said); told is what the
program says of them, the signed figure is told less seen. The first row is the model itself.
"""

from __future__ import annotations

import sys

import checkout_path  # noqa: F401 - finds the next
from support.played_boots import play
from support.read_bench import Habits, less_of_small, skewed

SMALL = "small openings keep less (half of it at 5 mm, nine tenths at 15)"
SKEWED = "kept fractions skewed: a few boots far under the mean"
EARLY = "a bench that calls boots done an eighth early"
ROWS = {
    "the model itself": Habits(),
    "one leather alone (full grain), read once": Habits(leathers=("full-grain",), reads="once"),
    SMALL: Habits(truth=less_of_small),
    f"{SMALL}, short by 4 to 9 mm": Habits(truth=less_of_small, needs=(4.0, 9.0)),
    f"{SMALL}, one round before": Habits(truth=less_of_small, before=1),
    SKEWED: Habits(draw=skewed),
    f"{SKEWED}, one round before": Habits(draw=skewed, before=1),
    EARLY: Habits(early=3.175),
    f"{EARLY}, one round before": Habits(early=3.175, before=1),
    "laid flat, which no forecast knows before the first round": Habits(flat=True),
}


def main() -> int:
    boots = int(sys.argv[1]) if len(sys.argv) > 1 else 2500
    for name, habits in ROWS.items():
        print(f"{name}: {play(habits, boots, seed=1)}", flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
