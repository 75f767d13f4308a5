"""One round: growth by one method, from when a reading counts, and a share in words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from fitcounter.fit.assessment.one_round import counts_from, grown_mm, kept_words


@pytest.mark.parametrize(
    ("before", "after", "method", "grown"),
    [
        (380.0, 392.0, "outside", 12.0),
        (190.0, 196.0, "flat", 12.0),
        (380.0, 379.0, "inside", -1.0),
        (None, 392.0, "outside", None),
        (380.0, None, "flat", None),
    ],
)
def test_a_width_laid_flat_counts_twice(
    before: float | None, after: float | None, method: str, grown: float | None
) -> None:
    """Growth is the difference of two readings, doubled for a flat width, and nothing where one was
    not read.
    """
    assert grown_mm(before, after, method) == grown


def test_a_reading_counts_from_24_hours_off_the_tree() -> None:
    """Not a minute earlier, by elapsed hours also over a change of the clocks."""
    off = datetime(2026, 3, 7, 15, 0, tzinfo=UTC)
    assert counts_from(off) - off == timedelta(hours=24)


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        (0.02, "hardly any"),
        (0.25, "about a quarter"),
        (0.35, "about a third"),
        (0.5, "about half"),
        (0.66, "about two thirds"),
        (0.9, "most of it"),
    ],
)
def test_a_share_is_said_as_people_say_it(kept: float, words: str) -> None:
    """Six words for the whole range."""
    assert kept_words(kept) == words
