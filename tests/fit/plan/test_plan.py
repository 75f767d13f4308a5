"""The bench plan: the reference cases, and what a plan says about each boot and pair."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from support.plan_days import EVERY_DAY, JOB, TODAY, WEEKDAYS, day, days_of

from fitcounter.errors import BadInput
from fitcounter.fit.plan.jobs import (
    BenchJob,
    Booking,
    Hold,
    OnTree,
    Plan,
    PlanStep,
    Resting,
    TreeDays,
)
from fitcounter.fit.plan.plan import plan


@pytest.mark.parametrize(
    ("left_tree", "right_tree", "days"), [("L", "R", 6), ("either", "either", 9)]
)
def test_two_rounds_of_two_days_take_six_days_on_two_trees_and_nine_on_one(
    left_tree: str, right_tree: str, days: int
) -> None:
    """Two rounds × 48 h hold, 24 h rest: 6 days with both trees, 9 with one that takes turns
    (worked out by hand).
    """
    sides = (("a", "left", left_tree), ("b", "right", right_tree))
    jobs = [
        BenchJob(item, "pair", side, 1, (tree,), 2, 2, 2, 48, 1, 0, 0) for item, side, tree in sides
    ]

    result = plan(jobs, TreeDays(sorted({left_tree, right_tree}), EVERY_DAY))

    assert result.pairs[0].ready == day(days)
    assert result.objective == days


def test_preparing_and_finishing_take_a_day_each() -> None:
    """Prepared today, on tomorrow, off two days later, read the next day, on again that day;
    finished the day after the last.
    """
    result = plan([JOB], TreeDays(["A"], EVERY_DAY))

    assert days_of(result) == [
        ("prepare", 0),
        ("on", 1),
        ("off", 3),
        ("read", 4),
        ("on", 4),
        ("off", 6),
        ("read", 7),
        ("finish", 8),
        ("shaper", 8),
    ]


def test_hope_is_the_likely_rounds_on_the_same_trees() -> None:
    """One round is likely, two are promised: the hope is finishing after the first reading of the
    very same plan.
    """
    result = plan([JOB], TreeDays(["A"], EVERY_DAY))

    assert (result.boots[0].hope, result.boots[0].ready) == (day(5), day(8))
    assert (result.pairs[0].hope, result.pairs[0].ready) == (day(5), day(8))


def test_a_hold_runs_over_closed_days_and_says_how_long_it_really_is() -> None:
    """Put on on Friday for two days it comes off on Monday: 72 h, and it is read on Tuesday."""
    job = replace(JOB, rounds_promise=1, preparing_days=2, finishing_days=0)

    result = plan([job], TreeDays(["A"], WEEKDAYS))

    assert result.holds() == (Hold("41L", "A", 1, day(2), day(5), 72),)
    assert days_of(result)[-2:] == [("read", 6), ("shaper", 6)]


def test_more_rounds_than_the_forecast_counts_are_planned_as_the_agreed_number() -> None:
    """eight_in_ten is null past six rounds: max_rounds stands in; and the hope then is the
    promise.
    """
    result = plan(
        [replace(JOB, rounds_likely=None, rounds_promise=None, max_rounds=3)],
        TreeDays(["A"], EVERY_DAY),
    )

    assert [hold.round for hold in result.holds()] == [1, 2, 3]
    assert result.pairs[0].hope == result.pairs[0].ready


def test_a_running_round_stays_on_its_tree_and_counts_as_the_first() -> None:
    """On since yesterday, due tomorrow: it is taken off then, and only one further round is
    planned.
    """
    running = replace(JOB, now=OnTree("A", day(-1), day(1)), rounds_done=1)

    result = plan([running], TreeDays(["A"], EVERY_DAY))

    assert [(hold.round, hold.on, hold.off, hold.hold_h) for hold in result.holds()] == [
        (2, day(-1), day(1), 48),
        (3, day(2), day(4), 48),
    ]
    assert days_of(result)[:3] == [("off", 1), ("read", 2), ("on", 2)]


def test_a_boot_left_on_past_its_day_comes_off_on_the_next_open_day() -> None:
    """Due last Sunday and still on: off today; and its tree is free for the next boot from today
    on.
    """
    overdue = replace(JOB, rounds_promise=1, now=OnTree("A", day(-9), day(-3)))
    next_one = replace(JOB, id="42L", pair="42", arrival=2, rounds_promise=1, preparing_days=0)

    result = plan([overdue, next_one], TreeDays(["A"], WEEKDAYS))

    assert days_of(result)[0] == ("off", 0)
    assert days_of(result, "42L")[0] == ("on", 0)


def test_a_resting_boot_is_read_when_its_rest_is_over_even_if_no_round_is_forecast() -> None:
    """Rest over on Saturday, the bench opens on Monday: read then, finished on Tuesday."""
    result = plan(
        [replace(JOB, rounds_likely=0, rounds_promise=0, now=Resting(day(3)))],
        TreeDays(["A"], WEEKDAYS),
    )

    assert days_of(result) == [("read", 5), ("finish", 6), ("shaper", 6)]
    assert result.pairs[0].hope == day(6)


def test_a_boot_that_needs_no_round_is_only_finished() -> None:
    """Nothing to prepare and no tree: finished tomorrow."""
    result = plan([replace(JOB, rounds_likely=0, rounds_promise=0)], TreeDays([], EVERY_DAY))

    assert days_of(result) == [("finish", 1), ("shaper", 1)]


def test_a_round_after_the_first_is_not_prepared_for_a_day() -> None:
    """Preparing is one day before the first hold of all; a boot with a read round goes on today."""
    result = plan([replace(JOB, rounds_done=1)], TreeDays(["A"], EVERY_DAY))

    assert days_of(result)[0] == ("on", 0)
    assert [hold.round for hold in result.holds()] == [2, 3]


def test_boots_still_at_home_keep_a_slot_and_are_prepared_the_day_before_it() -> None:
    """Bring them in on the 3rd, a Thursday: prepared then, on on Friday."""
    result = plan([replace(JOB, not_before=date(2026, 12, 3))], TreeDays(["A"], WEEKDAYS))

    assert days_of(result)[:2] == [("prepare", 8), ("on", 9)]


def test_preparing_waits_for_the_tree_so_that_the_leather_does_not_dry_out_again() -> None:
    """The tree is lent until Tuesday: prepared on Monday, not today."""
    result = plan([JOB], TreeDays(["A"], EVERY_DAY, [Booking("A", TODAY, day(6))]))

    assert days_of(result)[:2] == [("prepare", 5), ("on", 6)]
    assert result.boots[0].waits_days == 5


def test_a_booking_that_begins_on_a_closed_day_keeps_the_tree_free_from_the_friday_before() -> None:
    """A boot that is on over the weekend could not come off for a booking on Sunday."""
    job = replace(JOB, rounds_promise=1, preparing_days=0)

    free = plan([job], TreeDays(["A"], WEEKDAYS, [Booking("A", day(5), day(6))]))
    late = plan([job], TreeDays(["A"], WEEKDAYS, [Booking("A", day(4), day(6))]))

    assert free.holds()[0].on == TODAY
    assert late.holds()[0] == Hold("41L", "A", 1, TODAY, day(2), 48)
    longer = replace(job, hold_h=72)
    assert (
        plan([longer], TreeDays(["A"], WEEKDAYS, [Booking("A", day(5), day(6))])).holds()[0].on
        == TODAY
    )
    assert plan([longer], TreeDays(["A"], WEEKDAYS, [Booking("A", day(4), day(6))])).holds()[
        0
    ].on == day(6)


def test_a_boot_without_a_tree_is_left_out_with_a_sentence_and_its_pair_has_no_day() -> None:
    """No tree serves the right boot, and the left one's is away for years: both say why, a third is
    planned all the same.
    """
    right = replace(JOB, id="41R", side="right", trees=("gone",))
    other = replace(JOB, id="42L", pair="42", trees=("B",))

    result = plan(
        [JOB, right, other],
        TreeDays(["A", "B"], EVERY_DAY, [Booking("A", TODAY, date(2031, 1, 1))]),
    )

    assert result.unplanned == (
        ("41L", "No tree is free for this boot within a year."),
        ("41R", "No tree in use fits this boot."),
    )
    assert [entry.pair for entry in result.pairs] == ["42"]
    assert result.boot("41L") is None
    assert result.pair("41") is None


def test_a_pair_with_one_boot_planned_and_one_not_has_no_day() -> None:
    """The pair is done when both are; here nobody knows when."""
    result = plan([JOB, replace(JOB, id="41R", side="right", trees=())], TreeDays(["A"], EVERY_DAY))

    assert result.pairs == ()
    assert [boot.job for boot in result.boots] == ["41L"]


def test_a_running_round_on_a_tree_no_longer_in_use_is_planned_to_its_end() -> None:
    """The tree was retired while a boot was on it: it still comes off, is read and finished."""
    result = plan(
        [replace(JOB, rounds_promise=1, now=OnTree("old", day(-1), day(1)))],
        TreeDays(["A"], EVERY_DAY),
    )

    assert days_of(result) == [("off", 1), ("read", 2), ("finish", 3), ("shaper", 3)]


def test_an_empty_bench_has_an_empty_plan() -> None:
    """Nothing to do is a plan too."""
    assert plan([], TreeDays(["A"], EVERY_DAY)) == Plan(TODAY, (), (), (), 0)


def test_the_same_bench_gives_the_same_plan() -> None:
    """No clock and no chance in it."""
    jobs = [replace(JOB, id=f"{n}L", pair=f"{n}", arrival=n, trees=("A", "B")) for n in range(5)]

    assert plan(jobs, TreeDays(["A", "B"], WEEKDAYS)) == plan(jobs, TreeDays(["A", "B"], WEEKDAYS))


def test_a_promise_is_kept_before_the_sum_is_lowered() -> None:
    """The last plan keeps every promise; a plan with a lower sum that breaks one does not replace
    it.
    """
    jobs = [
        replace(JOB, id=f"{n}L", pair=f"{n}", arrival=n, rounds_promise=1 + n % 3, trees=("A", "B"))
        for n in range(8)
    ]
    first = plan(jobs, TreeDays(["A", "B"], WEEKDAYS))
    promised = [replace(job, promised=first.pair(job.pair).ready) for job in jobs]

    again = plan(promised, TreeDays(["A", "B"], WEEKDAYS), first.holds(), placements=0)

    assert sum(entry.late_days for entry in again.pairs) == 0


def test_steps_say_tree_and_round() -> None:
    """On and off name the tree; on, off and read the round."""
    boot = plan([replace(JOB, rounds_promise=1)], TreeDays(["A"], EVERY_DAY)).boots[0]

    assert boot.steps[1:4] == (
        PlanStep("on", day(1), "A", 1),
        PlanStep("off", day(3), "A", 1),
        PlanStep("read", day(4), None, 1),
    )
    assert (boot.side, boot.pair) == ("left", "41")


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("hold_h", 0.5, "Type 1 to 720 hours."),
        ("hold_h", float("nan"), "Type 1 to 720 hours."),
        ("hold_h", 721, "Type 1 to 720 hours."),
        ("rest_days", 0, "Type 1 to 14 days."),
        ("preparing_days", -1, "Type 0 to 14 days."),
        ("finishing_days", 15, "Type 0 to 14 days."),
        ("rounds_promise", -1, "Type 0 to 20 rounds."),
        ("max_rounds", 21, "Type 0 to 20 rounds."),
    ],
)
def test_a_figure_out_of_range_is_refused_with_what_to_type(
    field: str, value: float, sentence: str
) -> None:
    """The error carries the field, what was typed and one sentence."""
    with pytest.raises(BadInput) as caught:
        replace(JOB, **{field: value})  # type: ignore[arg-type]

    assert (caught.value.field, caught.value.typed, caught.value.sentence) == (
        field,
        str(value),
        sentence,
    )
