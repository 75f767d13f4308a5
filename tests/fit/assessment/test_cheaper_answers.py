"""What would change the answer, and what a panel would have to be, in words."""

from __future__ import annotations

import pytest

from fitcounter.fit.assessment.cheaper_answers import panel_words
from fitcounter.fit.assessment.panel import Panel


@pytest.mark.parametrize(
    ("panel", "words"),
    [
        (
            Panel(57.15, 57.15, 203.2, 0.0),
            "a panel 2¼ in wide at the top, running down to 8 in",
        ),
        (
            Panel(25.4, 57.15, 101.6, 0.0, open_below=True),
            "a panel 2¼ in at its widest, 1 in at the top, running at least down to 4 in: measure"
            " lower",
        ),
        (
            Panel(57.15, 57.15, 368.3, 0.0, open_below=True),
            "a panel 2¼ in wide at the top, read at 14½ in only: measure lower to see how far"
            " down it runs",
        ),
        (
            Panel(57.15, 57.15, 203.2, 12.7),
            "a panel 2¼ in wide at the top, running down to 8 in; the elastic gives another ½ in"
            " of that",
        ),
    ],
)
def test_a_panel_is_said_with_how_far_down_it_runs(panel: Panel, words: str) -> None:
    """From a boot whose highest evaluated height is 14½ in: never down to where it begins."""
    assert str(panel_words(panel, 368.3, "in")) == words
