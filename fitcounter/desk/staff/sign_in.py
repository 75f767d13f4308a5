"""Signing in: a passphrase anywhere, a PIN on a phone of the shop; a session kept by the server,
dead when it is ended.

The cookie holds a random reference of 256 bits, the file only its SHA-256. On a phone of the shop
the session belongs to the phone: whoever taps their initials at Save did it, and a right PIN proves
it for a few minutes. Limits of time: OWASP ASVS 5.0 7.3.1, 7.3.2.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.staff import attempts
from fitcounter.desk.staff import passphrase_and_pin as staff_secrets
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import NotAllowed
from fitcounter.store import sessions, staff, throttle
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Person
from fitcounter.store.sessions import Session, ShopPhone

SHIFT = timedelta(hours=10)  # a long working day; then everybody signs in once more
IDLE = timedelta(minutes=30)  # on a device that is not a phone of the shop
SAME_HANDS = timedelta(minutes=5)  # so long the last initials, and the last PIN, still count
CLOCK_SLACK = timedelta(minutes=5)  # a clock set back further than this ends every session
SEEN_EVERY = timedelta(minutes=1)
MOST_PIN_FAILURES = 20  # in a row on one phone; then it is no phone of the shop any more
SIGNED_OUT = "signed-out"
WRONG = marked("Wrong initials or passphrase. Type both again.")
WRONG_PIN = marked("Wrong PIN for these initials. Type the PIN again.")


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Who is at it. person: who acts. session_id: the row to end; seen_at: when it was last written
    that it is in use, UTC text.

    phone_id: the shop's phone the session is bound to, if any. asks_who: nobody tapped their
    initials on this phone lately.

    proved: a passphrase here, or the person's PIN a moment ago. proved_now: the PIN came with this
    very request.
    """

    person: Person
    session_id: int
    seen_at: str
    phone_id: int | None = None
    asks_who: bool = False
    proved: bool = True
    proved_now: bool = False


@dataclass(frozen=True, slots=True)
class Device:
    """Where somebody signs in.

    address: the network address it comes from. words: what it calls itself. known: a name of chance
    where the person who comes had signed in here before, '' elsewhere.
    """

    address: str = ""
    words: str = ""
    phone: ShopPhone | None = None
    known: str = ""


@dataclass(frozen=True, slots=True)
class _Proof:
    """Somebody whose secret was right.

    counted: the keys under which this try was counted, the person's own first. renewed: the columns
    of a secret that was hashed again.
    """

    person: Person
    counted: tuple[str, ...] = ()
    renewed: Mapping[str, object] = field(default_factory=dict)


def sign_in(
    store: Store,
    now: datetime,
    initials: str,
    passphrase: str,
    device: Device,
    before: SignedIn | None = None,
) -> str:
    """A new session's token; the one before it ends in the same write.

    Raises NotAllowed with the same words for an unknown person and a wrong passphrase,
    TooManyTries.
    """
    initials = initials.strip().upper()
    keys = attempts.counted_under(initials, device.address, device.known)
    attempts.reserve(store, now, keys)
    person = staff.by_initials(store, initials)
    held = staff.secrets_of(store, person.id).passphrase_hash if person else ""
    with attempts.no_try_where_busy(store, keys):
        right = staff_secrets.matches(passphrase, held)
    if not right or person is None:
        attempts.refused(store, now, person, None)
        raise NotAllowed(say(WRONG))
    renewed = (
        {"passphrase_hash": staff_secrets.hash_secret(passphrase)}
        if staff_secrets.outdated(held)
        else {}
    )
    return _begin(store, now, _Proof(person, tuple(keys), renewed), device, before)


def open_phone(
    store: Store,
    now: datetime,
    staff_id: int,
    pin: str,
    device: Device,
    before: SignedIn | None = None,
) -> str:
    """Begins the shift of a phone of the shop. Raises NotAllowed, TooManyTries."""
    phone = device.phone
    if phone is None:  # a stranger's device: no work is done for it, and it knows what it is
        raise NotAllowed(say(WRONG_PIN))
    person = check_pin(store, now, staff_id, pin, phone.id)
    return _begin(store, now, _Proof(person), device, before)


def check_pin(store: Store, now: datetime, staff_id: int, pin: str, phone_id: int) -> Person:
    """The person, when the PIN is theirs.

    Raises NotAllowed; TooManyTries; at the twentieth failure of a day the phone is retired.
    """
    key = f"pin:{phone_id}:{staff_id}"
    staff_throttle.spend(store, key, staff_throttle.PIN, now)
    person = staff.get(store, staff_id)
    held = staff.secrets_of(store, staff_id).pin_hash if person and person.active else ""
    with attempts.no_try_where_busy(store, [key]):
        right = staff_secrets.matches(pin, held)
    if not right or person is None:
        attempts.refused(store, now, person, phone_id)
        since = utc_text(now - staff_throttle.PIN.quiet)
        if throttle.total(store, f"pin:{phone_id}:", since) >= MOST_PIN_FAILURES:
            retire_phone(store, Act(now, None, phone_id), phone_id)
            raise NotAllowed(
                say(
                    "The PIN was wrong too often, so this phone is removed from the shop. The owner"
                    " can add it again."
                )
            )
        raise NotAllowed(say(WRONG_PIN))
    staff_throttle.forget(store, key)
    return person


