"""Where one boot stands: what it is short by, how far one round may open it, what is said of it."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job
from support.measured_pair import measured_pair
from support.ticket_rows import make_job

from fitcounter.desk.assessment import standing as standings
from fitcounter.desk.assessment.standing import Standing
from fitcounter.fit.assessment.assess import case_of, read_job
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.assessment.verdict import judge
from fitcounter.store import fits, items
from fitcounter.store.database import Act, Store


def stands(amount: str = "25", boot: dict[str, Any] | None = None, **side: Any) -> Standing:
    """A supple boot of 400 mm that an amount is asked of at 300 mm."""
    asked = {"amounts": [{"height": "300", "amount": amount}], **side}
    read = read_job(job(asked, boot), ("left",))
    case = case_of(read, read.sides[0], HANDBOOK)
    return Standing(case, judge(case))


def test_a_boot_that_is_measured_stands_and_a_bag_does_not(store: Store, act: Act) -> None:
    _, fit_id = measured_pair(store, act)
    left, right = fits.boots(store, fit_id)
    here = standings.standing(store, left)
    assert here is not None
    assert (here.done, here.need_mm) == (False, pytest.approx(15.875))
    assert standings.standing(store, left) is here  # judged once for the same rows
    with store.write_tx():
        store.change("items", right.id, work="other")
    other = items.get(store, right.id)
    assert standings.standing(store, other) is None
    assert standings.as_measured(store, other) is not None
    unread = make_job(store, act, "Tobias")
    assert standings.standing(store, items.get(store, unread.left)) is None
    assert standings.standing(store, items.get(store, unread.bag)) is None


def test_one_round_may_open_a_tenth_of_the_leather_and_this_leather_a_sixth() -> None:
    bounds = stands().bounds_mm(None)
    assert set(bounds) == set(standings.LIMIT_WORDS) - ({"zip"} - set(bounds))
    assert bounds["round"] == pytest.approx(40)
    assert bounds["ceiling"] == pytest.approx(68)
    refused = stands(boot={"material": "coated"}).bounds_mm(None)
    assert set(refused.values()) == {0.0}


def test_an_opening_past_a_limit_is_said_with_the_number_and_one_within_it_is_not() -> None:
    boot = stands()
    most = min(boot.bounds_mm(None).values())
    assert standings.over_limit(boot, None, most, "in") == ""
    passed = standings.over_limit(boot, None, most + 1, "in")
    assert passed.startswith("This opens the boot ")
    assert passed.endswith(".")


def test_the_tape_is_to_read_the_next_opening_rounded_down() -> None:
    boot = stands()
    opening = boot.opening_mm(None)
    assert opening is not None
    aim = standings.planned_reading(boot, None, 400, "outside", "cm")
    assert aim == f"{int(400 + opening.opening_mm) / 10:.1f} cm"
    assert standings.planned_reading(boot, None, 200, "flat", "cm") != aim
    assert standings.planned_reading(stands("0"), None, 400, "outside", "in") == ""


def test_a_mark_is_held_against_the_nearest_height_that_was_reckoned() -> None:
    two = stands(amounts=[{"height": "200", "amount": "5"}, {"height": "300", "amount": "25"}])
    assert two.place_at(None).height_mm == 300
    assert two.place_at(198).height_mm == 200
    assert two.place_at(9999).height_mm == 300


def test_after_a_round_one_line_says_what_was_kept_and_before_it_none() -> None:
    assert standings.kept_sentence(stands(), "in") == ""
    read = {"before": "400", "on_tree": "424", "rested": "411", "hold_h": 24}
    said = standings.kept_sentence(stands(rounds=[read]), "cm")
    assert said.startswith("Kept 1.1 cm of 2.4 cm (estimate: about half).")
