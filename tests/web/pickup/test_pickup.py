"""Pickup by forms: tick, hand over, once; nothing is lost on the way."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job
from web.pickup.pickup_form import all_of

from fitcounter.store import bills, items, tags, tickets
from fitcounter.store.database import Act, Store


def test_the_list_says_who_what_where_and_what_is_owed(counter: Counter, shelved: Job):
    page = counter.get("/pickup").text
    for words in (
        "Marisol Okafor-Lind",
        "both boots and bag: ready",
        "shelf C2",
        "balance $60",
        "not called yet",
    ):
        assert words in page


def test_a_thing_without_a_name_of_its_own_goes_by_what_was_written_of_it(
    counter: Counter, store: Store, shelved: Job
):
    with store.write_tx():
        store.change("items", shelved.bag, kind="other", description="brass dog collar")
    assert "both boots and brass dog collar: ready" in counter.get("/pickup").text


def test_a_scan_strikes_one_thing_and_keeps_the_others_struck(
    counter: Counter, store: Store, shelved: Job, clock: Clock
):
    with store.write_tx():
        tag = tags.get(store, tags.make(store, Act(clock.now), 1, "left", shelved.left))
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = counter.post(
        f"/pickup/{shelved.ticket_id}",
        scan=tag.code,
        items=[str(shelved.bag)],
        collected_by="Marisol",
    )
    assert page.status_code == 200
    assert page.text.count("checked") == 2
    assert 'value="Marisol"' in page.text
    assert items.get(store, shelved.left).state == "shelved"


def test_the_tag_of_another_job_is_said_and_strikes_nothing(
    counter: Counter, store: Store, shelved: Job, clock: Clock
):
    other = make_job(store, Act(clock.now, 1), "Tobias Renwick")
    with store.write_tx():
        tag = tags.get(store, tags.make(store, Act(clock.now), 2, "left", other.left))
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = counter.post(f"/pickup/{shelved.ticket_id}", scan=tag.code)
    assert page.status_code == 422
    assert "another ticket" in page.text
    assert " checked" not in page.text


def test_handed_over_it_goes_on_to_the_ticket(counter: Counter, store: Store, shelved: Job):
    counter.get(f"/pickup/{shelved.ticket_id}")
    answer = counter.post(
        f"/pickup/{shelved.ticket_id}", submission_id="pickup-0001", **all_of(shelved)
    )
    assert (answer.status_code, answer.headers["Location"]) == (
        303,
        f"/tickets/{shelved.ticket_id}",
    )
    assert tickets.get(store, shelved.ticket_id).state == "out"
    page = counter.get(f"/pickup/{shelved.ticket_id}").text
    assert "Everything is picked up." in page
    assert "data-pickup" not in page, "nothing is left to press"


def test_sent_twice_it_is_paid_once(counter: Counter, store: Store, shelved: Job):
    counter.get(f"/pickup/{shelved.ticket_id}")
    codes = [
        counter.post(
            f"/pickup/{shelved.ticket_id}", submission_id="pickup-0001", **all_of(shelved)
        ).status_code
        for _ in range(2)
    ]
    assert codes == [303, 303]
    assert len(bills.payments(store, shelved.ticket_id)) == 2


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"paid": "sixty"}, "Type an amount"),
        ({"collected_by": ""}, "who picks up"),
        ({"items": []}, "Scan or tick"),
    ],
)
def test_bad_input_keeps_what_was_typed_and_stores_nothing(
    counter: Counter, store: Store, shelved: Job, wrong: dict[str, object], words: str
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = counter.post(f"/pickup/{shelved.ticket_id}", **{**all_of(shelved), **wrong})
    assert page.status_code == 422
    assert words in page.text
    for name in ("paid", "collected_by"):
        if name not in wrong:
            assert f'value="{all_of(shelved)[name]}"' in page.text
    assert tickets.get(store, shelved.ticket_id).state == "open"
    assert len(bills.payments(store, shelved.ticket_id)) == 1


def test_tried_on_by_one_tap(counter: Counter, store: Store, shelved: Job):
    counter.get(f"/pickup/{shelved.ticket_id}")
    answer = counter.post(f"/pickup/{shelved.ticket_id}/tried/{shelved.left}", how="snug")
    assert answer.status_code == 303
    assert items.get(store, shelved.left).tried_on == "snug"


def test_neither_a_stranger_nor_the_bench_hands_anything_out(
    stranger: Counter, bench: Counter, store: Store, shelved: Job
):
    assert stranger.get(f"/pickup/{shelved.ticket_id}").status_code == 303
    assert (
        stranger.client.post(f"/pickup/{shelved.ticket_id}", data=all_of(shelved)).status_code
        == 401
    )
    assert bench.get(f"/pickup/{shelved.ticket_id}").status_code == 403
    assert tickets.get(store, shelved.ticket_id).state == "open"


def test_trying_on_refuses_get(counter: Counter, shelved: Job):
    assert counter.get(f"/pickup/{shelved.ticket_id}/tried/{shelved.left}").status_code == 405


def test_a_ticket_that_is_not_there_is_not_found(counter: Counter):
    assert counter.get("/pickup/999").status_code == 404


def test_both_fit_in_one_tap_and_sent_twice_it_is_one_step_each(
    counter: Counter, store: Store, shelved: Job
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    for _ in range(2):
        assert (
            counter.post(
                f"/pickup/{shelved.ticket_id}/tried", how="fits", submission_id="tried-0001"
            ).status_code
            == 303
        )
    assert [
        items.get(store, one).tried_on for one in (shelved.left, shelved.right, shelved.bag)
    ] == ["fits", "fits", ""]
    assert [one.step for one in items.steps(store, shelved.left)].count("try-on") == 1


def test_the_number_on_the_tag_strikes_as_its_scan_does(
    counter: Counter, store: Store, shelved: Job
):
    """The largest thing on the tag, as everywhere else; alone it could be either boot."""
    number = tickets.get(store, shelved.ticket_id).number
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = counter.post(f"/pickup/{shelved.ticket_id}", scan=f"{number} R")
    assert page.status_code == 200
    assert f'value="{shelved.right}" checked' in page.text
    both = counter.post(f"/pickup/{shelved.ticket_id}", scan=f"{number}")
    assert (both.status_code, "Type the number with L or R" in both.text) == (422, True)
