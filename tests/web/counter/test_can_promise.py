"""The question from Today: asked without a ticket, answered above what was typed."""

from __future__ import annotations

import re

from support.bench_cast import Pair
from support.cast import Counter
from support.counter_forms import fresh


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


def test_the_trees_are_kept_from_there_and_new_job_begins_with_what_was_asked(
    counter: Counter, boots: Pair
):
    ask = {"leather": "goat", "short": "3/8", "sides": "left", "needed": "", "rush": "y"}
    page = counter.get("/promise", query_string=ask).text
    assert re.search(r"Rush job</dt>\s*<dd>\$25", page)
    assert counter.post("/promise", submission_id=fresh(), **ask, name="").status_code == 422
    kept = counter.post("/promise", submission_id=fresh(), **ask, name="Ada Quill")
    assert kept.headers["Location"].endswith("/bench/plan#p-slot")
    plan = counter.get("/bench/plan").text
    assert "Kept until Wed, Mar 18." in plan
    assert 'href="/new?slot=1"' in plan
    new = counter.get("/new?slot=1").text
    assert 'value="Ada Quill"' in new
    assert '<option selected value="goat">' in new
    assert re.search(r'name="rush"[^>]*checked|checked[^>]*name="rush"', new)
    assert 'name="slot" value="1"' in new
    assert 'name="slot"' not in counter.get("/new?slot=99").text
