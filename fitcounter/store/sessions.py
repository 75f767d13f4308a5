"""Sessions as the server keeps them, and the shop's phones they may be bound to."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store
from fitcounter.store.records import Person
from fitcounter.store.row_records import field_names


class Session(NamedTuple):
    """staff_id: who signed in.

    who_id, who_at: whose initials were tapped last, and when. proved_at: when that person's PIN was
    right.
    """

    id: int
    token_hash: str
    staff_id: int
    phone_id: int | None
    started_at: str
    seen_at: str
    ends_at: str
    ended_at: str | None
    who_id: int | None
    who_at: str | None
    proved_at: str | None
    device: str


class ShopPhone(NamedTuple):
    """A phone of the shop; before it is enrolled it has a code to be enrolled by, and a day the
    code dies.
    """

    id: int
    label: str
    secret_hash: str | None
    enrol_hash: str | None
    enrol_until: str | None
    enrolled_at: str | None
    enrolled_by: int | None
    last_seen_at: str | None
    struck_at: str | None


_SESSION, _PERSON = field_names(Session), field_names(Person)
_COLUMNS = ", ".join([f"s.{name}" for name in _SESSION] + [f"p.{name}" for name in _PERSON])
_WITH_OPENER = (
    f"SELECT {_COLUMNS} FROM sessions s JOIN staff p ON p.id = s.staff_id WHERE s.token_hash = ?"
)


def by_token(store: Store, token_hash: str) -> Session | None:
    """Also one that has ended: what was typed in it is kept for its person."""
    return store.first(Session, "SELECT * FROM sessions WHERE token_hash = ?", token_hash)


def with_opener(store: Store, token_hash: str) -> tuple[Session, Person] | None:
    """The same, and who signed in."""
    row = store.db.conn.execute(_WITH_OPENER, [token_hash]).fetchone()
    if row is None:
        return None
    return Session(*row[: len(_SESSION)]), Person(*row[len(_SESSION) :])


def living(store: Store, now: str) -> list[Session]:
    """Latest seen first. now: UTC text."""
    return store.all(
        Session,
        "SELECT * FROM sessions WHERE ended_at IS NULL AND ends_at > ? ORDER BY seen_at DESC, id"
        " DESC",
        now,
    )


def end(
    store: Store,
    at: str,
    *,
    session_id: int = 0,
    staff_id: int = 0,
    phone_id: int = 0,
    but: int = 0,
) -> int:
    """Ends one session, or all of a person or a phone, but one; inside a write.

    Returns how many ended.
    """
    sql = (
        "UPDATE sessions SET ended_at = ? WHERE ended_at IS NULL AND id <> ? AND (id = ? OR"
        " staff_id = ? OR phone_id = ?)"
    )
    return int(store.db.execute(sql, [at, but, session_id, staff_id, phone_id]).rowcount)


def forget_person(store: Store, staff_id: int) -> None:
    """On phones that others signed in to, this person's initials are no longer the last; inside a
    write.
    """
    store.db.execute(
        "UPDATE sessions SET who_id = NULL, who_at = NULL, proved_at = NULL WHERE who_id = ?",
        [staff_id],
    )


def phone(store: Store, phone_id: int) -> ShopPhone | None:
    return store.first(ShopPhone, "SELECT * FROM phones WHERE id = ?", phone_id)


def phone_by_secret(store: Store, secret_hash: str) -> ShopPhone | None:
    return store.first(
        ShopPhone, "SELECT * FROM phones WHERE secret_hash = ? AND struck_at IS NULL", secret_hash
    )


def phone_by_code(store: Store, enrol_hash: str) -> ShopPhone | None:
    return store.first(ShopPhone, "SELECT * FROM phones WHERE enrol_hash = ?", enrol_hash)


def phones(store: Store) -> list[ShopPhone]:
    """Every phone that was ever enrolled, those in use first."""
    return store.all(
        ShopPhone,
        "SELECT * FROM phones WHERE enrolled_at IS NOT NULL ORDER BY struck_at IS NOT NULL,"
        " label, id",
    )


def drop_unclaimed(store: Store, before: str) -> None:
    """Phones whose code was never scanned, inside a write. before: UTC text."""
    store.db.execute("DELETE FROM phones WHERE enrolled_at IS NULL AND enrol_until < ?", [before])
