"""What the shop's machine does with the queue of messages to phones: each tried, tried again with
growing waits, and left when it is not worth telling any more.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from fitcounter.desk.messages import (
    mail_account,
    push_allowed_services,
    push_events,
    push_post,
    push_words,
)
from fitcounter.desk.messages.mail_retries import MailPlace
from fitcounter.desk.messages.push_allowed_services import PushChoice
from fitcounter.desk.messages.push_words import PushWords
from fitcounter.desk.shop import Shop, open_store, read
from fitcounter.settings import load_keys
from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Store, utc_time
from fitcounter.store.push_phones import PushPhone
from fitcounter.store.pushes import Push

MOST = 40  # in one round
WAITS = tuple(timedelta(seconds=seconds) for seconds in (30, 60, 120, 300, 900, 3600))


def send_due(place: MailPlace, now: datetime, *, of_bench: bool = False) -> int:
    """Tries what is due at `now` (aware); of_bench: also looks at every tree first.

    Returns how many went out. After the first one that a service does not take, the others for it
    wait for the next round.
    """
    store, sent = open_store(place.data_dir / "shop.db"), 0
    try:
        choice = push_allowed_services.of_shop(store)
        if not choice.on or not push_phones.count(store):
            return 0
        shop, silent = read(store), set[str]()
        push_events.queue_due(store, shop, now, of_bench=of_bench)
        for push in pushes.QUEUE.due(store, now, MOST):
            phone = push_phones.get(store, push.push_phone_id)
            host = push_allowed_services.host_of(phone.endpoint) if phone else ""
            if host in silent or not pushes.QUEUE.take(store, push, now + _wait(push)):
                continue  # its turn is later, or somebody else has it
            state = _try(store, shop, choice, phone, place, push, now)
            sent += state == "sent"
            if state == "waiting":
                silent.add(host)
    finally:
        store.close()
    return sent


def _wait(push: Push) -> timedelta:
    return WAITS[min(push.tries, len(WAITS) - 1)]


def _try(
    store: Store,
    shop: Shop,
    choice: PushChoice,
    phone: PushPhone | None,
    place: MailPlace,
    push: Push,
    now: datetime,
) -> str:
    """Tries one, and notes and returns how it then stands."""
    words = push_words.words_of(store, shop, phone, push, now) if phone else None
    if phone is None or words is None:
        return _note(store, push, "dropped", now)
    if not push_allowed_services.is_listed(choice, push_allowed_services.host_of(phone.endpoint)):
        return _note(store, push, "given-up", now, "refused")
    try:
        push_post.push(_sealed(store, phone, place, push, words, now))
    except push_post.NotPushed as error:
        if error.fault == "gone":
            with store.write_tx():
                push_phones.end(store, phone.id, now)
        over = now + _wait(push) - utc_time(push.queued_at) >= push_words.LASTS[push.kind]
        state = "given-up" if over or error.fault in push_post.FOR_GOOD else "waiting"
        return _note(store, push, state, now, error.fault)
    return _note(store, push, "sent", now)


def _note(store: Store, push: Push, state: str, now: datetime, fault: str = "") -> str:
    pushes.QUEUE.finish(store, push, state, now, fault)
    return state


def _sealed(
    store: Store,
    phone: PushPhone,
    place: MailPlace,
    push: Push,
    words: PushWords,
    now: datetime,
) -> push_post.Sealed:
    """The message as its service takes it (RFC 8030 section 5)."""
    from fitcounter.desk.messages import push_seal

    key = push_seal.shop_key(load_keys(place.data_dir).csrf_key)
    left = push_words.LASTS[push.kind] - (now - utc_time(push.queued_at))
    headers = {
        "Authorization": push_seal.signed(key, phone.endpoint, _contact(store, place), now),
        "Content-Encoding": "aes128gcm",
        "Content-Type": "application/octet-stream",
        "TTL": str(max(0, int(min(left, push_words.LASTS[push.kind]).total_seconds()))),
        "Urgency": "high" if push.kind in push_words.URGENT else "normal",
        "Topic": push_words.topic(push.event),
    }
    body = push_seal.sealed(words.payload(push), phone.p256dh, phone.auth)
    return push_post.Sealed(phone.endpoint, headers, body)


def _contact(store: Store, place: MailPlace) -> str:
    """Whom a service may write to (RFC 8292 section 2.1)."""
    account = mail_account.of_shop(store)
    return f"mailto:{account.sender}" if account else place.base_url
