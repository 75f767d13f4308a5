"""Work on what is here already, added at the counter by two letters."""

from __future__ import annotations

from html import unescape

import pytest
from support.cast import Clock, Counter
from support.counter_forms import agreement, fresh, measured
from support.ticket_rows import Job, make_job

from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import bills, items, works
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    entry = EntryInput(what="Heel tips", price_minor=900, days=2)
    price_list.save(store, act, "heel-tips", entry)
    return make_job(store, act)


def form(job: Job, **more: object) -> dict[str, object]:
    both = {f"item_{job.left}": "y", f"item_{job.right}": "y"}
    return {"submission_id": fresh(), "version": 1, "what": "heel ti", **both, **more}


def test_from_the_ticket_two_letters_and_a_yes_add_work_to_both_boots(
    counter: Counter, store: Store, job: Job
):
    page = f"/tickets/{job.ticket_id}/work"
    assert page in counter.get(f"/tickets/{job.ticket_id}").text
    shown = unescape(counter.get(page).text)
    assert '<option value="Heel tips" data-each="900">$9.00</option>' in shown
    answer = counter.post(page, **form(job, yes="phone"))
    assert (answer.status_code, answer.location) == (303, page)
    shown = unescape(counter.get(page).text)
    assert "Heel tips is added: $18.00." in shown
    assert "Left boot: to do · Right boot: to do" in shown
    ticket = unescape(counter.get(f"/tickets/{job.ticket_id}").text)
    assert "Heel tips, both boots" in ticket
    assert "Heel tips: to do" in ticket
    today = unescape(counter.get("/find?q=marisol").text)
    assert "to do: Heel tips" in today


def test_without_a_yes_or_with_several_of_that_name_nothing_is_added_and_all_stays(
    counter: Counter, store: Store, job: Job
):
    page = f"/tickets/{job.ticket_id}/work"
    counter.get(page)
    for more, says in (
        ({}, "that was agreed. Ask the customer first."),
        ({"what": "heel", "yes": "phone"}, "Which one: Heel made higher or lower, Heel or sole"),
        ({"what": "New zipper", "yes": "phone"}, "Type the price, or 0 if it is free."),
        ({f"item_{job.left}": "", f"item_{job.right}": ""}, "Tick what the work is on."),
    ):
        answer = counter.post(page, **form(job, **more))
        assert answer.status_code == 422
        assert says in unescape(answer.text)
    assert works.of_ticket(store, job.ticket_id) == []
    assert len(bills.lines(store, job.ticket_id)) == 1


def test_somebody_else_who_changed_the_ticket_meanwhile_is_told(counter: Counter, job: Job):
    page = f"/tickets/{job.ticket_id}/work"
    counter.get(page)
    answer = counter.post(page, **form(job, yes="phone", version=7))
    assert answer.status_code == 409
    assert "Someone changed this ticket" in answer.text


def test_before_the_agreement_it_stands_among_its_lines_and_is_billed_with_them(
    counter: Counter, store: Store, job: Job
):
    measured(counter)
    ticket_id = store.value("SELECT max(id) FROM tickets")
    version = store.value("SELECT version FROM tickets WHERE id = ?", ticket_id)
    both = {f"item_{one.id}": "y" for one in items.of_ticket(store, ticket_id)}
    page = f"/tickets/{ticket_id}/work"
    typed = {"submission_id": fresh(), "version": version, "what": "he ti", **both}
    assert counter.post(page, **typed).status_code == 303
    assert "Take out: Heel tips" in counter.get(page).text
    shown = counter.get(f"/tickets/{ticket_id}/agree").text
    assert 'value="Heel tips, both boots"' in shown
    answer = counter.post(f"/tickets/{ticket_id}/agree", **agreement(counter, ticket_id))
    assert answer.status_code == 303
    (row,) = works.of_ticket(store, ticket_id)
    (line,) = [one for one in bills.lines(store, ticket_id) if one.id == row.line_id]
    assert (line.what, line.amount_minor) == ("Heel tips, both boots", 1800)
    assert "Take out" not in counter.get(page).text


def test_what_the_shop_does_not_do_is_answered_and_listed(counter: Counter, job: Job):
    page = f"/tickets/{job.ticket_id}/work"
    counter.get(page)
    assert counter.post(page, **form(job, what="longer")).status_code == 303
    shown = unescape(counter.get(page).text)
    assert "Foot made longer" in shown
    assert shown.count("We do not lengthen feet.") >= 2, "said once, and kept in the list"


def test_a_ticket_whose_things_went_home_says_that_nothing_can_get_work(
    counter: Counter, store: Store, job: Job
):
    """Instead of an empty page."""
    with store.write_tx():
        for item_id in (job.left, job.right, job.bag):
            store.change("items", item_id, state="out")
    page = counter.get(f"/tickets/{job.ticket_id}/work").text
    assert "Nothing on this ticket can get more work now." in page
    assert 'name="what"' not in page


def test_what_was_typed_meanwhile_for_a_ticket_whose_things_went_home_is_shown(
    counter: Counter, store: Store, job: Job
):
    counter.get(f"/tickets/{job.ticket_id}/work")
    with store.write_tx():
        for item_id in (job.left, job.right, job.bag):
            store.change("items", item_id, state="out")
    much = "heel tips, " * 20
    answer = counter.post(f"/tickets/{job.ticket_id}/work", **form(job, what=much, size="1 1/2"))
    assert answer.status_code == 422
    shown = unescape(answer.text)
    assert "Nothing on this ticket is here any more, so no work can be added." in shown
    assert much.strip() in shown
    assert "1 1/2" in shown
