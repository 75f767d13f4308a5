"""How many heights a sheet asks for: by the way it is measured, and by what was read."""

from __future__ import annotations

import pytest

from fitcounter.desk.measuring.how_many_heights import depth_of, heights_of
from fitcounter.desk.measuring.sheet import READS
from fitcounter.desk.shop import Shop

HEIGHTS_MM = (150.0, 200.0, 250.0, 300.0, 350.0, 400.0)


@pytest.mark.parametrize(
    ("depth", "heights"),
    [("whole", HEIGHTS_MM), ("gap", (300, 350, 400)), ("three", (250, 350, 400))],
)
def test_a_depth_asks_for_some_of_the_shops_heights(depth: str, heights: tuple[float, ...]) -> None:
    assert heights_of(HEIGHTS_MM[::-1], depth) == heights
    assert heights_of(HEIGHTS_MM[:2], depth) == HEIGHTS_MM[:2]


@pytest.mark.parametrize("depth", ["gap", "three", "whole"])
def test_the_usual_shop_has_heights_for_each_depth(depth: str) -> None:
    usual = Shop().heights_mm
    assert set(heights_of(usual, depth)) <= set(usual)
    assert heights_of(usual, depth)[-1] == max(usual)


@pytest.mark.parametrize("target", READS)
def test_a_sheet_asks_as_usual_then_for_what_was_read_then_for_all(target: str) -> None:
    usual = "gap" if target in ("gap", "amount") else "three"
    assert depth_of(target, is_read=False, is_rough=False) == usual
    assert depth_of(target, is_read=True, is_rough=False) == "read"
    assert depth_of(target, is_read=True, is_rough=True) == "whole"
