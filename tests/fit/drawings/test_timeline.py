"""Trees by day: bars where claims are, cut to what is drawn, never one over another."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcounter.fit.drawings.timeline import DAY_PX, LEFT_PX, Claimed, timeline

TODAY = date(2026, 3, 17)  # a Tuesday


def day(number: int) -> date:
    return TODAY + timedelta(days=number)


def test_a_claim_is_a_bar_from_its_first_day_to_its_last() -> None:
    """Seven days from tomorrow: one day in, seven days long, with its words and its tree in a
    sentence.
    """
    drawn = timeline([("4 L", [Claimed(day(1), day(8), "41 L", True)])], TODAY, [True] * 14)

    bar = drawn.bars[0]
    assert (bar.x, bar.width_px, bar.words, bar.planned) == (
        LEFT_PX + DAY_PX,
        7 * DAY_PX - 2,
        "41 L",
        True,
    )
    assert (bar.lane, bar.words) == ("4 L", "41 L")
    assert (bar.first, bar.until) == (date(2026, 3, 18), date(2026, 3, 25))


def test_what_lies_outside_the_days_is_cut_or_left_out() -> None:
    """Begun last week: drawn from today. Over already, or past the end: not drawn."""
    claims = [
        Claimed(day(-5), day(2), "a", False),
        Claimed(day(-5), day(0), "b", False),
        Claimed(day(14), day(20), "c", True),
    ]
    drawn = timeline([("4", claims)], TODAY, [True] * 14)

    assert [(bar.words, bar.x, bar.width_px) for bar in drawn.bars] == [
        ("a", LEFT_PX, 2 * DAY_PX - 2)
    ]


def test_closed_days_and_weeks_are_marked() -> None:
    """Sunday and Monday closed are grey; each Monday carries its date."""
    drawn = timeline([("4", [])], TODAY, [day(n).weekday() not in (6, 0) for n in range(14)])

    assert drawn.closed == tuple(LEFT_PX + n * DAY_PX for n in (5, 6, 12, 13))
    assert [mark.text for mark in drawn.days] == ["2026-03-23", "2026-03-30"]


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 9)), max_size=8))
def test_claims_that_do_not_overlap_are_bars_that_do_not_overlap(
    parts: list[tuple[int, int]],
) -> None:
    """Gaps and lengths laid one after another: the bars keep their order and never touch."""
    claims, at = [], 0
    for gap, length in parts:
        claims.append(Claimed(day(at + gap), day(at + gap + length), "x", True))
        at += gap + length
    bars = timeline([("4", claims)], TODAY, [True] * 120).bars

    assert len(bars) == len(parts)
    assert all(one.x + one.width_px < two.x for one, two in pairwise(bars))
