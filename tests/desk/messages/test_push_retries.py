"""Messages on their way to phones, by a push service that opens them: each event once."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.cast import Clock
from support.killed_sender import killed_before_noting
from support.push_service import Phone, PushService, claims
from support.ticket_rows import Job

from fitcounter.desk.messages import push_allowed_services, push_asked_by_phone, push_retries
from fitcounter.desk.messages.mail_retries import MailPlace
from fitcounter.desk.messages.push_retries import send_due
from fitcounter.store import push_phones as store_push_phones
from fitcounter.store import pushes
from fitcounter.store.database import Act, Store
from fitcounter.store.pushes import NewPush


@pytest.fixture
def ends(store: Store, worn: Job, phone: Phone, clock: Clock) -> Clock:
    """The clock of the first wear runs out now."""
    act = Act(clock.on(hours=8), None)
    push_asked_by_phone.start_clock(store, act, worn.ticket_id, 1, "1", timedelta())
    clock.on(minutes=30)
    return clock


def states(store: Store, job: Job) -> list[tuple[str, str, str]]:
    return [
        (one.kind, one.state, one.fault) for one in pushes.QUEUE.of_ticket(store, job.ticket_id)
    ]


def test_take_them_off_comes_at_the_true_end_sealed_signed_and_once(
    store: Store,
    worn: Job,
    phone: Phone,
    service: PushService,
    place: MailPlace,
    ends: Clock,
):
    assert send_due(place, ends.now - timedelta(seconds=1)) == 0
    assert [send_due(place, ends.now), send_due(place, ends.on(minutes=5))] == [1, 0]
    (heard,) = phone.heard
    assert heard["title"] == "Take your boots off now"
    assert heard["stays"] is True
    (asked,) = service.asked
    assert (asked["Content-Encoding"], asked["Urgency"], asked["TTL"]) == (
        *("aes128gcm", "high"),
        "3600",
    )
    assert claims(asked["Authorization"])["sub"] == place.base_url
    assert asked["Topic"] == heard["tag"]


@pytest.mark.parametrize(("mode", "fault"), [("busy", "not-now"), ("keys", "keys")])
def test_what_is_not_taken_is_tried_again_until_it_is_not_worth_telling(
    store: Store,
    worn: Job,
    phone: Phone,
    service: PushService,
    place: MailPlace,
    ends: Clock,
    mode: str,
    fault: str,
):
    service.mode, tries = mode, 0
    for _ in range(70):
        before = len(service.asked)
        assert send_due(place, ends.now) == 0
        tries += len(service.asked) > before
        ends.on(minutes=1)
    assert tries == 6
    assert states(store, worn) == [("take-off", "given-up", fault)]


def test_what_was_not_taken_goes_out_once_when_it_is(
    store: Store, worn: Job, phone: Phone, service: PushService, place: MailPlace, ends: Clock
):
    service.mode = "busy"
    send_due(place, ends.now)
    service.mode = "takes"
    assert send_due(place, ends.on(seconds=20)) == 0, "it waits before it is tried again"
    assert send_due(place, ends.on(seconds=20)) == 1
    assert len(phone.heard) == 1


@pytest.mark.parametrize("mode", ["gone", "missing"])
def test_a_phone_that_is_gone_is_asked_once(
    store: Store,
    worn: Job,
    phone: Phone,
    service: PushService,
    place: MailPlace,
    ends: Clock,
    mode: str,
):
    """404 and 410: nothing of it is kept, and nothing goes there any more."""
    service.mode = mode
    assert send_due(place, ends.now) == 0
    assert store_push_phones.of_ticket(store, worn.ticket_id) == []
    assert send_due(place, ends.on(minutes=5)) == 0
    assert len(service.asked) == 1
    assert store.value("SELECT endpoint FROM push_phones") == ""


def test_a_service_that_was_taken_off_the_list_is_not_asked(
    store: Store, worn: Job, phone: Phone, service: PushService, place: MailPlace, ends: Clock
):
    owner = Act(ends.now, 3)
    push_allowed_services.keep(store, owner, "fcm.googleapis.com", place.base_url, on=True)
    assert send_due(place, ends.now) == 0
    assert states(store, worn) == [("take-off", "given-up", "refused")]
    push_allowed_services.keep(store, owner, "fcm.googleapis.com", place.base_url, on=False)
    assert send_due(place, ends.now) == 0
    assert service.asked == []


def test_one_phone_that_waits_holds_no_other_back_and_two_rounds_send_once(
    store: Store, worn: Job, phone: Phone, service: PushService, place: MailPlace, ends: Clock
):
    """What another thread has taken is not taken again."""
    (push,) = pushes.QUEUE.due(store, ends.now, 9)
    assert pushes.QUEUE.take(store, push, ends.now + timedelta(seconds=30))
    assert send_due(place, ends.now) == 0
    assert service.asked == []


def test_a_clock_that_leapt_back_holds_nothing_back_for_good(
    store: Store, worn: Job, phone: Phone, service: PushService, place: MailPlace, ends: Clock
):
    service.mode = "busy"
    send_due(place, ends.now)
    service.mode = "takes"
    with store.write_tx():
        store.db.execute("UPDATE pushes SET next_at = '2036-01-01T00:00:00Z'")
    assert send_due(place, ends.now) == 1


def test_killed_between_sending_and_noting_it_takes_its_own_place_on_the_phone(
    store: Store, worn: Job, phone: Phone, service: PushService, place: MailPlace, ends: Clock
):
    """One repetition at most, under the tag of the first, so that the phone shows one."""
    killed_before_noting(lambda: send_due(place, ends.now))
    assert send_due(place, ends.on(seconds=40)) == 1
    assert send_due(place, ends.on(minutes=10)) == 0
    assert len(phone.heard) == 2
    assert len({one["tag"] for one in phone.heard}) == 1
    assert states(store, worn) == [("take-off", "sent", "")]


def test_staff_are_told_what_a_customer_reports_without_a_word_of_it(
    store: Store, worn: Job, staff_phone: Phone, place: MailPlace, clock: Clock
):
    with store.write_tx():
        (held,) = store_push_phones.of_staff(store)
        pushes.add(store, held.id, NewPush(worn.ticket_id, "not-right", "nr-1"), clock.now)
    assert push_retries.send_due(place, clock.now, of_bench=True) == 1
    (heard,) = staff_phone.heard
    assert heard["title"] == "Ticket 1: something does not feel right"
    assert heard["path"] == f"/tickets/{worn.ticket_id}/not-right"
    with store.write_tx():
        pushes.add(store, held.id, NewPush(worn.ticket_id, "not-right", "nr-2"), clock.now)
        store.change("staff", 1, active=0)
    assert push_retries.send_due(place, clock.now) == 0, "who left the shop is told nothing"
    assert len(staff_phone.heard) == 1
