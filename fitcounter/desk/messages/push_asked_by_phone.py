"""A phone asks for messages, or wants none any more; and a customer's clock that runs, so that the
phone can say when the boots come off.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.translation import say
from fitcounter.desk.messages import push_allowed_services, push_words
from fitcounter.desk.shop import Act, Store, Written
from fitcounter.errors import BadInput, NotAllowed
from fitcounter.store import push_phones, pushes
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush

LONGEST_AGO = timedelta(hours=3)


@dataclass(frozen=True, slots=True)
class TypedPhone:
    """What the browser gives: the address at its service, and the phone's two keys."""

    endpoint: str
    p256dh: str
    auth: str


def ask_for_ticket(
    store: Store, act: Act, ticket_id: int, typed: TypedPhone, language: str
) -> Written:
    """Messages of this ticket to this phone from now on. Raises BadInput."""
    _check(store, typed)

    def write() -> Written:
        phone = NewPushPhone(
            ticket_id=ticket_id,
            endpoint=typed.endpoint,
            p256dh=typed.p256dh,
            auth=typed.auth,
            language=language,
        )
        push_phones.add(store, phone, act.at)
        return Written(ticket_id, words=say("This phone gets messages now."))

    return store.once(act, "push-on", write)


def end_for_ticket(store: Store, act: Act, ticket_id: int) -> Written:
    """No phone gets messages of this ticket any more."""

    def write() -> Written:
        push_phones.end_of_ticket(store, ticket_id, act.at)
        return Written(ticket_id, words=say("No more messages to phones."))

    return store.once(act, "push-off", write)


def ask_for_staff(store: Store, act: Act, typed: TypedPhone) -> Written:
    """Messages of the bench and of customers to this phone. Raises BadInput, NotAllowed."""
    _check(store, typed)
    if act.staff_id is None:
        raise NotAllowed(say("Sign in first."))

    def write() -> Written:
        phone = NewPushPhone(
            staff_id=act.staff_id,
            phone_id=act.phone_id,
            endpoint=typed.endpoint,
            p256dh=typed.p256dh,
            auth=typed.auth,
        )
        push_phones.add(store, phone, act.at)
        return Written(words=say("This phone gets messages now."))

    return store.once(act, "push-on", write)


def end_for_staff(store: Store, act: Act) -> Written:
    """No phone of this person gets messages any more."""

    def write() -> Written:
        for one in push_phones.of_staff(store):
            if one.staff_id == act.staff_id:
                push_phones.end(store, one.id, act.at)
        return Written(words=say("No more messages to phones."))

    return store.once(act, "push-off", write)


def is_on(store: Store, ticket_id: int) -> bool:
    """Whether any phone gets messages of this ticket."""
    return bool(push_phones.of_ticket(store, ticket_id))


def is_on_for(store: Store, staff_id: int) -> bool:
    return any(one.staff_id == staff_id for one in push_phones.of_staff(store))


def start_clock(
    store: Store, act: Act, ticket_id: int, n: int, clock: str, ago: timedelta
) -> Written:
    """The clock of step n runs since `ago`: the phones are told when its minutes are over.

    clock: a name that the phone gave it, digits; the same one again changes nothing. Raises
    BadInput for a step that is not to be worn now, NotFound.
    """
    plan = wear_calendar.current(store, ticket_id, act.at).plan
    wear = next((one for one in plan.to_come if one.n == n), None)
    named = clock.isascii() and clock.isdigit() and len(clock) <= 20
    if wear is None or not named or not timedelta() <= ago <= LONGEST_AGO:
        raise BadInput(say("Today’s plan has changed. Load the page again."), field="clock")
    ends = act.at - ago + timedelta(minutes=wear.minutes)

    def write() -> Written:
        new = NewPush(ticket_id, "take-off", f"take-off-{ticket_id}-{n}-{clock}")
        _drop_other_clocks(store, ticket_id, new.event, act.at)
        if ends + push_words.LASTS["take-off"] > act.at:
            for one in push_phones.of_ticket(store, ticket_id):
                pushes.add(store, one.id, new, ends)
        return Written(ticket_id, detail={"n": n})

    return store.once(act, "wear-clock", write)


def stop_clock(store: Store, act: Act, ticket_id: int) -> Written:
    """It was started by mistake: nothing is told."""

    def write() -> Written:
        _drop_other_clocks(store, ticket_id, "", act.at)
        return Written(ticket_id)

    return store.once(act, "wear-clock-off", write)


def _drop_other_clocks(store: Store, ticket_id: int, event: str, at: datetime) -> None:
    """A phone has one clock; the last one that was started counts."""
    waiting = [one for one in pushes.QUEUE.of_ticket(store, ticket_id) if one.state == "waiting"]
    if any(one.kind == "take-off" and one.event != event for one in waiting):
        pushes.QUEUE.drop_waiting(store, ticket_id, "take-off", at)


def _check(store: Store, typed: TypedPhone) -> None:
    """Raises BadInput where the shop sends none, the address is not on the list or the keys are no
    keys.
    """
    from fitcounter.desk.messages.push_seal import is_key

    choice = push_allowed_services.of_shop(store)
    if not choice.on:
        raise BadInput(say("The shop sends no messages to phones."), field="endpoint")
    push_allowed_services.read_endpoint(choice, typed.endpoint)
    if not is_key(typed.p256dh, typed.auth):
        raise BadInput(say("This phone’s keys cannot be used."), field="p256dh")
