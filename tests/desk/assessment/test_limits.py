"""The shop's own limits beside the handbook's, and the answer to who asked for no number."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.assess_jobs import job, shaft

from fitcounter.desk.assessment import limits
from fitcounter.desk.settings import leather_limits
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit.assessment.assess import read_job
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.store import settings
from fitcounter.store.database import Act, Store

CALF = "supple-full-grain"


def test_a_figure_of_the_shops_takes_the_handbooks_place_and_says_so(
    store: Store, act: Act
) -> None:
    leather_limits.keep(store, act, Shop(), CALF, {"ceiling": "12"})
    own = limits.leather_of(store, CALF)
    assert own.ceiling == pytest.approx(0.12)
    assert own.reason.endswith(f"; {limits.OWN_FIGURES}")
    assert replace(own, ceiling=0.17, reason="") == replace(LEATHERS[CALF], reason="")
    assert limits.leather_of(store, "goat") == LEATHERS["goat"]


@pytest.mark.parametrize(
    "held", [{"ceiling": 9.0}, {"ceiling": "wide"}, {"unknown": 0.1}, {"ceiling": None}, ["x"], 3]
)
def test_a_stored_value_that_cannot_be_is_passed_over(store: Store, held: object) -> None:
    with store.write_tx():
        settings.put(store, f"leather:{CALF}", held)
    assert limits.leather_of(store, CALF) == LEATHERS[CALF]


def test_as_far_as_is_safe_asks_for_the_whole_ceiling_at_every_height_that_was_read() -> None:
    """Of 400 mm, a sixth and a bit: supple full grain may grow 17 %."""
    read = read_job(job({"boot": shaft(("100", "400"), ("400", "380"))}))
    asked = limits.as_far_as_safe(read, HANDBOOK).sides[0]
    assert asked.target == "amount"
    assert [entry.height.float_mm for entry in asked.amounts] == [100, 400]
    assert [entry.amount_mm for entry in asked.amounts] == pytest.approx([68.0, 64.6])


def test_heights_told_from_the_ground_are_asked_for_above_the_heel_seat() -> None:
    boot = {"heights_from": "ground", "seat_mm": 40}
    asked = limits.as_far_as_safe(read_job(job(boot=boot)), HANDBOOK).sides[0]
    assert [entry.height.float_mm for entry in asked.amounts] == [60, 360]


def test_a_job_is_answered_by_the_shops_limits_and_refused_where_it_cannot_be(
    store: Store, act: Act
) -> None:
    usual = limits.assessed(store, read_job(job())).sides[0]
    leather_limits.keep(store, act, Shop(), CALF, {"routine": "1", "round": "1", "ceiling": "1"})
    own = limits.assessed(store, read_job(job())).sides[0]
    assert (usual.verdict.tier, own.verdict.tier) == ("routine", "panel")
    apart = read_job(job({"amounts": [{"height": "900", "amount": "10"}]}))
    with pytest.raises(BadInput):
        limits.assessed(store, apart)
