"""Who goes first on the bench, and what of the last plan stays where it was."""

from __future__ import annotations

from dataclasses import replace

from support.plan_days import EVERY_DAY, JOB, TODAY, WEEKDAYS, day, days_of

from fitcounter.fit.plan.jobs import Booking, Hold, OnTree, TreeDays
from fitcounter.fit.plan.plan import plan


def test_the_pair_promised_first_goes_first() -> None:
    """One tree, two boots: the later arrival has a promise to keep and takes the tree today."""
    early = replace(JOB, rounds_promise=1, preparing_days=0, finishing_days=0)
    promised = replace(early, id="42L", pair="42", arrival=2, promised=day(3))

    result = plan([early, promised], TreeDays(["A"], EVERY_DAY))

    assert result.pair("42").ready == day(3)  # type: ignore[union-attr]
    assert result.pair("41").ready == day(5)  # type: ignore[union-attr]


def test_days_late_count_ten_times() -> None:
    """Ready on day 8 against a promise for day 5: 8 + 10 × 3; a promise of the day before yesterday
    is later still.
    """
    assert plan([replace(JOB, promised=day(5))], TreeDays(["A"], EVERY_DAY)).objective == 38
    gone_by = plan([replace(JOB, promised=day(-2))], TreeDays(["A"], EVERY_DAY))

    assert gone_by.pairs[0].late_days == 10
    assert gone_by.objective == 108


def test_the_earlier_of_two_promises_binds_the_pair() -> None:
    """Left and right of a pair were promised apart: the pair is late by the first."""
    right = replace(JOB, id="41R", side="right", trees=("B",), promised=day(9))

    result = plan([replace(JOB, promised=day(6)), right], TreeDays(["A", "B"], EVERY_DAY))

    assert result.pairs[0].promised == day(6)
    assert result.pairs[0].late_days == 2


def test_the_last_hold_is_set_late_against_an_agreed_pickup_day() -> None:
    """Ready by day 20 and no earlier; the first round stays where it was, and the objective is that
    of the plan before.
    """
    result = plan([replace(JOB, pickup=day(20))], TreeDays(["A"], EVERY_DAY))

    assert days_of(result)[1:] == [
        ("on", 1),
        ("off", 3),
        ("read", 4),
        ("on", 16),
        ("off", 18),
        ("read", 19),
        ("finish", 20),
        ("shaper", 20),
    ]
    assert result.boots[0].waits_days == 0
    assert result.objective == 8


def test_a_hold_set_late_goes_where_a_tree_is_free_and_never_past_a_promise() -> None:
    """The tree is lent from day 12 on, and another boot's promise of day 9 is before its pickup
    day.
    """
    lent = plan(
        [replace(JOB, pickup=day(20))], TreeDays(["A"], EVERY_DAY, [Booking("A", day(12), day(40))])
    )
    promised = plan([replace(JOB, pickup=day(20), promised=day(9))], TreeDays(["A"], EVERY_DAY))
    too_soon = plan([replace(JOB, pickup=day(3))], TreeDays(["A"], EVERY_DAY))

    assert lent.holds()[-1].on == day(10)
    assert promised.pairs[0].ready == day(9)
    assert too_soon.pairs[0].ready == day(8)


def test_a_hold_set_late_may_change_to_another_tree() -> None:
    """Tree A is lent from day 8 on, tree B is free: the last hold moves to B to be as late as
    agreed.
    """
    result = plan(
        [replace(JOB, trees=("A", "B"), pickup=day(20))],
        TreeDays(["A", "B"], EVERY_DAY, [Booking("A", day(8), day(60))]),
    )

    assert [(hold.tree, hold.on) for hold in result.holds()] == [("A", day(1)), ("B", day(16))]


def test_among_trees_free_on_the_same_day_the_better_one_is_taken() -> None:
    """Trees are listed best first; a worse one is taken only where it is free earlier."""
    job = replace(JOB, trees=("B", "A"), rounds_promise=1, preparing_days=0)

    assert plan([job], TreeDays(["A", "B"], EVERY_DAY)).holds()[0].tree == "B"
    assert (
        plan([job], TreeDays(["A", "B"], EVERY_DAY, [Booking("B", TODAY, day(1))])).holds()[0].tree
        == "A"
    )
    both_lent = [Booking("A", TODAY, day(2)), Booking("B", TODAY, day(2))]
    assert plan([job], TreeDays(["A", "B"], EVERY_DAY, both_lent)).holds()[0].tree == "B"


