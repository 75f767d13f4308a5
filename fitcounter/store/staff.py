"""The shop's people and the hashes of their secrets."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store
from fitcounter.store.records import Person


class Secrets(NamedTuple):
    """The hashes a person is known by, '' where there is none."""

    passphrase_hash: str = ""
    pin_hash: str = ""


def everybody(store: Store) -> list[Person]:
    """Those who work here now, by initials."""
    return store.all(Person, "SELECT * FROM staff WHERE active = 1 ORDER BY initials")


def with_former(store: Store) -> list[Person]:
    """Also those who left, after the others."""
    return store.all(Person, "SELECT * FROM staff ORDER BY active DESC, initials")


def get(store: Store, staff_id: int) -> Person | None:
    return store.first(Person, "SELECT * FROM staff WHERE id = ?", staff_id)


def by_initials(store: Store, initials: str) -> Person | None:
    """The person who works here under these initials; capital letters or not."""
    return store.first(
        Person, "SELECT * FROM staff WHERE initials = ? COLLATE NOCASE AND active = 1", initials
    )


def taken(store: Store, initials: str, but: int = 0) -> bool:
    """Do these initials belong to anybody but one, even to somebody who left?"""
    return bool(
        store.value(
            "SELECT count(*) FROM staff WHERE initials = ? COLLATE NOCASE AND id <> ?",
            initials,
            but,
        )
    )


def owners(store: Store, but: int = 0) -> int:
    """How many owners work here, but one."""
    return int(
        store.value(
            "SELECT count(*) FROM staff WHERE role = 'owner' AND active = 1 AND id <> ?", but
        )
    )


def secrets_of(store: Store, staff_id: int) -> Secrets:
    row = store.rows("SELECT passphrase_hash, pin_hash FROM staff WHERE id = ?", staff_id)
    return Secrets(row[0]["passphrase_hash"] or "", row[0]["pin_hash"] or "") if row else Secrets()


def with_pin(store: Store) -> set[int]:
    """Who has a PIN."""
    return {int(row["id"]) for row in store.rows("SELECT id FROM staff WHERE pin_hash IS NOT NULL")}


def first_owner(store: Store) -> Person | None:
    """The owner who works here for longest."""
    return store.first(
        Person, "SELECT * FROM staff WHERE role = 'owner' AND active = 1 ORDER BY id LIMIT 1"
    )
