"""While they're here: the job that goes with what we saw, offered once, where the price is
agreed.
"""

from __future__ import annotations

from support.cast import Counter
from support.counter_forms import agreement, errors, measured

from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.desk.quote.extras import JOBS
from fitcounter.store import bills, items, works
from fitcounter.store.database import Store

TIPS = {"extra_heel-worn": "y", "sum_heel-worn": "18"}


def with_worn_heels(counter: Counter) -> None:
    measured(counter, nothing_seen="", seen_left=["heel-worn"], seen_right=["heel-worn", "scuffs"])


def test_a_worn_heel_offers_heel_tips_for_both_boots_and_says_how_far_to_trust_it(counter: Counter):
    with_worn_heels(counter)
    page = counter.get("/tickets/1/agree").text
    assert "New heel tips, both boots" in page
    assert "Scuffs recolored, right boot" in page
    assert "Heel worn. Before the heel itself wears down." in page
    assert "Common practice in the trade, without a source" in page


def test_nothing_seen_offers_nothing(counter: Counter):
    measured(counter)
    assert "While they" not in counter.get("/tickets/1/agree").text


def test_a_yes_is_a_price_line_and_a_job_on_each_boot_and_a_no_is_nothing(
    counter: Counter, store: Store
):
    with_worn_heels(counter)
    assert counter.post("/tickets/1/agree", **agreement(counter, 1, **TIPS)).status_code == 303
    assert [(line.what, line.kind, line.amount_minor) for line in bills.lines(store, 1)][1:] == [
        ("New heel tips, both boots", "job", 1800)
    ]
    held = items.of_ticket(store, 1)
    assert [(one.item_id, one.what) for one in works.lines_of_ticket(store, 1)] == [
        (one.id, "Heel tips") for one in held
    ]
    assert all(one.work == "stretch" for one in items.of_ticket(store, 1))
    for path in ("/tickets/1", "/items/1"):
        assert "Heel tips" in counter.get(path).text


def test_once_agreed_it_is_never_offered_again_also_when_something_comes_on_the_ticket_later(
    counter: Counter, store: Store
):
    with_worn_heels(counter)
    counter.post("/tickets/1/agree", **agreement(counter, 1))
    with store.write_tx():
        bag = {
            "ticket_id": 1,
            "letter": "B",
            "kind": "bag",
            "work": "other",
            "description": "tan bag",
            "jobs": "new zip",
        }
        store.insert("items", **bag, state="counter", since="2026-03-17T14:00:00Z")
    page = counter.get("/tickets/1/agree").text
    assert "tan bag" in page
    assert "While they" not in page


def test_a_tick_without_a_sum_and_a_sum_without_a_tick_are_asked_and_what_was_typed_stays(
    counter: Counter, store: Store
):
    with_worn_heels(counter)
    for changes, says in (
        ({"extra_heel-worn": "y"}, "0 if it is free"),
        ({"sum_heel-worn": "18"}, "or remove the amount"),
        ({**TIPS, "sum_heel-worn": "lots"}, "Type an amount"),
    ):
        answer = counter.post("/tickets/1/agree", **agreement(counter, 1, deposit="31", **changes))
        assert answer.status_code == 422
        assert says in " ".join(errors(answer))
        assert 'value="31"' in answer.text
        assert ('value="18"' in answer.text) == (changes.get("sum_heel-worn") == "18")
    assert bills.lines(store, 1) == []


def test_every_job_belongs_to_something_that_can_be_seen():
    assert set(JOBS) <= set(SIGHTS)
