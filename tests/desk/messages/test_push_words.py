"""What stands on a locked phone: in its language, without a name or a word that was written."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.cast import Clock
from support.push_service import Phone
from support.ticket_rows import Job

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.messages import push_words
from fitcounter.desk.shop import Shop
from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Act, Store
from fitcounter.store.pushes import NewPush, Push


def made(store: Store, job: Job, kind: str, event: str, clock: Clock) -> Push:
    with store.write_tx():
        phone = push_phones.of_ticket(store, job.ticket_id)[0]
        pushes.add(store, phone.id, NewPush(job.ticket_id, kind, event), clock.now)
    return pushes.QUEUE.of_ticket(store, job.ticket_id)[-1]


@pytest.fixture
def six(clock: Clock) -> Clock:
    """The hour of the first wear."""
    clock.on(hours=8)
    return clock


@pytest.mark.parametrize(
    ("language", "title", "body"),
    [
        ("en", "Put your boots on now", "Boots on for 30 minutes (1 of 3)."),
        ("es", "Ponte las botas ahora", "Sesión 1 de 3: 30 minutos."),
    ],
)
def test_a_wear_is_said_in_the_phones_language(
    store: Store,
    worn: Job,
    phone: Phone,
    six: Clock,
    choices: Shop,
    language: str,
    title: str,
    body: str,
):
    push = made(store, worn, "put-on", "put-on-1", six)
    with store.write_tx():
        store.change("push_phones", push.push_phone_id, language=language)
    held = push_phones.get(store, push.push_phone_id)
    assert held is not None
    said = push_words.words_of(store, choices, held, push, six.now)
    assert said == push_words.PushWords(title, body)
    assert b"Marisol" not in said.payload(push)


def test_what_is_no_longer_so_or_long_over_is_not_said(
    store: Store, worn: Job, phone: Phone, six: Clock, choices: Shop
):
    push = made(store, worn, "take-off", f"take-off-{worn.ticket_id}-1-5", six)
    held = push_phones.get(store, push.push_phone_id)
    assert held is not None
    now = six.now + timedelta(minutes=59)
    said = push_words.words_of(store, choices, held, push, now)
    assert said is not None
    assert said.title == "Take your boots off now"
    assert push_words.words_of(store, choices, held, push, now + timedelta(minutes=2)) is None
    act = Act(six.on(minutes=31), None)
    wear_calendar.record_wear(store, act, worn.ticket_id, 1, six.now - timedelta(minutes=30), 30)
    assert push_words.words_of(store, choices, held, push, six.now) is None


def test_a_topic_fits_its_header_and_tells_nothing():
    """RFC 8030 section 5.4: at most 32 characters of base64url."""
    topic = push_words.topic("take-off-1-1-5")
    assert len(topic) <= 32
    assert topic.replace("-", "").replace("_", "").isalnum()
    assert push_words.topic("take-off-1-1-6") != topic
