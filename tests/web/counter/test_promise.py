"""The question from Today: asked without a ticket, answered above what was typed."""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Counter


def test_today_leads_to_it_and_the_answer_stands_above_what_was_typed(
    counter: Counter, boots: Pair
):
    assert 'href="/promise"' in counter.get("/").text
    assert "Yes" not in counter.get("/promise").text.partition("<main")[2]
    page = counter.get("/promise?leather=full-grain&short=3/8&sides=pair&needed=2026-03-24").text
    assert "Yes, but not by Tue, Mar 24: could be ready " in page
    assert "of 100 such boots" in page
    assert 'value="3/8"' in page
    assert "What it would take" in page


def test_what_cannot_be_read_is_said_and_stays_typed(counter: Counter, boots: Pair):
    refused = counter.get("/promise?leather=full-grain&short=a+bit&sides=pair&needed=")
    assert refused.status_code == 422
    assert 'value="a bit"' in refused.text
