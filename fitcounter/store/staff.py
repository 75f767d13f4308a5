"""The shop's people, their sessions and the counting of failed tries."""

from __future__ import annotations

from datetime import datetime

from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Person


def everybody(store: Store) -> list[Person]:
    return store.all(Person, "SELECT * FROM staff WHERE active = 1 ORDER BY initials")


def by_initials(store: Store, initials: str) -> tuple[Person, str] | None:
    """The person and the stored hash of the passphrase."""
    row = next(iter(store.rows("SELECT * FROM staff WHERE initials = ? AND active = 1", initials)), None)
    if row is None:
        return None
    person = store.first(Person, "SELECT * FROM staff WHERE id = ?", row["id"])
    return (person, row["passphrase_hash"] or "") if person else None


def of_session(store: Store, token_hash: str, now: datetime) -> tuple[Person, int | None, int] | None:
    """Whose session it is: the person, the phone it is bound to, and the session's id. None when it has ended."""
    row = next(
        iter(
            store.rows(
                "SELECT s.id, s.staff_id, s.phone_id FROM sessions s JOIN staff p ON p.id = s.staff_id AND p.active = 1"
                " WHERE s.token_hash = ? AND s.ended_at IS NULL AND s.ends_at > ?",
                token_hash,
                utc_text(now),
            )
        ),
        None,
    )
    if row is None:
        return None
    person = store.first(Person, "SELECT * FROM staff WHERE id = ?", row["staff_id"])
    return (person, row["phone_id"], row["id"]) if person else None
