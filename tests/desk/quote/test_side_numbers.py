"""Every number of one boot on the page of the answer."""

from __future__ import annotations

from datetime import date

from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.quote import verdict as quote_answer
from fitcounter.desk.quote.side_numbers import side_page
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def test_a_boots_heights_stand_from_the_top_down_with_the_tightest_among_them(
    store: Store, act: Act
) -> None:
    given = quote_answer.answer(store, shop.read(store), measured_pair(store, act)[1], TODAY)
    left, right = (side_page(given, side) for side in given.assessment.sides)

    assert (left.side, right.side) == ("left", "right")
    for page, side in zip((left, right), given.assessment.sides, strict=True):
        heights = [place.height_mm for place in page.heights]
        assert heights == sorted(heights, reverse=True)
        assert page.worst.height_mm == side.verdict.worst.height_mm
        assert page.worst.height_mm in heights
        assert not page.legs_read, "the pair was measured by its gap"


def test_the_bars_of_rounds_share_out_a_hundred_boots_and_mark_the_likeliest(
    store: Store, act: Act
) -> None:
    given = quote_answer.answer(store, shop.read(store), measured_pair(store, act)[1], TODAY)

    for side in given.assessment.sides:
        bars = side_page(given, side).bars
        assert sum(bar.of_100 for bar in bars) == 100
        assert [bar.of_100 for bar in bars if bar.most] == [max(bar.of_100 for bar in bars)]
        assert [bar.words for bar in bars if bar.of_100 == 0] == []


def test_what_a_boot_gains_round_after_round_never_grows_smaller(store: Store, act: Act) -> None:
    given = quote_answer.answer(store, shop.read(store), measured_pair(store, act)[1], TODAY)

    for side in given.assessment.sides:
        page = side_page(given, side)
        assert list(page.reach_mm) == sorted(page.reach_mm)
        assert page.reach_mm
        assert all(figure.source for figure in page.figures)
