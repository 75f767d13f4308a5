"""The square a camera reads: its modules, its size on paper, and what is too long for it."""

from __future__ import annotations

import pytest

from fitcounter.errors import BadInput
from fitcounter.papers import qr_code

ADDRESS = "HTTPS://B.EXAMPLE/T/7K3M9QXWE"


def test_runs_of_dark_modules_are_bars_inside_the_quiet_zone() -> None:
    dark = ((True, True, False), (False, False, True))
    quiet = qr_code.QUIET
    assert qr_code.strokes(dark) == f"M{quiet} {quiet}h2v1h-2zM{quiet + 2} {quiet + 1}h1v1h-1z"


def test_a_code_is_as_wide_as_its_modules_with_white_on_both_sides() -> None:
    count = len(qr_code.modules(ADDRESS))
    assert qr_code.side_mm(ADDRESS, 1.0) == count + 2 * qr_code.QUIET
    drawn = qr_code.square(ADDRESS, title="This boot", module_mm=0.5)
    assert f'width="{(count + 8) * 0.5:.2f}mm"' in drawn
    assert f'viewBox="0 0 {count + 8} {count + 8}"' in drawn


def test_capitals_take_fewer_modules_than_small_letters() -> None:
    assert len(qr_code.modules(ADDRESS)) < len(qr_code.modules(ADDRESS.lower()))


def test_a_title_from_outside_cannot_leave_its_place() -> None:
    drawn = qr_code.square(ADDRESS, title="</title><script>\u202e")
    assert "<title>&lt;/title&gt;&lt;script&gt;</title>" in drawn


def test_a_text_that_needs_a_larger_square_than_there_is_room_for_is_refused() -> None:
    count = len(qr_code.modules(ADDRESS))
    assert qr_code.square(ADDRESS, title="", most_modules=count)
    with pytest.raises(BadInput) as refused:
        qr_code.square(ADDRESS, title="", most_modules=count - 1)
    assert refused.value.typed == ADDRESS
