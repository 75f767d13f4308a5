"""Calibration of a tree: settings, points from the tape and from boots, pads."""

from __future__ import annotations

import pytest

from fitcounter.errors import BadInput
from fitcounter.fit.trees.calibration import CalibrationPoint, Scale, girths_of, pads_of


def tape(share: float, height_mm: float, girth_mm: float, pads: str = "") -> CalibrationPoint:
    return CalibrationPoint(share, height_mm, girth_mm, pads, "tape")


def boot(share: float, height_mm: float, girth_mm: float) -> CalibrationPoint:
    return CalibrationPoint(share, height_mm, girth_mm, "", "boot")


@pytest.mark.parametrize(
    ("scale", "setting", "share"),
    [
        (Scale("turns", 0, 15), 6, 0.4),
        (Scale("turns", 2, 12), 2, 0.0),
        (Scale("percent", 0, 100), 100, 1.0),
        (Scale("marks", 9, 1), 3, 0.75),
    ],
)
def test_a_setting_becomes_a_share_of_the_way_and_back(
    scale: Scale, setting: float, share: float
) -> None:
    """Turns, per cent, and wedge marks that count down as the wedge goes in."""
    assert scale.share(setting) == pytest.approx(share)
    assert scale.setting(share) == pytest.approx(setting)


@pytest.mark.parametrize("setting", [-0.5, 15.5])
def test_a_setting_past_either_end_is_refused(setting: float) -> None:
    """The sentence says how far the tree goes."""
    with pytest.raises(BadInput, match="goes from 0 to 15 turns") as caught:
        Scale("turns", 0, 15).share(setting)

    assert (caught.value.field, caught.value.typed) == ("setting", f"{setting:g}")


def test_a_scale_with_both_ends_the_same_is_refused() -> None:
    """It could not be turned at all."""
    with pytest.raises(BadInput, match="two different figures"):
        Scale("turns", 4, 4)


def test_two_heights_taped_closed_and_open_make_a_measured_tree() -> None:
    """Between them straight, in height and in setting: half way up and half way open is the mean of
    all four.
    """
    girths = girths_of(
        [tape(0, 100, 240), tape(1, 100, 280), tape(0, 300, 300), tape(1, 300, 360)], ""
    )

    assert girths is not None
    assert girths.span == (100, 300)
    assert girths.at(200, 0.5) == pytest.approx(295)
    assert girths.at(300, 1) == pytest.approx(360)


def test_on_tree_readings_of_a_round_turned_up_measure_the_tree_at_their_mark() -> None:
    """Read at 5 and 10 of 20 turns at two marks: the line through them gives closed and open."""
    girths = girths_of(
        [boot(0.5, 250, 340), boot(0.7, 250, 348), boot(0.25, 350, 350), boot(0.5, 350, 365)], ""
    )

    assert girths is not None
    assert (girths.at(250, 0), girths.at(250, 1)) == (pytest.approx(320), pytest.approx(360))
    assert (girths.at(350, 0), girths.at(350, 1)) == (pytest.approx(335), pytest.approx(395))


def test_more_readings_are_fitted_by_least_squares() -> None:
    """0, 1 and 2 fifths of the way at 300, 313 and 320: slope 50 a whole way, mean 311 at one fifth
    (worked out by hand).
    """
    at_one_height = [boot(0, 250, 300), boot(0.2, 250, 313), boot(0.4, 250, 320)]

    girths = girths_of([*at_one_height, tape(0, 350, 340), tape(1, 350, 380)], "")

    assert girths is not None
    assert girths.at(250, 0) == pytest.approx(301)
    assert girths.at(250, 1) == pytest.approx(351)


def test_the_tape_on_the_bare_tree_is_believed_before_boots() -> None:
    """At a height taped closed and open a boot's reading does not count; where the tape read one
    setting only, it does.
    """
    taped = [tape(0, 250, 300), tape(1, 250, 340), tape(0, 350, 340)]

    girths = girths_of([*taped, boot(0.5, 250, 333), boot(0.5, 350, 365)], "")

    assert girths is not None
    assert girths.at(250, 0.5) == pytest.approx(320)
    assert girths.at(350, 1) == pytest.approx(390)


def test_readings_within_five_millimetres_are_one_height() -> None:
    """Taped at 248 closed and 252 open: one height, 250; 253 is still the same, 254 another."""
    near = girths_of(
        [tape(0, 248, 300), tape(1, 252, 340), tape(0, 350, 340), tape(1, 350, 380)], ""
    )
    just = girths_of(
        [tape(0, 248, 300), tape(1, 253, 340), tape(0, 350, 340), tape(1, 350, 380)], ""
    )
    apart = girths_of(
        [tape(0, 248, 300), tape(1, 254, 340), tape(0, 350, 340), tape(1, 350, 380)], ""
    )

    assert near is not None
    assert near.span == (250, 350)
    assert just is not None
    assert just.span == (250.5, 350)
    assert apart is None


@pytest.mark.parametrize(
    "few",
    [
        [],
        [tape(0, 250, 300), tape(1, 250, 340)],
        [tape(0, 250, 300), tape(0, 350, 340)],
        [boot(0.4, 250, 300), boot(0.55, 250, 310), tape(0, 350, 340), tape(1, 350, 380)],
        [tape(0, 250, 300), tape(1, 250, 299), tape(0, 350, 340), tape(1, 350, 380)],
        [tape(0, 250, 300), tape(1, 250, 300), tape(0, 350, 340), tape(1, 350, 380)],
    ],
)
def test_a_tree_is_not_measured_by_too_little(few: list[CalibrationPoint]) -> None:
    """Nothing; one height; one setting; settings too close together; a girth that shrinks on
    opening, or stays.
    """
    assert girths_of(few, "") is None


def test_a_tree_that_opens_by_a_hair_at_a_height_is_measured_there() -> None:
    """Half a millimetre in all."""
    girths = girths_of(
        [tape(0, 250, 300), tape(1, 250, 300.5), tape(0, 350, 340), tape(1, 350, 380)], ""
    )
    assert girths is not None
    assert (girths.at(250, 0), girths.at(250, 1)) == (300, 300.5)


def test_pads_make_it_another_tree() -> None:
    """Readings with pads say nothing about the bare tree."""
    padded = [
        tape(0, 250, 310, "thick"),
        tape(1, 250, 350, "thick"),
        tape(0, 350, 350, "thick"),
        tape(1, 350, 390, "thick"),
    ]
    bare = [tape(0, 250, 300), tape(1, 250, 340)]

    assert girths_of([*padded, *bare], "") is None
    assert girths_of([*padded, *bare], "thick") is not None
    assert pads_of([*padded, *bare]) == ("", "thick")


def test_a_tree_set_higher_keeps_its_girths_and_moves_its_heights() -> None:
    points = [
        CalibrationPoint(share, height, girth, "", "tape")
        for share, height, girth in ((0, 100, 240), (1, 100, 280), (0, 300, 300), (1, 300, 340))
    ]
    tree = girths_of(points, "")
    assert tree is not None
    higher = tree.shifted(25)
    assert higher.span == (125, 325)
    assert [higher.at(height + 25, 0.5) for height in (100, 200, 300)] == [
        tree.at(height, 0.5) for height in (100, 200, 300)
    ]
    assert tree.shifted(0) is tree
