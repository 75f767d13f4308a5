"""The shop's own phones: taken in by scanning a code from the owner's screen, struck off in one
action.

A phone keeps a secret of 256 bits in a cookie; the file keeps its SHA-256. The code that is scanned
is good once, for ten minutes.
"""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import Expired, NotFound
from fitcounter.papers.qr_code import square
from fitcounter.store import sessions, staff
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Person
from fitcounter.store.sessions import Session, ShopPhone

CODE_LIVES = timedelta(minutes=10)
LONGEST_LABEL = 40


class LivingSession(NamedTuple):
    """One session that lives. phone: the shop's phone it is on, if any."""

    session: Session
    person: Person | None
    phone: ShopPhone | None


def new_code(store: Store, act: Act) -> str:
    """A code to be scanned by the phone to be."""
    code = secrets.token_urlsafe(24)
    until = utc_text(act.at + CODE_LIVES)

    def write() -> Written:
        sessions.drop_unclaimed(store, utc_text(act.at))
        row_id = store.insert(
            "phones",
            label="",
            enrol_hash=token_hash(code),
            enrol_until=until,
            enrolled_by=act.staff_id,
        )
        return Written(row_id=row_id, detail={"phone": row_id})

    store.once(act, "phone-code", write)
    return code


def waiting(store: Store, code: str, now: datetime) -> ShopPhone:
    """The phone to be that this code stands for. Raises NotFound, Expired."""
    phone = sessions.phone_by_code(store, token_hash(code))
    if phone is None:
        raise NotFound(say("This code does not work. Ask the owner for a new one: Shop, Phones."))
    if phone.enrol_until is None or now >= utc_time(phone.enrol_until):
        raise Expired(
            say("This code is older than ten minutes. Ask the owner for a new one: Shop, Phones.")
        )
    return phone


def enrol(store: Store, act: Act, code: str, label: str) -> str:
    """Takes the phone in; returns its secret, which is kept nowhere else.

    Raises NotFound, Expired.
    """
    secret = secrets.token_urlsafe(32)

    def write() -> Written:
        phone = waiting(store, code, act.at)
        columns = {
            "label": label,
            "secret_hash": token_hash(secret),
            "enrol_hash": None,
            "enrol_until": None,
        }
        store.change(
            "phones",
            phone.id,
            None,
            **columns,
            enrolled_at=utc_text(act.at),
            last_seen_at=utc_text(act.at),
        )
        return Written(row_id=phone.id, detail={"phone": phone.id})

    store.once(act, "phone-enrolled", write)
    return secret


def of_secret(store: Store, secret: str) -> ShopPhone | None:
    """The shop's phone with this secret, unless it was struck off."""
    return sessions.phone_by_secret(store, token_hash(secret))


def listed(store: Store) -> list[ShopPhone]:
    return sessions.phones(store)


def open_now(store: Store, now: datetime, staff_id: int = 0) -> list[LivingSession]:
    """The sessions that live, latest used first; of one person, or everybody's."""
    known = {phone.id: phone for phone in sessions.phones(store)}
    return [
        LivingSession(session, staff.get(store, session.staff_id), known.get(session.phone_id or 0))
        for session in sessions.living(store, utc_text(now))
        if staff_id in (0, session.staff_id)
    ]


def qr_code(address: str) -> str:
    """The address as a code for another phone's camera: an SVG element."""
    return square(address, title=say("Scan this code with the phone"), level="M")
