"""Pickup by forms: tick, hand over, once; nothing is lost on the way."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.wear_rules import rules
from fitcounter.desk.documents.receipt_and_letters import ReceiptOf, receipt
from fitcounter.desk.shop import Shop, read
from fitcounter.errors import NotFound
from fitcounter.fit.wear.wear import preset
from fitcounter.store import bills, items, tags, tickets, tills
from fitcounter.store.database import Act, Store


@pytest.fixture
def shelved(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    job = make_job(store, act)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at, columns={"shelf": "C2"}))
    return job


def all_of(job: Job) -> dict[str, object]:
    return {
        "items": [str(job.left), str(job.right), str(job.bag)],
        "collected_by": "Marisol",
        "paid": "60",
        "method": "card",
        "evening": "19:00",
        "preset": "three-short-wears",
    }


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


def test_cash_and_card_and_a_tip_are_rows_of_their_own(
    counter: Counter, store: Store, shelved: Job
):
    sent = {**all_of(shelved), "paid": "40", "second": "20", "second_method": "cash", "tip": "3"}
    counter.get(f"/pickup/{shelved.ticket_id}")
    assert counter.post(f"/pickup/{shelved.ticket_id}", **sent).status_code == 303
    assert [
        (one.amount_minor, one.method, one.tip_minor)
        for one in bills.payments(store, shelved.ticket_id)[1:]
    ] == [(4000, "card", 300), (2000, "cash", 0)]
    page = counter.get(f"/tickets/{shelved.ticket_id}").text
    assert "Tip, apart: $3.00" in page
    assert "Paid</dt>" in page, "a tip pays nothing of the price"


def test_how_it_is_paid_and_more_than_the_balance_are_asked(
    counter: Counter, store: Store, shelved: Job
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = f"/pickup/{shelved.ticket_id}"
    answer = counter.post(page, **{**all_of(shelved), "method": ""})
    assert answer.status_code == 422
    assert "Pick how it was paid" in answer.text
    answer = counter.post(page, **{**all_of(shelved), "paid": "61"})
    assert answer.status_code == 422
    assert "$61.00 is more than the balance of $60.00." in answer.text
    assert len(bills.payments(store, shelved.ticket_id)) == 1
    sent = {**all_of(shelved), "paid": "61", "above": "y"}
    assert counter.post(page, **sent).status_code == 303


def test_each_part_handed_over_has_its_receipt_with_who_took_it(
    counter: Counter, store: Store, shelved: Job, tmp_path: Path
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    first = {**all_of(shelved), "items": [str(shelved.bag)], "part": "y", "collected_by": "Ada"}
    assert counter.post(f"/pickup/{shelved.ticket_id}", **first).status_code == 303
    page = counter.get(f"/tickets/{shelved.ticket_id}").text
    assert "Receipt of Tue, Mar 17, Ada" in page
    (row,) = tills.handovers(store, shelved.ticket_id)
    printed: list[Any] = []

    def press(template: str, **given: Any) -> bytes:
        printed.append(given["receipt"])
        return b""

    for of in (ReceiptOf(handover_id=row.id), ReceiptOf(payment_id=1)):
        address = ("https://bench.example", tmp_path)
        receipt(store, read(store), shelved.ticket_id, address, press, of)
    part, deposit = printed
    assert (part.collected_by, [one.what for one in part.items]) == ("Ada", ["tan bag"])
    assert deposit.received == "Received on Tue, Mar 17: $30.00."
    assert part.shows == deposit.shows == "boots", "they are still here"
    boots = {**all_of(shelved), "items": [str(shelved.left), str(shelved.right)], "paid": ""}
    assert counter.post(f"/pickup/{shelved.ticket_id}", **boots).status_code == 303
    receipt(store, read(store), shelved.ticket_id, address, press, ReceiptOf())
    assert printed[-1].shows == "calendar"
    with pytest.raises(NotFound):
        receipt(store, read(store), shelved.ticket_id, address, press, ReceiptOf(payment_id=99))


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


def test_this_pair_may_have_minutes_of_its_own_and_the_shop_too(
    counter: Counter, owner: Counter, store: Store, shelved: Job
):
    """What cannot be is said, with everything still typed; the pair's own come first, then the
    shop's, then the preset's.
    """
    owner.get("/shop/choices")
    assert owner.post("/shop/choices", wear_minutes="25, 25").status_code == 303
    page = f"/pickup/{shelved.ticket_id}"
    assert "Empty: 25, 25." in counter.get(page).text
    for wrong in ("30, half an hour", "0", "961", ",", ", ".join(["30"] * 21)):
        answer = counter.post(page, **all_of(shelved), minutes=wrong)
        assert answer.status_code == 422
        assert "like 30, 30, 30" in answer.text
        assert f'value="{wrong}"' in answer.text
        assert 'value="Marisol"' in answer.text
    assert store.value("SELECT count(*) FROM wear_plans") == 0
    assert counter.post(page, **all_of(shelved), minutes="15, 20,40").status_code == 303
    assert [one["minutes"] for one in store.rows("SELECT minutes FROM wears ORDER BY n")] == [
        15,
        20,
        40,
    ]
    here = read(store)
    assert (
        rules(here, "growing").minutes,
        rules(here, "growing").free_day_between,
        rules(here, "growing").preset,
    ) == ((25, 25), True, "own")
    assert rules(Shop(), "three-short-wears") == preset("three-short-wears")


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


def test_what_is_usual_stands_in_the_fields_already(counter: Counter, shelved: Job):
    page = counter.get(f"/pickup/{shelved.ticket_id}").text
    for words in ('value="Marisol"', 'value="60.00"', 'value="18:00"', "Hand over and take $60"):
        assert words in page


def test_what_is_taken_is_counted_in_the_tickets_own_currency(
    counter: Counter, store: Store, shelved: Job
):
    """A ticket from before the shop chose another one: yen have no cents."""
    with store.write_tx():
        store.change("tickets", shelved.ticket_id, currency="JPY")
    assert 'value="6000"' in counter.get(f"/pickup/{shelved.ticket_id}").text
    assert (
        counter.post(
            f"/pickup/{shelved.ticket_id}",
            submission_id="hand-over-yen",
            **{**all_of(shelved), "paid": "6000"},
        ).status_code
        == 303
    )
    assert bills.payments(store, shelved.ticket_id)[-1].amount_minor == 6000


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


def test_an_empty_hour_is_the_usual_one_and_no_hour_says_what_to_type(
    counter: Counter, store: Store, shelved: Job
):
    page = f"/pickup/{shelved.ticket_id}"
    counter.get(page)
    wrong = counter.post(page, **{**all_of(shelved), "evening": "after work"})
    assert (wrong.status_code, "Type a time, like 18:30." in wrong.text) == (422, True)
    assert counter.post(page, **{**all_of(shelved), "evening": ""}).status_code == 303
    assert store.value("SELECT hour FROM wear_plans") == read(store).wear_hour


def test_a_calendar_is_promised_only_with_a_stretched_boot(
    counter: Counter, store: Store, shelved: Job
):
    """The bag goes first and begins none; boots that go back as they came want none."""
    page = f"/pickup/{shelved.ticket_id}"
    assert "then the wearing-in calendar starts" in counter.get(page).text
    bag = {**all_of(shelved), "items": [str(shelved.bag)], "part": "y", "paid": "20"}
    assert counter.post(page, **bag).status_code == 303
    assert (
        "calendar"
        not in counter.get(f"/tickets/{shelved.ticket_id}")
        .text.partition("</main>")[0]
        .partition("<h1")[0]
    )
    with store.write_tx():
        for one in (shelved.left, shelved.right):
            store.change("items", one, state="declined")
    shown = counter.get(page).text
    assert "then the wearing-in calendar starts" not in shown
    assert 'name="evening"' not in shown


def test_the_button_names_no_sum_but_the_one_that_is_typed(counter: Counter, shelved: Job):
    page = f"/pickup/{shelved.ticket_id}"
    assert "Hand over and take $60" in counter.get(page).text
    again = counter.post(page, **{**all_of(shelved), "paid": "12", "items": []})
    assert again.status_code == 422
    assert "take $60" not in again.text
    assert "Pays 12" in again.text
