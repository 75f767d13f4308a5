"""Calls about a job, and the follow-ups that are to be made."""

from __future__ import annotations

from datetime import date

import pytest
from support.ticket_rows import Job

from fitcounter.errors import Conflict, NotFound
from fitcounter.store import contacts, tickets
from fitcounter.store.database import Act, Store

DUE = date(2026, 3, 20)


def call(store: Store, job: Job, moved: tuple[str, str] | None = None) -> None:
    days = {"moved_from": moved[0], "moved_to": moved[1]} if moved else {}
    with store.write_tx():
        store.insert(
            "calls", ticket_id=job.ticket_id, at="2026-03-17", about="late", how="called", **days
        )


def follow_up(store: Store, job: Job, due: date = DUE) -> int:
    with store.write_tx():
        return contacts.add_follow_up(store, job.ticket_id, due, "after-pickup")


def test_a_day_promised_first_is_known_after_it_was_moved_twice(store: Store, job: Job):
    for moved in (None, ("2026-03-24", "2026-03-27"), ("2026-03-27", "2026-04-02")):
        call(store, job, moved)
    moves = contacts.promise_moves(store, job.ticket_id)
    assert [one.moved_to for one in moves] == ["2026-03-27", "2026-04-02"]
    assert contacts.first_promise(store, tickets.get(store, job.ticket_id)) == "2026-03-24"


def test_a_day_that_never_moved_is_the_one_promised(store: Store, job: Job):
    call(store, job)
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-03-24")
    assert contacts.first_promise(store, tickets.get(store, job.ticket_id)) == "2026-03-24"


def test_a_follow_up_is_due_on_its_day_and_off_the_list_once_it_is_answered(
    store: Store, act: Act, job: Job
):
    later, first = follow_up(store, job, date(2026, 3, 21)), follow_up(store, job)
    assert contacts.due_follow_ups(store, date(2026, 3, 19)) == []
    assert [one.id for one in contacts.due_follow_ups(store, DUE)] == [first]
    with store.write_tx():
        assert contacts.close_follow_up(store, act, first, "All well") == job.ticket_id
    assert [one.id for one in contacts.due_follow_ups(store, date(2026, 4, 1))] == [later]
    assert [one.answer for one in contacts.follow_ups_of_ticket(store, job.ticket_id)] == [
        "All well",
        "",
    ]


def test_a_second_answer_does_not_take_the_place_of_the_first(store: Store, act: Act, job: Job):
    due = follow_up(store, job)
    with store.write_tx():
        contacts.close_follow_up(store, act, due, "All well")
    with store.write_tx():
        contacts.close_follow_up(store, act, due, "All well")  # the same again is no other answer
    with pytest.raises(Conflict) as other, store.write_tx():
        contacts.close_follow_up(store, act, due, "It pinches")
    assert other.value.theirs == {"What the customer said": "All well"}
    assert contacts.follow_ups_of_ticket(store, job.ticket_id)[0].answer == "All well"


def test_a_follow_up_that_is_not_there_is_not_found(store: Store, act: Act):
    with pytest.raises(NotFound), store.write_tx():
        contacts.close_follow_up(store, act, 99, "All well")
