"""How long an answer takes, both boots, 7 stations, 2 rounds of history, beside the same answer by
plain Monte Carlo.

`python tests/bench/assess_speed.py`

The forecast errs a little because its boots are few. That error is measured against 60,000 boots
drawn at random for each; the Monte Carlo draws as many boots as bring its own standard error down
to it, for every forecast the answer asks for (what would change it and where to read again each ask
for one). Milliseconds of this process's own work.
"""

from __future__ import annotations

import sys
from statistics import fmean, median
from time import process_time
from typing import Any

import checkout_path  # noqa: F401 - finds the next
from support.plain_policy import Boot, monte_carlo

from fitcounter.fit.assessment import rounds_ahead
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.opening_ahead import Opening, Stand
from fitcounter.fit.assessment.rounds_ahead import Odds

LIMIT_MS, LEAST_RATIO = 25, 50
HEIGHTS = (110, 150, 190, 230, 270, 310, 350)
LEG = (226, 246, 281, 322, 352, 371, 357)
SHAFT = (250, 262, 288, 320, 341, 346, 344)
MANY = 60_000


def job() -> dict[str, Any]:
    """Two boots in supple leather with a zip, two rounds read on each."""
    rounds = [
        {"before": "352", "on_tree": "366", "rested": "357", "hold_h": 72},
        {"before": "356", "on_tree": "372", "rested": "362", "hold_h": 168, "prepared": "dry"},
    ]

    def side(more: int) -> dict[str, Any]:
        return {
            "leg": [
                {"height": str(h), "girth": [str(g + more), str(g + more + 1)]}
                for h, g in zip(HEIGHTS, LEG, strict=True)
            ],
            "boot": [
                {"height": str(h), "girth": [str(g)]} for h, g in zip(HEIGHTS, SHAFT, strict=True)
            ],
            "rounds": rounds,
        }

    boot = {
        "material": "supple-full-grain",
        "zip": {"from_mm": 60, "to_mm": 400},
        "rigid": [{"width_mm": 22, "to_mm": 400}],
    }
    return {
        "unit": "mm",
        "boot": boot,
        "leg": {"over": "breeches"},
        "left": side(0),
        "right": side(4),
    }


def answer_ms(times: int) -> float:
    """Reading the job, answering it and writing the answer as JSON; the middle of several runs,
    each without what the run before had kept.
    """
    data, taken = job(), []
    for _ in range(times):
        rounds_ahead._followed.cache_clear()
        began = process_time()
        assess(read_job(data)).as_json()
        taken.append((process_time() - began) * 1000)
    return median(taken)


def forecasts_asked() -> list[tuple[Stand, Opening]]:
    """Every forecast that one answer asks for."""
    asked: list[tuple[Stand, Opening]] = []
    whole = rounds_ahead.odds

    def listening(stand: Stand, opening: Opening, *, fits: bool = True) -> Odds:
        asked.append((stand, opening))
        return whole(stand, opening, fits=fits)

    rounds_ahead.odds = listening
    try:
        assess(read_job(job()))
    finally:
        rounds_ahead.odds = whole
    return asked


def draws_for_the_same_error(asked: list[tuple[Stand, Opening]]) -> tuple[float, int]:
    """The forecast's root mean square error of P(≤ n), and the draws whose standard error is as
    large; measured against many draws, whose own error is left in: at most so much.
    """
    errors, spreads = [], []
    for stand, opening in asked:
        ours, many = rounds_ahead.odds(stand, opening), monte_carlo(plain(stand), MANY, seed=2)
        for rounds in range(1, 7):
            near = sum(many[: rounds + 1])
            if 0.01 < near < 0.99:
                errors.append((ours.within(rounds) - near) ** 2)
                spreads.append(near * (1 - near))
    square = fmean(errors)
    return square**0.5, round(fmean(spreads) / square)


def plain(stand: Stand) -> Boot:
    known = stand.known
    return Boot(
        stand.first_mm,
        stand.leather_mm,
        stand.girth_mm,
        stand.need_mm,
        stand.need_u_mm,
        stand.round_strain,
        stand.ceiling_strain,
        stand.zip_strain,
        stand.seam_strain,
        stand.tree_mm,
        known.k,
        known.kk**0.5,
        stand.hold_h,
        stand.lived,
        known.e,
        known.ee**0.5,
        known.ke,
        stand.zip_leather_mm,
    )


def main() -> int:
    asked = forecasts_asked()
    ours = answer_ms(31)
    error, draws = draws_for_the_same_error(asked)
    sample = min(draws, 20_000)
    began = process_time()
    for stand, _ in asked:
        monte_carlo(plain(stand), sample, seed=1)
    theirs = (process_time() - began) * 1000 * draws / sample
    print(f"answer: {ours:.1f} ms (limit {LIMIT_MS}), with {len(asked)} forecasts")
    print(f"error of P(≤ n): at most {error:.4f}, as of {draws} draws a forecast")
    print(
        f"the same answer by plain Monte Carlo: {theirs:.0f} ms, {theirs / ours:.0f} times as long"
        f" (at least {LEAST_RATIO})"
    )
    return 0 if ours <= LIMIT_MS and theirs >= LEAST_RATIO * ours else 1


if __name__ == "__main__":
    sys.exit(main())
