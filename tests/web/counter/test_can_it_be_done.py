"""Can it be done? where it cannot: what can be done instead, one tap each."""

from __future__ import annotations

from support.cast import Counter
from support.counter_forms import fresh, measured, taken_in

from fitcounter.store import fits
from fitcounter.store.database import Store


def choose(counter: Counter, fit_id: int, key: str, submission_id: str = ""):
    return counter.post(
        f"/fits/{fit_id}/instead", instead=key, submission_id=submission_id or fresh()
    )


def test_the_ways_that_fit_stand_below_the_answer_and_one_goes_on_to_its_price(
    counter: Counter, store: Store
):
    fit_id = measured(counter, material="coated")
    page = counter.get(f"/fits/{fit_id}/verdict").text
    assert "Better not" in page
    for words in ("Elastic gusset", "Gusset beside the zipper", "Next strap hole", "Another boot"):
        assert words in page, words
    assert "/agree" not in page, "nothing is agreed before a way is picked"
    sent = fresh()
    for _ in range(2):
        answer = choose(counter, fit_id, "elastic-gusset", sent)
        assert (answer.status_code, answer.headers["Location"]) == (303, "/tickets/1/agree")
    assert fits.get(store, fit_id).version == 3
    price = counter.get("/tickets/1/agree").text
    assert 'value="Elastic gusset, both boots"' in price
    assert "The elastic shows" in price
    assert "/agree" in counter.get(f"/fits/{fit_id}/verdict").text


def test_what_is_no_way_for_these_boots_changes_nothing(counter: Counter, store: Store):
    fit_id = measured(counter, material="coated", closure="pull-on")
    for key in ("zip-gusset", "strap", "", "x" * 400):
        answer = choose(counter, fit_id, key)
        assert answer.status_code == 422
        assert "Pick one of these ways." in answer.text
    assert fits.get(store, fit_id).instead == ""
    assert counter.get(f"/fits/{fit_id}/instead").status_code == 405
    assert choose(counter, 99, "panel").status_code == 404


def test_a_stranger_and_the_bench_choose_nothing(
    stranger: Counter, bench: Counter, counter: Counter, store: Store
):
    fit_id = measured(counter, material="coated")
    stranger.get("/sign-in")
    assert choose(stranger, fit_id, "panel").status_code == 401
    assert choose(bench, fit_id, "panel").status_code == 403
    assert fits.get(store, fit_id).instead == ""


def test_no_is_said_before_the_tape_where_the_leather_rules_it_out(counter: Counter, store: Store):
    fit_id = taken_in(counter, material="synthetic")
    page = counter.get(f"/fits/{fit_id}/measure").text
    assert "Better not" in page
    assert "Measure only if a gusset or a panel is wanted." in page
    answer = choose(counter, fit_id, "another")
    assert answer.headers["Location"] == "/tickets/1"
    assert {boot.state for boot in fits.boots(store, fit_id)} == {"declined"}
    assert "Better not" not in counter.get(f"/fits/{fit_id}/measure").text
