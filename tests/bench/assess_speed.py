"""How long an answer takes, both boots, 7 stations, 2 rounds of history, beside the same answer by
plain Monte Carlo.

`python tests/bench/assess_speed.py`

The forecast errs a little because its quantiles are few. That error is measured against 20,001
quantiles of the kept fraction; the Monte Carlo draws as many boots as bring its own standard error
down to it, for every forecast the answer asks for (what would change it and where to read again
each ask for one). Milliseconds of this process's own work.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from statistics import fmean, median
from time import process_time
from typing import Any

import checkout_path  # noqa: F401 - finds the next
from support.plain_policy import Boot, monte_carlo

from fitcounter.fit.assessment import forecast, verdict
from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.forecast import Climb, Odds, Opening, Stand

LIMIT_MS, LEAST_RATIO = 25, 50
HEIGHTS = (110, 150, 190, 230, 270, 310, 350)
LEG = (226, 246, 281, 322, 352, 371, 357)
SHAFT = (250, 262, 288, 320, 341, 346, 344)
FINE = 20_001


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
    """Reading the job, answering it and writing the answer as JSON; the middle of several runs."""
    data, taken = job(), []
    for _ in range(times):
        began = process_time()
        assess(read_job(data)).as_json()
        taken.append((process_time() - began) * 1000)
    return median(taken)


def forecasts_asked() -> list[tuple[Stand, Opening]]:
    """Every forecast that one answer asks for."""
    asked: list[tuple[Stand, Opening]] = []
    whole = forecast.odds

    def listening(stand: Stand, opening: Opening) -> Odds:
        asked.append((stand, opening))
        return whole(stand, opening)

    verdict.forecast.odds = listening  # type: ignore[attr-defined]
    try:
        assess(read_job(job()))
    finally:
        verdict.forecast.odds = whole  # type: ignore[attr-defined]
    return asked


def converged(stand: Stand, opening: Opening) -> list[float]:
    """P(≤ n) for 0 … 6 rounds, with as many quantiles of the fraction as make no difference any
    more.
    """
    steps = forecast.normal_quantiles(5)
    climb, counts = Climb.of(stand, 6), [0] * 8
    for step in forecast.normal_quantiles(FINE):
        growths = climb.growths(opening.opening_mm, stand.kept.mean + stand.kept.sd * step)
        for need_step in steps:
            want = stand.need_mm + stand.need_u_mm * need_step - 3.175
            counts[
                (
                    0
                    if want <= 0
                    else next((n for n, grown in enumerate(growths, 1) if grown >= want), 7)
                )
            ] += 1
    return [sum(counts[: rounds + 1]) / sum(counts) for rounds in range(7)]


def draws_for_the_same_error(asked: list[tuple[Stand, Opening]]) -> tuple[float, int]:
    """The forecast's root mean square error of P(≤ n), and the draws whose standard error is as
    large.
    """
    errors, spreads = [], []
    for stand, opening in asked:
        ours = forecast.odds(stand, opening)
        for rounds, exact in enumerate(converged(stand, opening)):
            if 0.01 < exact < 0.99:
                errors.append((ours.within(rounds) - exact) ** 2)
                spreads.append(exact * (1 - exact))
    return fmean(errors) ** 0.5, round(fmean(spreads) / fmean(errors))


def plain(stand: Stand) -> Boot:
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
        stand.kept.mean,
        stand.kept.sd,
        stand.hold_h,
        stand.lived,
    )


def main() -> int:
    asked = forecasts_asked()
    ours = answer_ms(31)
    error, draws = draws_for_the_same_error([pair for pair in asked if pair[0].running is None])
    sample = min(draws, 20_000)
    began = process_time()
    for stand, _ in asked:
        monte_carlo(plain(replace(stand, running=None)), sample, seed=1)
    theirs = (process_time() - began) * 1000 * draws / sample
    print(f"answer: {ours:.1f} ms (limit {LIMIT_MS}), with {len(asked)} forecasts")
    print(f"error of P(≤ n): {error:.4f}, as of {draws} draws a forecast")
    print(
        f"the same answer by plain Monte Carlo: {theirs:.0f} ms, {theirs / ours:.0f} times as long"
        f" (at least {LEAST_RATIO})"
    )
    return 0 if ours <= LIMIT_MS and theirs >= LEAST_RATIO * ours else 1


if __name__ == "__main__":
    sys.exit(main())
