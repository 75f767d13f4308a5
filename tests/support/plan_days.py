"""A bench of the tests: a Wednesday, a boot of two rounds, and days counted from today."""

from __future__ import annotations

from datetime import date, timedelta

from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob, Plan

TODAY = date(2026, 11, 25)  # a Wednesday
EVERY_DAY = OpenDays(TODAY, frozenset(range(7)))
WEEKDAYS = OpenDays(TODAY, frozenset(range(5)))
JOB = BenchJob("41L", "41", "left", 1, ("A",), 1, 2, 4, hold_h=48)


def day(number: int) -> date:
    return TODAY + timedelta(days=number)


def days_of(result: Plan, job: str = "41L") -> list[tuple[str, int]]:
    boot = result.boot(job)
    assert boot is not None
    return [(step.kind, (step.day - TODAY).days) for step in boot.steps]
