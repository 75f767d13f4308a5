"""Phones that get messages: once each, and nothing of them is kept when they end."""

from __future__ import annotations

from dataclasses import replace

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import erasing, push_phones, pushes, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush


def phone(ticket_id: int | None, n: int, staff_id: int | None = None) -> NewPushPhone:
    whose = {"ticket_id": ticket_id, "staff_id": staff_id}
    return NewPushPhone(**whose, endpoint=f"https://push.example/{n}", p256dh="p", auth="a")


def test_the_same_phone_is_taken_in_once_and_goes_from_one_ticket_to_another(
    store: Store, clock: Clock
):
    one, other = (make_job(store, Act(clock.now, 1)).ticket_id for _ in range(2))
    with store.write_tx():
        first = push_phones.add(store, phone(one, 1), clock.now)
        again = replace(phone(one, 1), language="es")
        assert push_phones.add(store, again, clock.now) == first
        pushes.add(store, first, NewPush(one, "ready", "ready-1"), clock.now)
        push_phones.add(store, phone(other, 1), clock.now)
    assert push_phones.of_ticket(store, one) == []
    assert [held.ticket_id for held in push_phones.of_ticket(store, other)] == [other]
    assert push_phones.tickets_with(store) == [other]
    assert [held.state for held in pushes.QUEUE.of_ticket(store, one)] == ["dropped"]


def test_a_sixth_phone_takes_the_place_of_the_oldest(store: Store, clock: Clock):
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    with store.write_tx():
        for n in range(7):
            push_phones.add(store, phone(ticket_id, n), clock.now)
    held = push_phones.of_ticket(store, ticket_id)
    assert [one.endpoint[-1] for one in held] == ["2", "3", "4", "5", "6"]


def test_what_ended_keeps_neither_address_nor_keys(store: Store, clock: Clock):
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    with store.write_tx():
        held = push_phones.add(store, phone(ticket_id, 1), clock.now)
        assert push_phones.end_of_ticket(store, ticket_id, clock.now) == 1
    assert push_phones.get(store, held) is None
    (row,) = store.rows("SELECT endpoint, p256dh, auth FROM push_phones")
    assert set(row.values()) == {""}


def test_who_left_the_shop_or_whose_phone_was_removed_gets_none(store: Store, clock: Clock):
    with store.write_tx():
        shops = store.insert("phones", label="bench", secret_hash="x")
        push_phones.add(store, phone(None, 1, staff_id=1), clock.now)
        push_phones.add(store, replace(phone(None, 2, staff_id=2), phone_id=shops), clock.now)
    assert [one.staff_id for one in push_phones.of_staff(store)] == [1, 2]
    with store.write_tx():
        store.change("staff", 1, active=0)
        store.change("phones", shops, struck_at="2026-03-17T14:00:00Z")
    assert push_phones.of_staff(store) == []


def test_erasing_takes_phones_and_messages_out(store: Store, clock: Clock):
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    with store.write_tx():
        held = push_phones.add(store, phone(ticket_id, 1), clock.now)
        pushes.add(store, held, NewPush(ticket_id, "ready", "ready-1"), clock.now)
        erasing.clear(store, Act(clock.now, 3), tickets.get(store, ticket_id).customer_id)
    assert store.value("SELECT count(*) FROM push_phones") == 0
    assert store.value("SELECT count(*) FROM pushes") == 0
