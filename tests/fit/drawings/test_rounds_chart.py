"""The chart of the rounds: rings do not count, double strokes do, and the words say the same."""

from __future__ import annotations

import pytest

from fitcounter.errors import Sentence
from fitcounter.fit.drawings.labels import Label
from fitcounter.fit.drawings.rounds_chart import rounds_drawing
from fitcounter.fit.drawings.rounds_words import RoundReadings

INCH = 25.4
TWO = [
    RoundReadings(14.375 * INCH, 15.0625 * INCH, 14.8125 * INCH),
    RoundReadings(14.8125 * INCH, 15.5625 * INCH, None),
]


def test_every_reading_on_the_tree_is_a_ring_and_every_one_that_counts_a_double_stroke() -> None:
    """Two rounds, one rested: two rings, and strokes for the first reading and the rested one."""
    chart = rounds_drawing(TWO, 15.5 * INCH, unit="in")
    assert len(chart.rings) == 2
    assert chart.marks.count("M") == 2
    assert [label.text for label in chart.under] == ["round 1", "round 2"]


def test_a_wider_girth_stands_higher_and_the_wanted_line_at_its_own_height() -> None:
    """The opening past the wanted girth is drawn above the dashed line, the rested reading below
    it.
    """
    chart = rounds_drawing(TWO, 15.5 * INCH, unit="in")
    wanted_y = float(chart.wanted.removeprefix("M0 ").split("H")[0])
    assert chart.rings[1][1] < wanted_y < chart.rings[0][1]
    assert chart.need, "what is missing is hatched"


def test_a_round_still_resting_is_dotted_and_said_to_be() -> None:
    """The rest to come is a guess of direction only, so it is dotted; the words say not yet
    rested.
    """
    chart = rounds_drawing(TWO, 15.5 * INCH, unit="in")
    assert chart.to_come.count("M") == 1
    assert (
        chart.description
        == "Wanted 15½ in. Round 1: before 14⅜ in, on the tree 15 1/16 in, rested 14 13/16 in. "
        "Round 2: on the tree 15 9/16 in, not yet rested."
    )


def test_every_reading_that_counts_carries_its_figure_and_the_key_no_amount() -> None:
    """What is missing is said once on the page, at its tightest place; the mark may be another."""
    assert "in" not in rounds_drawing(TWO, 15.5 * INCH, unit="in").caption.split()
    twice = rounds_drawing(
        [TWO[0], RoundReadings(14.8125 * INCH, 15.5625 * INCH, 15.1875 * INCH)],
        15.5 * INCH,
        unit="in",
    )
    assert [label.text for label in twice.strong] == [
        "14⅜",
        "14",
        "15",
    ]
    done = rounds_drawing([RoundReadings(370, 400, 395)], 394, unit="cm")
    assert done.need == ""


def test_a_round_without_readings_is_said_and_not_drawn() -> None:
    """A skipped step is not recorded and never invented."""
    chart = rounds_drawing(
        [RoundReadings(None, None, None), RoundReadings(None, 398, 390)], 394, unit="cm"
    )
    alone = rounds_drawing([RoundReadings(None, 398, None)], 394, unit="cm")
    assert (alone.up, alone.back, alone.to_come) == ("", "", "")
    assert (
        "Round 1: no reading, not yet rested. Round 2: on the tree 39.8 cm, rested 39.0 cm."
        in chart.description
    )
    assert len(chart.rings) == 1
    assert chart.up == ""


def test_nothing_read_yet_leaves_only_the_wanted_line() -> None:
    """A first round without any reading still has its goal."""
    chart = rounds_drawing([RoundReadings(None, None, None)], 394, unit="cm")
    assert chart.rings == ()
    assert chart.marks == ""
    assert chart.need == ""


def test_many_rounds_stay_on_the_page_and_only_the_ends_carry_figures() -> None:
    """Eight rounds are narrow: first and last reading are written, the rest are drawn."""
    many = [RoundReadings(360 + 3 * i, 372 + 3 * i, 363 + 3 * i) for i in range(8)]
    chart = rounds_drawing(many, 394, unit="cm")
    assert len(chart.rings) == 8
    assert max(x for x, _ in chart.rings) < chart.width_px
    assert len(chart.strong) == 2
    assert len(chart.light) == 1
    assert chart.under[0].text == "1"


@pytest.mark.parametrize(
    ("girths", "wanted"),
    [
        ([(376, 392, 383), (383, 398, 391)], 394),
        ([(370, 385, 372), (372, 385, 378), (378, 389, 385)], 385),
        ([(370, 391, 386)], 371),
        ([(370, 392, 391)], 391),
    ],
)
def test_the_wanted_girth_stands_beside_its_line_and_on_no_other_figure(
    girths: list[tuple[int, int, int]], wanted: int
) -> None:
    """By the room that figures of seven pixels take; a reading on the tree and a rested one may
    stand at the line themselves.
    """
    chart = rounds_drawing([RoundReadings(*one) for one in girths], wanted, unit="cm")
    line = float(chart.wanted.removeprefix("M0 ").split("H")[0])
    assert 0 < abs(chart.wanted_label.y - line) <= 16
    left, right = room(chart.wanted_label)
    for other in (*chart.light, *chart.strong):
        start, end = room(other)
        beside = end <= left or right <= start
        assert beside or abs(other.y - chart.wanted_label.y) >= 12, (chart.wanted_label, other)


def test_the_word_beside_the_line_is_a_message() -> None:
    """So that it is said in the language of the page."""
    chart = rounds_drawing([RoundReadings(370, 391, 386)], 371, unit="cm")

    assert isinstance(chart.wanted_label.before, Sentence)
    assert (chart.wanted_label.before, chart.wanted_label.text) == ("wanted", "37.1")


def room(label: Label) -> tuple[float, float]:
    """From where to where a label reaches."""
    width = 7 * len(f"{label.before} {label.text}".strip())
    left = label.x - {"start": 0, "middle": width / 2, "end": width}[label.anchor]
    return left, left + width
