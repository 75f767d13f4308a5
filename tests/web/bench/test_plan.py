"""The bench plan as its page says it: days, who is late and why, what a promised day would cost."""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair, hidden, new_id, pair, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store import plans
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_the_plan_page_says_each_boots_days_and_draws_the_trees(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Before it was kept the page says so; afterwards every boot has its days in words and its bars
    in the drawing.
    """
    assert "Something changed since this was planned" in bench.get("/bench/plan").text
    assert bench.post("/bench/plan", submission_id=new_id()).status_code == 303

    page = bench.get("/bench/plan").text
    assert "Something changed" not in page
    rows, _, every = page.partition("Every step of each boot")
    assert re.search(r"<span>\w+, \w+ \d+: [a-z ]+\d?, then \d+ more steps?</span>", rows), (
        "a row says the next step alone"
    )
    assert every.count("put on tree 4") + every.count("put on tree 5") == len(plans.bookings(store))
    assert len(re.findall(r'class="t-planned"', page)) == len(plans.bookings(store))
    assert "Every job is ready on its promised day" in page


def test_who_becomes_late_is_counted_at_agreeing_and_named_at_the_bench(
    bench: Counter, counter: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """A pair that must go first takes the only trees: the counter's page says how many, the bench's
    says whose and by how much.
    """
    bench.get("/bench/plan")
    assert bench.post("/bench/plan", submission_id=new_id()).status_code == 303
    ready = store.value("SELECT max(ready_day) FROM bench_days")
    new = pair(store, Act(clock.now), 42, "counter", "Tobias Renwick")
    with store.write_tx():
        store.db.execute(
            "UPDATE tickets SET promise_day = date(?, '+1 day') WHERE id = ?",
            [ready, boots.ticket_id],
        )
        store.db.execute(
            "UPDATE items SET promised_day = ? WHERE ticket_id = ?", [ready, new.ticket_id]
        )
    for page in (f"/fits/{new.fit_id}/verdict", f"/tickets/{new.ticket_id}/agree"):
        shown = counter.get(page).text
        assert "This makes 1 other pair late" in shown, page
        assert "Okafor-Lind" not in shown, page

    page = bench.get(f"/bench/plan?pair={new.fit_id}").text
    assert "Late if Tobias Renwick agrees" in page
    assert re.search(
        r"Late if Tobias Renwick agrees .{1,400}<strong>Marisol Okafor-Lind</strong><span>Promised"
        r" .{10,40}, would be ready ",
        page,
        re.DOTALL,
    )
    with store.write_tx():
        store.db.execute(
            "UPDATE tickets SET promise_day = '2026-09-01' WHERE id = ?", [boots.ticket_id]
        )
    assert "becomes late by this" not in counter.get(f"/fits/{new.fit_id}/verdict").text
    assert "No other pair becomes late." in bench.get(f"/bench/plan?pair={new.fit_id}").text
    assert bench.get("/bench/plan?pair=999").status_code == 404


def test_a_promised_day_that_would_move_is_asked_before_it_is_saved(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Away over the only time there is: the question names the pair; the same form with the answer
    saves it.
    """
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = '2026-04-18'")
    bench.get("/bench/plan")
    answer = bench.post(
        "/bench/away",
        submission_id=new_id(),
        from_day="2026-03-18",
        to_day="2026-04-10",
        why="fair",
    )
    assert answer.status_code == 422
    assert "41 Marisol Okafor-Lind" in answer.text
    assert plans.closures(store) == []

    typed = hidden(answer.text)
    assert typed["why"] == "fair"
    assert bench.post("/bench/away", **typed, confirmed="1").status_code == 303
    assert [(one.from_day, one.to_day) for one in plans.closures(store)] == [
        ("2026-03-18", "2026-04-10")
    ]