def test_the_last_plans_holds_stay_where_nothing_is_better() -> None:
    """Two boots alike on one tree: whichever went first in the last plan goes first again, on the
    same days.
    """
    boots = [replace(JOB, id=f"{n}L", pair=f"{n}", arrival=n, rounds_promise=1) for n in (1, 2)]
    last = plan(list(reversed(boots)), TreeDays(["A"], EVERY_DAY)).holds()
    other_way = tuple(replace(hold, job={"1L": "2L", "2L": "1L"}[hold.job]) for hold in last)

    assert plan(boots, TreeDays(["A"], EVERY_DAY), last).holds() == last
    assert plan(boots, TreeDays(["A"], EVERY_DAY), other_way).holds() == other_way


def test_a_hold_that_could_go_earlier_stays_where_that_helps_nobody() -> None:
    """The left boot was to go on on day 2; its pair waits for the right one anyway, so nobody is
    told another day.
    """
    left = replace(JOB, rounds_promise=1, preparing_days=0)
    right = replace(JOB, id="41R", side="right", trees=("B",), rounds_promise=2, preparing_days=0)
    last = (Hold("41L", "A", 1, day(2), day(4), 48),)

    result = plan([left, right], TreeDays(["A", "B"], EVERY_DAY), last)

    assert [hold for hold in result.holds() if hold.job == "41L"] == list(last)
    assert result.boots[0].waits_days == 2


def test_a_hold_planned_for_today_on_a_lesser_tree_stays_there() -> None:
    """The better tree is free today as well; nobody is ready earlier for changing it."""
    job = replace(JOB, trees=("B", "A"), rounds_promise=1, preparing_days=0)
    last = (Hold("41L", "A", 1, TODAY, day(2), 48),)

    assert plan([job], TreeDays(["A", "B"], EVERY_DAY), last).holds() == last


def test_the_running_round_of_the_last_plan_takes_no_place_of_the_next() -> None:
    """Put on today as planned: its next hold stays where the plan had it, later than it could be,
    for the pair waits anyway.
    """
    left = replace(JOB, now=OnTree("A", TODAY, day(2)))
    right = replace(JOB, id="41R", side="right", trees=("B",), rounds_promise=3)
    last = (Hold("41L", "A", 1, TODAY, day(2), 48), Hold("41L", "A", 2, day(5), day(7), 48))

    result = plan([left, right], TreeDays(["A", "B"], EVERY_DAY), last)

    assert [hold for hold in result.holds() if hold.job == "41L"] == list(last)


def test_holds_of_the_last_plan_that_no_longer_hold_are_placed_anew() -> None:
    """Of a finished boot, on a tree gone, on a day gone by, of a round already on, on days closed,
    taken or too early: all anew.
    """
    jobs = [replace(JOB, rounds_done=1), replace(JOB, id="42L", pair="42", not_before=day(3))]
    last = [
        Hold("7L", "A", 1, day(1), day(3), 48),
        Hold("41L", "gone", 2, day(1), day(3), 48),
        Hold("41L", "A", 2, day(-3), day(-1), 48),
        Hold("41L", "A", 1, day(1), day(3), 48),
        Hold("41L", "A", 2, day(3), day(5), 48),
        Hold("42L", "A", 1, day(2), day(4), 48),
        Hold("42L", "B", 2, day(9), day(11), 48),
        Hold("42L", "A", 3, day(12), day(14), 48),
    ]

    result = plan(jobs, TreeDays(["A", "B"], WEEKDAYS, [Booking("A", day(7), day(8))]), last)

    assert [hold.round for hold in result.holds() if hold.job == "41L"] == [2, 3]
    assert all(WEEKDAYS.is_open(hold.on) and WEEKDAYS.is_open(hold.off) for hold in result.holds())
    assert {hold.tree for hold in result.holds()} == {"A"}