def who(store: Store, token: str, now: datetime, phone: ShopPhone | None) -> SignedIn | None:
    """Whose token it is, while the session lives.

    phone: the shop's phone that the request came from.
    """
    found = sessions.with_opener(store, token_hash(token))
    if found is None:
        return None
    row, opener = found
    if not opener.active or not _lives(row, now, phone):
        return None
    if row.phone_id is None:
        return SignedIn(opener, row.id, row.seen_at)
    person = (staff.get(store, row.who_id) if row.who_id else None) or opener
    fresh = row.who_at is not None and _within(row.who_at, now, SAME_HANDS)
    proved = row.proved_at is not None and _within(row.proved_at, now, SAME_HANDS)
    return SignedIn(person, row.id, row.seen_at, row.phone_id, not fresh, proved)


def sender_of(store: Store, token: str, phone_id: int | None) -> Person | None:
    """Who used a session last, dead or alive: what they typed is kept for them.

    phone_id: the shop's phone that the request comes from. None for a token that never was ours, or
    one that comes from another device than its phone.
    """
    row = sessions.by_token(store, token_hash(token))
    if row is None or row.phone_id not in (None, phone_id):
        return None
    return staff.get(store, row.who_id or row.staff_id)


def touch(store: Store, now: datetime, signed_in: SignedIn) -> None:
    """The session is in use; written at most once a minute."""
    if now - utc_time(signed_in.seen_at) >= SEEN_EVERY:
        with store.write_tx():
            store.change("sessions", signed_in.session_id, seen_at=utc_text(now))
            if signed_in.phone_id is not None:
                store.change("phones", signed_in.phone_id, last_seen_at=utc_text(now))


def took_over(store: Store, now: datetime, signed_in: SignedIn) -> None:
    """These initials were tapped on a phone of the shop.

    A proof is begun by a PIN alone, and no other form makes it last; other hands end it.
    """
    columns: dict[str, object] = {"who_id": signed_in.person.id, "who_at": utc_text(now)}
    if signed_in.proved_now:
        columns["proved_at"] = utc_text(now)
    elif not signed_in.proved:
        columns["proved_at"] = None
    with store.write_tx():
        store.change("sessions", signed_in.session_id, None, **columns)


def end_session(store: Store, act: Act, session_id: int) -> Written:
    """Ends the session for good: its cookie opens nothing any more."""
    return store.once(act, SIGNED_OUT, lambda: _end(store, act, session_id))


def _end(store: Store, act: Act, session_id: int) -> Written:
    sessions.end(store, utc_text(act.at), session_id=session_id)
    return Written(row_id=session_id, words="signed out", detail={"session": session_id})


def retire_phone(store: Store, act: Act, phone_id: int) -> Written:
    """A lost phone: its secret and its sessions open nothing any more."""

    def write() -> Written:
        store.change(
            "phones", phone_id, secret_hash=None, enrol_hash=None, struck_at=utc_text(act.at)
        )
        ended = sessions.end(store, utc_text(act.at), phone_id=phone_id)
        throttle.drop_under(store, f"pin:{phone_id}:")
        return Written(
            row_id=phone_id, words="struck off", detail={"phone": phone_id, "sessions_ended": ended}
        )

    return store.once(act, "phone-struck", write)


def _lives(row: Session, now: datetime, phone: ShopPhone | None) -> bool:
    if (
        row.ended_at is not None
        or now >= utc_time(row.ends_at)
        or now < utc_time(row.seen_at) - CLOCK_SLACK
    ):
        return False
    if row.phone_id is not None:  # the session is worth nothing without the phone's own secret
        return phone is not None and phone.id == row.phone_id
    return now - utc_time(row.seen_at) < IDLE


def _within(at: str, now: datetime, span: timedelta) -> bool:
    return -CLOCK_SLACK <= now - utc_time(at) < span


def _begin(
    store: Store,
    now: datetime,
    proof: _Proof,
    device: Device,
    before: SignedIn | None,
) -> str:
    """Writes the session; its token."""
    person = proof.person
    token = secrets.token_urlsafe(32)
    at = utc_text(now)
    phone_id = device.phone.id if device.phone else None
    of_phone = {"who_id": person.id, "who_at": at, "proved_at": at} if device.phone else {}

    def write() -> Written:
        for key in proof.counted[:1]:
            throttle.drop(store, key)
        for key in proof.counted[1:]:
            staff_throttle.take_back(store, key)
        if proof.renewed:
            store.change("staff", person.id, None, **proof.renewed)
        row = {
            "token_hash": token_hash(token),
            "staff_id": person.id,
            "phone_id": phone_id,
            "device": device.words,
            **of_phone,
        }
        if before is not None:
            old = Act(now, before.person.id, before.phone_id)
            store.audit(old, SIGNED_OUT, _end(store, old, before.session_id))
        row_id = store.insert(
            "sessions", **row, started_at=at, seen_at=at, ends_at=utc_text(now + SHIFT)
        )
        return Written(row_id=row_id, detail={"session": row_id})

    store.once(Act(now, person.id, phone_id), "signed-in", write)
    return token
