"""Next opening and reach: worked cases, and limits one at a time."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.published_cases import Case, cases

from fitcounter.fit.assessment import opening_ahead
from fitcounter.fit.assessment.hold_choices import rounds_on_one_tree
from fitcounter.fit.assessment.kept_fraction import Kept
from fitcounter.fit.assessment.opening_ahead import Running, Stand

STAND = Stand(
    first_mm=380.0,
    leather_mm=330.0,
    girth_mm=380.0,
    need_mm=15.0,
    need_u_mm=2.0,
    round_strain=0.06,
    ceiling_strain=0.12,
    zip_strain=None,
    seam_strain=0.2,
    tree_mm=None,
    kept=Kept(0.5, 0.15),
    hold_h=24.0,
)


@pytest.mark.parametrize(
    ("changed", "limited_by", "opening"),
    [
        ({}, "round", 0.06 * 330),
        ({"need_mm": 5.0}, "need", 5 / 0.5),
        ({"need_mm": 1.0}, "need", 2.0),
        ({"need_mm": -1.0}, "need", 0.0),
        ({"ceiling_strain": 0.03}, "ceiling", 0.03 * 330),
        ({"zip_strain": 0.02}, "zip", 0.02 * 330),
        ({"seam_strain": 0.01}, "seam", 0.01 * 330),
        ({"tree_mm": 385.0}, "tree", 5.0),
        ({"tree_mm": 370.0}, "tree", 0.0),
        ({"girth_mm": 390.0, "ceiling_strain": 0.06}, "ceiling", 0.06 * 330 - 10),
        ({"girth_mm": 390.0, "ceiling_strain": 0.02}, "ceiling", 0.0),
        ({"girth_mm": 390.0, "need_mm": 30.0}, "round", 0.06 * 340),
        ({"girth_mm": 390.0, "need_mm": 30.0, "zip_strain": 0.05}, "zip", 0.05 * 340),
    ],
)
def test_the_next_opening_is_the_smallest_of_its_limits(
    changed: dict[str, float], limited_by: str, opening: float
) -> None:
    """Round, zip and seam on the leather now; ceiling on the leather as first brought in; never
    below the girth now.
    """
    stand = replace(STAND, **changed)
    found = opening_ahead.next_opening(stand)
    assert found.limited_by == limited_by
    assert found.opening_mm == pytest.approx(opening, abs=1e-9)
    assert found.girth_mm == pytest.approx(stand.girth_mm + opening)
    assert found.expected_gain_mm == pytest.approx(0.5 * opening)


def test_limits_that_tie_are_named_in_the_order_of_the_book() -> None:
    """round, ceiling, zip, seam, need, tree; under 1e-6 apart is a tie."""
    girth = 380 + 0.06 * 330
    tied = replace(
        STAND,
        ceiling_strain=0.06,
        zip_strain=0.06,
        seam_strain=0.06,
        need_mm=0.06 * 330 * 0.5,
        tree_mm=girth - 5e-7,
    )
    names = []
    for drop in (
        {},
        {"round_strain": 0.5},
        {"ceiling_strain": 0.5},
        {"zip_strain": None},
        {"seam_strain": 0.5},
        {"need_mm": 99.0},
    ):
        tied = replace(tied, **drop)
        names.append(opening_ahead.next_opening(tied).limited_by)
    assert names == ["round", "ceiling", "zip", "seam", "need", "tree"]
    assert opening_ahead.next_opening(replace(STAND, tree_mm=girth - 2e-6)).limited_by == "tree"


def test_a_later_round_of_the_boots_life_keeps_less() -> None:
    """Unread rounds are lived too."""
    assert opening_ahead.next_opening(replace(STAND, lived=2)).kept == pytest.approx(0.5 * 0.95**2)


def test_a_running_round_is_the_first_of_those_to_come() -> None:
    """Its own opening, hold and preparation; the rounds after it are conditioned, at the asked
    hold.
    """
    stand = replace(STAND, lived=2, running=Running(12.0, 240.0, True), hold_h=24.0)
    opening = opening_ahead.next_opening(stand)
    assert (opening.limited_by, opening.opening_mm, opening.girth_mm) == ("running", 12.0, 392.0)
    assert opening.kept == pytest.approx(0.62 * 0.6 * 0.95)
    first = 12 * opening.kept
    second = first + 0.06 * (330 + first) * 0.5 * 0.95**2
    third = second + 0.5 * 0.95**3 * min(0.06 * (330 + second), 380 + 0.12 * 330 - (380 + second))
    assert opening_ahead.reach_mm(stand, 3) == pytest.approx([first, second, third])


def test_reach_leaves_the_need_aside() -> None:
    """Even a boot that is short by little could grow by what its leather gives."""
    reach = opening_ahead.reach_mm(replace(STAND, need_mm=4.0), 2)
    assert reach == pytest.approx([9.9, 9.9 + 0.06 * (330 + 9.9) * 0.5 * 0.95])
    assert opening_ahead.reach_mm(replace(STAND, tree_mm=370.0), 2) == [0.0, 0.0]


@pytest.mark.parametrize("case", cases("closed_form_rounds.json"))
def test_with_a_constant_tree_the_rounds_are_those_of_the_closed_form(case: Case) -> None:
    """And the girths on the way are those of the recurrence; a tree no larger than the wanted girth
    never gets there.
    """
    given = case.given
    assert (
        rounds_on_one_tree(given["first_mm"], given["wanted_mm"], given["tree_mm"], given["kept"])
        == case.expected
    )
    girth, girths = given["first_mm"], []
    for _ in range(case.expected or 0):
        girth += given["kept"] * (given["tree_mm"] - girth)
        girths.append(girth)
    assert girths == pytest.approx(case.more["girths_mm"])
    if case.expected:
        assert girths[-1] >= given["wanted_mm"]
        assert all(earlier < given["wanted_mm"] for earlier in girths[:-1])


def test_the_forecast_meets_the_closed_form_where_nothing_stiffens() -> None:
    """One round of the forecast, tree-limited and sure, gains what the recurrence says."""
    sure = replace(
        STAND,
        tree_mm=400.0,
        round_strain=1.0,
        ceiling_strain=1.0,
        seam_strain=1.0,
        kept=Kept(0.45, 0.1),
    )
    assert opening_ahead.reach_mm(sure, 1) == pytest.approx([9.0])
