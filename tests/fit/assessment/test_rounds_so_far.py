"""A boot with rounds behind it: how far it has grown at each height, and the next opening."""

from __future__ import annotations

import math
from typing import Any

import pytest
from support.assess_jobs import job, left


def a_round(before: str, on_tree: str, rested: str | None, **more: Any) -> dict[str, Any]:
    return {"before": before, "on_tree": on_tree, "rested": rested, **more}


def test_rounds_raise_the_girth_where_it_was_short_in_proportion() -> None:
    """At other heights by their share of the first need, nothing where there was none; strain_total
    counts from the first.
    """
    amounts = [{"height": "200", "amount": "0"}, {"height": "300", "amount": "20"}]
    side = left(job({"amounts": amounts, "rounds": [a_round("420", "440", "428")]}))
    at = {entry["height_mm"]: entry for entry in side["heights"]}
    assert [at[height]["need_mm"] for height in (200.0, 250.0, 300.0)] == pytest.approx(
        [0, 10 - 4, 20 - 8]
    )
    assert [at[height]["inside_mm"] for height in (200.0, 250.0, 300.0)] == pytest.approx(
        [400, 404, 408]
    )
    assert side["worst"]["strain"] == pytest.approx(12 / 400)
    assert side["worst"]["strain_total"] == pytest.approx(20 / 400)
    assert side["kept"]["rounds"] == 1
    assert side["next"]["girth_mm"] == pytest.approx(408 + side["next"]["opening_mm"])


def test_a_boot_that_was_never_short_grows_at_its_own_place_only() -> None:
    """clamp(need0(h)/need0(tightest0)) is 0 where the need is below 0."""
    amounts = [{"height": "200", "amount": "1"}, {"height": "300", "amount": "0"}]
    side = left(job({"amounts": amounts, "rounds": [a_round("400", "420", "406")]}))
    at = {entry["height_mm"]: entry["inside_mm"] for entry in side["heights"]}
    assert (at[200.0], at[300.0]) == (406.0, 400.0)


def test_a_running_round_is_the_next_opening() -> None:
    """limited_by running, with its own hold and preparation; it tells nothing of what is kept
    yet.
    """
    rounds = [a_round("400", "414", "407"), a_round("406", "418", None, hold_h=48, prepared="dry")]
    side = left(job({"amounts": [{"height": "300", "amount": "25"}], "rounds": rounds}))
    kept = (side["kept"]["mean"] + 0.12 * math.log10(2)) * 0.6 * 0.95
    assert side["next"]["limited_by"] == "running"
    assert (side["next"]["opening_mm"], side["next"]["girth_mm"]) == pytest.approx(
        (12.0, 407 + 12.0)
    )
    assert side["next"]["expected_gain_mm"] == pytest.approx(12 * kept)
    assert side["reach_mm"][0] == pytest.approx(12 * kept)
    assert side["kept"]["rounds"] == 1
    assert side["load"]["strain"] == pytest.approx(12 / 407)
