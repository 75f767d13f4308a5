"""One boot and one new pair for the questions that are asked of the plan, on days by number."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob

TODAY = date(2026, 11, 25)
EVERY_DAY = OpenDays(TODAY, frozenset(range(7)))
JOB = BenchJob(
    "41L", "41", "left", 1, ("A",), 1, 1, 4, hold_h=48, preparing_days=0, finishing_days=0
)
NEW = replace(JOB, id="50L", pair="50", arrival=9, rounds_promise=2)


def day(number: int) -> date:
    return TODAY + timedelta(days=number)
