"""Signing in: a passphrase a person, a session kept by the server.

Passphrases are kept as scrypt N = 2^15, r = 8, p = 3 (OWASP password storage cheat sheet, equal cost to 2^17, 8, 1 with less
memory). The cookie holds a random reference; the file holds only its SHA-256.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.errors import BadInput, NotAllowed
from fitcounter.store import staff
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Person

_N, _R, _P = 2**15, 8, 3
SHIFT = timedelta(hours=10)
LEAST_PASSPHRASE = 15


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Who is signed in. session_id: the row to end. phone_id: the shop's phone it is bound to, if any."""

    person: Person
    session_id: int
    phone_id: int | None


def hash_passphrase(passphrase: str) -> str:
    salt = secrets.token_hex(16)
    return f"scrypt:{_N}:{_R}:{_P}${salt}${_scrypt(passphrase, salt)}"


def check_passphrase(passphrase: str, held: str) -> bool:
    """Takes the same time whether or not there is a hash to compare with."""
    salt, _, digest = held.partition("$")[2].partition("$")
    found = _scrypt(passphrase, salt or "no such person")
    return hmac.compare_digest(found, digest) and bool(digest)


def token_hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def add_person(store: Store, act: Act, name: str, initials: str, role: str, passphrase: str) -> Written:
    """A new person. Raises BadInput for a passphrase under 15 characters."""
    if len(passphrase) < LEAST_PASSPHRASE:
        raise BadInput(f"Use a passphrase of at least {LEAST_PASSPHRASE} characters; four plain words do well.", field="passphrase")
    hashed = hash_passphrase(passphrase)

    def write() -> Written:
        row = {"name": name, "initials": initials, "role": role, "passphrase_hash": hashed, "created_at": utc_text(act.at)}
        row_id = store.insert("staff", **row)
        return Written(row_id=row_id, detail={"staff": row_id, "role": role})

    return store.once(act, "staff-added", write)


def sign_in(store: Store, now: datetime, initials: str, passphrase: str, phone_id: int | None = None) -> str:
    """A new session's token. Raises NotAllowed with the same words for an unknown person and a wrong passphrase."""
    found = staff.by_initials(store, initials.strip())
    if not check_passphrase(passphrase, found[1] if found else "") or found is None:
        raise NotAllowed("Those initials and that passphrase do not belong together. Type both again.")
    token = secrets.token_urlsafe(32)
    person = found[0]

    def write() -> Written:
        row = {"token_hash": token_hash(token), "staff_id": person.id, "phone_id": phone_id, "started_at": utc_text(now)}
        row_id = store.insert("sessions", **row, seen_at=utc_text(now), ends_at=utc_text(now + SHIFT))
        return Written(row_id=row_id, detail={"session": row_id})

    store.once(Act(now, person.id, phone_id), "signed-in", write)
    return token


def who(store: Store, token: str, now: datetime) -> SignedIn | None:
    """Whose token it is, while the session lives."""
    found = staff.of_session(store, token_hash(token), now)
    return SignedIn(found[0], found[2], found[1]) if found else None


def sign_out(store: Store, act: Act, session_id: int) -> None:
    """Ends the session for good: its cookie opens nothing any more."""

    def write() -> Written:
        store.change("sessions", session_id, ended_at=utc_text(act.at))
        return Written(row_id=session_id, detail={"session": session_id})

    store.once(act, "signed-out", write)


def _scrypt(passphrase: str, salt: str) -> str:
    return hashlib.scrypt(passphrase.encode(), salt=salt.encode(), n=_N, r=_R, p=_P, maxmem=2**27).hex()
