"""Forms that came when nobody was signed in any more: kept for the person, so that a reading is
typed once.

They lie among the drafts, under an id that nobody can guess, for as long as drafts are kept. OWASP
ASVS 5.0 7.4.1 wants the session dead; nothing wants the reading dead with it.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime

from fitcounter.desk.common.drafts import KEEP_DAYS, MOST_TYPED
from fitcounter.errors import NotFound
from fitcounter.store import drafts, staff
from fitcounter.store.database import Act, Store, utc_time

KIND = "parked"
MOST_PARKED = 200  # of everybody; the oldest go first


@dataclass(frozen=True, slots=True)
class Parked:
    """path: where the form was sent to.

    typed: its fields as they came. initials: whose session it came from.
    """

    id: str
    path: str
    typed: tuple[tuple[str, str], ...]
    initials: str
    at: datetime


def park(store: Store, act: Act, path: str, typed: list[tuple[str, str]]) -> str:
    """Keeps a form; returns its id, or '' where it is too long to be one of ours."""
    if sum(len(key) + len(value) for key, value in typed) > MOST_TYPED or len(path) > 500:
        return ""
    parked_id = secrets.token_urlsafe(16)
    with store.write_tx():
        drafts.put(store, act, parked_id, KIND, typed, path)
        drafts.drop_but(store, KIND, MOST_PARKED)
    return parked_id


def get(store: Store, parked_id: str, now: datetime) -> Parked:
    """Raises NotFound."""
    held = drafts.get(store, parked_id)
    if held is None or held.kind != KIND or (now - utc_time(held.updated_at)).days >= KEEP_DAYS:
        raise NotFound("Nothing is kept there any more. Go to Today.")
    person = staff.get(store, held.staff_id or 0)
    return Parked(
        held.id,
        held.words,
        tuple(held.typed),
        person.initials if person else "",
        utc_time(held.updated_at),
    )


def everything(store: Store, now: datetime) -> list[Parked]:
    """All that is kept, latest first: for the owner, when somebody left with a form open."""
    return [
        get(store, one.id, now)
        for one in drafts.of_kind(store, KIND)
        if (now - utc_time(one.updated_at)).days < KEEP_DAYS
    ]


def drop(store: Store, parked_id: str) -> None:
    """It is saved now."""
    held = drafts.get(store, parked_id)
    if held is not None and held.kind == KIND:
        with store.write_tx():
            drafts.drop(store, parked_id)
