"""What an opening by a tree may not do: leather limits on the leather now, zip and seams at every
height, and room that is no gain.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.limits import AtHeight, PullLimit, Wanted, too_much

NOW = Profile.straight([(100, 300), (400, 300)])
WANTED = Wanted(
    side="left",
    at_mm=400,
    girth_mm=320,
    boot=NOW,
    first=NOW,
    leather0_mm=lambda _: 200.0,
    round_share=0.10,
    ceiling_share=0.15,
    kept=0.5,
    need=Profile.straight([(100, 40), (400, 40)]),
    unit="mm",
)


def opened(mm: float, height: float = 200.0, looseness: float | None = -5.0) -> AtHeight:
    return AtHeight(height, mm, mm / 2, looseness)


def test_one_round_is_limited_on_the_leather_as_it_is_now() -> None:
    """A boot that has grown 20 mm may be opened by a tenth of 220, not of 200."""
    assert "more than one round may" in too_much([opened(20.1)], WANTED)
    assert too_much([opened(20)], WANTED) == ""
    grown = replace(WANTED, first=Profile.straight([(100, 280), (400, 280)]), ceiling_share=0.5)
    assert too_much([opened(22)], grown) == ""
    assert "more than one round may" in too_much([opened(22.1)], grown)


def test_the_ceiling_counts_from_the_boot_as_first_brought_in() -> None:
    """15 per cent of 200, of which 20 mm are used up."""
    grown = replace(WANTED, first=Profile.straight([(100, 280), (400, 280)]))
    assert too_much([opened(10)], grown) == ""
    assert "past the most its leather may ever" in too_much([opened(10.1)], grown)
    assert too_much([opened(0)], replace(grown, ceiling_share=0.05)) == ""


@pytest.mark.parametrize(
    ("height", "held"), [(149.9, True), (150, False), (250, False), (251, True)]
)
def test_a_zip_is_not_pulled_past_what_it_holds_where_it_spans(height: float, held: bool) -> None:
    """Ends included; its own opening there over the leather there."""
    zipped = replace(WANTED, holds=(PullLimit("zip", 0.06, 150, 250),))
    found = too_much([opened(12.1, height), opened(4, 300)], zipped)
    assert (found == "") is held
    if not held:
        assert "more than its zipper holds" in found
    assert too_much([opened(12, 200)], zipped) == ""


def test_the_worst_height_past_a_limit_is_the_one_named_with_its_excess() -> None:
    """20 per cent of 200 held by the zip: opened 41 and 43, it passes by 1 and 3."""
    wide = replace(WANTED, round_share=0.5, ceiling_share=0.5, holds=(PullLimit("zip", 0.2),))
    assert too_much([opened(43, 300), opened(41, 350), opened(10, 400)], wide) == (
        "At 300 mm the boot would open 3 mm more than its zipper holds."
    )


def test_seams_hold_at_every_height() -> None:
    """They have no span."""
    sewn = replace(WANTED, holds=(PullLimit("seam", 0.05),))
    assert "more than its seams hold" in too_much([opened(10.1, 400)], sewn)
    assert too_much([opened(10, 400)], sewn) == ""


def test_what_is_left_looser_than_wanted_is_named_last() -> None:
    """Over 6 mm at the worst height."""
    assert too_much([opened(5, 200, 6.0)], WANTED) == ""
    assert "looser than wanted at 300 mm" in too_much(
        [opened(5, 200, 6.1), opened(5, 300, 7.0)], WANTED
    )
    assert too_much([opened(5, 200, None)], WANTED) == ""
