"""What a plan settles on is a resting place: an unchanged bench gives the same plan again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from random import Random

from support.plan_cases import TODAY, Case, random_case
from support.plan_days import EVERY_DAY, JOB, day

from fitcounter.fit.plan.jobs import BenchJob, Hold, Plan, TreeDays
from fitcounter.fit.plan.plan import plan

BENCHES = 40


def test_an_unchanged_bench_planned_again_gives_the_same_plan() -> None:
    """Pairs come in one after the other and one goes again; some have an agreed pickup day."""
    random, planned, moved = Random(14), 0, []
    for number in range(BENCHES):
        case, last = random_case(random, 4), ()
        for jobs in grown(random, case):
            result = planned_with(case, jobs, last)
            again = planned_with(case, jobs, result.holds())
            if (again.boots, again.unplanned) != (result.boots, result.unplanned):
                moved.append((number, len(jobs)))
            last, planned = result.holds(), planned + 1
    assert moved == []
    assert planned > 2 * BENCHES


def grown(random: Random, case: Case) -> list[list[BenchJob]]:
    """The same bench with one pair, with two, with all of them, and without one of them."""
    jobs = [replace(job, pickup=pickup_day(random)) for job in case.jobs]
    pairs = list(dict.fromkeys(job.pair for job in jobs))
    benches = [
        [job for job in jobs if job.pair in pairs[: count + 1]] for count in range(len(pairs))
    ]
    gone = random.choice(pairs)
    return [*benches, [job for job in jobs if job.pair != gone]]


def pickup_day(random: Random) -> date | None:
    return TODAY + timedelta(days=random.randint(5, 50)) if random.random() < 0.2 else None


def planned_with(case: Case, jobs: list[BenchJob], last: tuple[Hold, ...]) -> Plan:
    return plan(jobs, TreeDays(case.trees, case.days, case.bookings), last)


def test_a_boot_set_late_for_its_pickup_gives_no_reason_to_move_another() -> None:
    """Alone it could be ready on day 8; agreed for day 20 it stays there, and so does the boot
    that was to go on after it.
    """
    late = replace(JOB, pickup=day(20))
    other = replace(JOB, id="42L", pair="42", arrival=2, rounds_promise=1)
    first = plan([late, other], TreeDays(["A"], EVERY_DAY))

    again = plan([late, other], TreeDays(["A"], EVERY_DAY), first.holds())

    assert again.boots == first.boots
    assert again.boots[0].ready == day(20)


def test_when_a_pair_leaves_those_behind_it_move_up() -> None:
    """The order is kept; the days that came free are used."""
    jobs = [
        replace(JOB, id=f"{n}L", pair=f"{n}", arrival=n, rounds_promise=1, promised=day(60))
        for n in (1, 2, 3)
    ]
    before = plan(jobs, TreeDays(["A"], EVERY_DAY))

    after = plan(jobs[1:], TreeDays(["A"], EVERY_DAY), before.holds())

    assert [hold.job for hold in after.holds()] == ["2L", "3L"]
    assert [hold.on for hold in after.holds()] == [hold.on for hold in before.holds()[:2]]


def test_a_day_that_is_kept_is_not_broken_to_make_others_less_late() -> None:
    """One pair was told day 8, which it keeps; to go on after it makes the other five days late.
    The other way round would be two days late in all, and a word broken as soon as it was given.
    """
    told = replace(JOB, id="1L", pair="1", promised=day(8))
    late = replace(JOB, id="2L", pair="2", arrival=2, rounds_promise=1, promised=day(5))
    last = plan([told, replace(late, promised=None)], TreeDays(["A"], EVERY_DAY)).holds()
    assert [hold.job for hold in last] == ["1L", "1L", "2L"]

    again = plan([told, late], TreeDays(["A"], EVERY_DAY), last)

    assert again.holds() == last
    assert [pair.late_days for pair in again.pairs] == [0, 5]
    anew = plan([told, late], TreeDays(["A"], EVERY_DAY))
    assert sum(pair.late_days for pair in anew.pairs) == 2


def test_who_is_new_at_the_bench_may_make_another_late() -> None:
    """The same two, where the second one has no trees yet: that is asked about before."""
    told = replace(JOB, id="1L", pair="1", promised=day(8))
    new = replace(JOB, id="2L", pair="2", arrival=2, rounds_promise=1, promised=day(5))
    last = plan([told], TreeDays(["A"], EVERY_DAY)).holds()

    both = plan([told, new], TreeDays(["A"], EVERY_DAY), last)

    assert [pair.late_days for pair in both.pairs] == [2, 0]
