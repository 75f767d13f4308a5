"""The drawing of a pair in words."""

from __future__ import annotations

from support.drawn_boots import SHORT, WIDE, boot, pair

from fitcounter.fit.drawings.labels import Label


def test_the_description_says_both_tightest_places_in_words() -> None:
    """Who cannot see the drawing is told where each boot is short, where it is tightest, and by how
    much, rounded up.
    """
    other = boot(-22, -19, 7, 31.8, 30.2, 8, tightest=266.7)
    drawing, _, _ = pair(SHORT, other)
    assert (
        drawing.description
        == "Left boot: short from about 8½ in to 14½ in. The tightest place is at 10½ in, short by"
        " 1⅛ in. Right boot: short from about 8½ in to 14½ in. The tightest place is at 10½ in,"
        " short by 1 5/16 in."
    )


def test_centimetres_are_said_where_the_shop_measures_in_them() -> None:
    """Figure, heights and words follow the shop's unit."""
    drawing, left, _ = pair(SHORT, SHORT, "cm")
    assert left.figure == Label(2.0, left.figure.y if left.figure else 0, "start", "2.9")
    assert left.unit.text == "cm"
    assert "26.7" in {label.text for label in drawing.heights}
    assert "tightest place is at 26.7 cm, short by 2.9 cm." in drawing.description


def test_words_call_short_only_what_is_beyond_the_tolerance() -> None:
    """An eighth and less is never chased: it is drawn, but the words leave it out."""
    drawing, _, _ = pair(boot(-9, 2.0, 3.0, 20, 18, 3.1, tightest=266.7), WIDE)
    assert drawing.description.startswith("Left boot: short from about 10½ in to 12½ in.")


def test_two_boots_that_are_wide_enough_say_so() -> None:
    """Nothing is short: the caption has no dashed line to explain."""
    drawing, _, _ = pair(WIDE, WIDE)
    assert drawing.caption == "Wide enough wherever they were measured."
