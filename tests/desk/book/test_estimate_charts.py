"""The pictures of the book say what their tables say, whatever the numbers are."""

from __future__ import annotations

import pytest

from fitcounter.desk.book import estimate_charts


def test_a_disc_is_as_large_as_its_boots_are_many_and_stands_where_estimate_meets_result():
    drawn = estimate_charts.grid([(1, 1)] * 16 + [(1, 2)] * 4 + [(2, 1)])
    whole, fewer_boots, least = (
        next(one for one in drawn.cells if (one.said, one.took) == pair)
        for pair in ((1, 1), (1, 2), (2, 1))
    )
    assert [one.kind for one in (whole, fewer_boots, least)] == ["as said", "more", "fewer"]
    assert fewer_boots.r == pytest.approx(whole.r / 2)
    assert least.r == 9.0
    assert (whole.x, fewer_boots.y - whole.y) == (fewer_boots.x, drawn.cell)
    assert sum(one.boots for one in drawn.cells) == 21


def test_more_than_four_rounds_are_drawn_as_four_and_none_at_all_is_not_drawn():
    drawn = estimate_charts.grid([(6, 7), (0, 1)])
    assert [(one.said, one.took) for one in drawn.cells] == [(4, 4)]
    assert len(drawn.columns) == len(drawn.rows) == 4


def test_an_empty_book_draws_two_rounds_and_no_disc():
    drawn = estimate_charts.grid([])
    assert (drawn.cells, len(drawn.columns)) == ((), 2)


def test_early_days_stand_left_of_the_promised_one_and_late_ones_right():
    drawn = estimate_charts.days([3, 3, 0, -2, 40, -40])
    assert [(one.label, one.count, one.late) for one in drawn.bars] == [
        ("two weeks or more early", 1, False),
        ("3 days early", 2, False),
        ("on the promised day", 1, False),
        ("2 days late", 1, True),
        ("two weeks or more late", 1, True),
    ]
    assert all((one.x + one.width / 2 > drawn.zero_x + 1) == one.late for one in drawn.bars)
    assert max(one.height for one in drawn.bars) == drawn.bars[1].height
    assert all(
        one.x >= 0 and one.x + one.width <= drawn.width and one.y + one.height <= drawn.height
        for one in drawn.bars
    )


def test_the_fullest_tree_comes_first_and_none_is_longer_than_its_track():
    drawn = estimate_charts.trees({"1": 9.0, "2": 45.0, "3": 120.0, "4": 0.0}, 90)
    assert [one.label for one in drawn.bars] == ["3", "2", "1", "4"]
    track = drawn.width - drawn.bars[0].x
    assert [one.width for one in drawn.bars] == [track, track / 2, pytest.approx(track / 10), 0]
