"""A phone asks for messages, and says that a clock runs."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from support.cast import Clock
from support.push_service import Phone, PushService
from support.ticket_rows import Job

from fitcounter.desk.messages import push_allowed_services, push_asked_by_phone
from fitcounter.errors import BadInput, NotAllowed
from fitcounter.store import pushes
from fitcounter.store.database import Act, Store, utc_time

HALF_PAST = timedelta(minutes=30)


def clocks(store: Store, job: Job) -> list[tuple[str, str]]:
    return [(one.event, one.state) for one in pushes.QUEUE.of_ticket(store, job.ticket_id)]


def test_a_clock_is_told_at_its_true_end_and_once_however_often_it_is_said(
    store: Store, worn: Job, phone: Phone, clock: Clock
):
    """The phone says how long ago it was started: its own clock may be wrong."""
    clock.on(hours=8)
    for _ in range(2):
        act = Act(clock.now, None)
        push_asked_by_phone.start_clock(
            store, act, worn.ticket_id, 1, "17000", timedelta(minutes=4)
        )
    (push,) = pushes.QUEUE.of_ticket(store, worn.ticket_id)
    assert utc_time(push.next_at) == clock.now + timedelta(minutes=26)


def test_another_clock_takes_the_place_of_the_one_before_and_a_mistake_ends_it(
    store: Store, worn: Job, phone: Phone, clock: Clock
):
    act = Act(clock.on(hours=8), None)
    for name in ("1", "2"):
        push_asked_by_phone.start_clock(store, act, worn.ticket_id, 1, name, timedelta())
    one, two = (f"take-off-{worn.ticket_id}-1-{name}" for name in "12")
    assert clocks(store, worn) == [(one, "dropped"), (two, "waiting")]
    push_asked_by_phone.stop_clock(store, act, worn.ticket_id)
    assert clocks(store, worn) == [(one, "dropped"), (two, "dropped")]


@pytest.mark.parametrize(
    ("n", "name", "ago"),
    [(9, "1", 0), (0, "1", 0), (1, "1-2", 0), (1, "x", 0), (1, "1" * 30, 0), (1, "1", 5 * 3600)],
)
def test_a_clock_that_cannot_be_is_refused(
    store: Store, worn: Job, phone: Phone, clock: Clock, n: int, name: str, ago: int
):
    act = Act(clock.on(hours=8), None)
    with pytest.raises(BadInput, match="Today’s plan has changed"):
        push_asked_by_phone.start_clock(store, act, worn.ticket_id, n, name, timedelta(seconds=ago))
    assert clocks(store, worn) == []


def test_only_a_phone_of_a_listed_service_with_real_keys_is_taken(
    store: Store, act: Act, service: PushService, worn: Job
):
    good = service.phone().typed
    for wrong in (
        replace(good, endpoint="https://127.0.0.1/wp/1"),
        replace(good, endpoint="https://evil.example/wp/1"),
        replace(good, p256dh="AAAA"),
        replace(good, auth=""),
    ):
        with pytest.raises(BadInput):
            push_asked_by_phone.ask_for_ticket(store, act, worn.ticket_id, wrong, "en")
    assert not push_asked_by_phone.is_on(store, worn.ticket_id)
    push_allowed_services.keep(store, act, "fcm.googleapis.com", "", on=False)
    with pytest.raises(BadInput, match="sends no messages"):
        push_asked_by_phone.ask_for_ticket(store, act, worn.ticket_id, good, "en")


def test_both_a_customer_and_the_staff_end_theirs_and_nobody_elses(
    store: Store, act: Act, service: PushService, worn: Job, phone: Phone, staff_phone: Phone
):
    with pytest.raises(NotAllowed):
        push_asked_by_phone.ask_for_staff(store, replace(act, staff_id=None), service.phone().typed)
    push_asked_by_phone.end_for_staff(store, replace(act, staff_id=2))
    assert push_asked_by_phone.is_on_for(store, 1)
    push_asked_by_phone.end_for_staff(store, act)
    assert not push_asked_by_phone.is_on_for(store, 1)
    assert push_asked_by_phone.is_on(store, worn.ticket_id)
    push_asked_by_phone.end_for_ticket(store, act, worn.ticket_id)
    assert not push_asked_by_phone.is_on(store, worn.ticket_id)
