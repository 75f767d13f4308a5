"""Forms that came when their sender was signed out: kept for that person alone, so that a reading
is typed once.

They lie among the drafts, under an id that nobody can guess, for as long as drafts are kept. OWASP
ASVS 5.0 7.4.1 wants the session dead; nothing wants the reading dead with it. But nobody else's tap
may turn one person's typing into an act of their own: who typed it sees it and sends it, and
nothing is kept for somebody who has left.
"""

from __future__ import annotations

import secrets
from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.common.drafts import KEEP_DAYS, MOST_TYPED
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import NotAllowed, NotFound
from fitcounter.store import drafts, staff
from fitcounter.store.database import Act, Store, utc_time
from fitcounter.store.drafts import Draft

KIND = "parked"
MOST_A_PERSON = 20  # the oldest go first
GONE = marked("This form is saved already or was deleted. Go to Today.")


class HeldForm(NamedTuple):
    """path: where the form was sent to.

    typed: its fields as they came. staff_id, initials: whose it is.
    """

    id: str
    path: str
    typed: tuple[tuple[str, str], ...]
    staff_id: int
    initials: str
    at: datetime


def keep(store: Store, act: Act, path: str, typed: list[tuple[str, str]]) -> str:
    """Keeps a form for act's person; returns its id, or '' where there is nobody to keep it for or
    it is too long to be one of ours.
    """
    person = staff.get(store, act.staff_id or 0)
    if person is None or not person.active:
        return ""
    if sum(len(key) + len(value) for key, value in typed) > MOST_TYPED or len(path) > 500:
        return ""
    form_id = secrets.token_urlsafe(16)
    with store.write_tx():
        drafts.put(store, act, form_id, KIND, typed, path)
        drafts.drop_but(store, KIND, person.id, MOST_A_PERSON)
    return form_id


def get(store: Store, form_id: str, staff_id: int, now: datetime) -> HeldForm:
    """The form, for who typed it. Raises NotFound, for everybody else too."""
    draft = drafts.get(store, form_id)
    form = _lives(store, draft, now) if draft else None
    if form is None or form.staff_id != staff_id:
        raise NotFound(say(GONE))
    return form


def everything(store: Store, now: datetime, staff_id: int = 0) -> list[HeldForm]:
    """All that is kept, latest first: of one person, or of everybody who still works here."""
    forms = [_lives(store, draft, now) for draft in drafts.of_kind(store, KIND)]
    return [form for form in forms if form is not None and staff_id in (0, form.staff_id)]


def check_sender(store: Store, form_id: str, staff_id: int) -> None:
    """Raises NotAllowed where somebody else typed it; one that is not kept any more is free."""
    draft = drafts.get(store, form_id)
    if draft is None or draft.kind != KIND or draft.staff_id == staff_id:
        return
    person = staff.get(store, draft.staff_id or 0)
    if person is None:
        raise NotAllowed(say("Someone else typed this, and only they can save it."))
    raise NotAllowed(
        say(
            "{initials} typed this. Only {initials} can save it, after signing in.",
            initials=person.initials,
        )
    )


def drop(store: Store, form_id: str) -> None:
    """It is saved now."""
    draft = drafts.get(store, form_id)
    if draft is not None and draft.kind == KIND:
        with store.write_tx():
            drafts.drop(store, form_id)


def _lives(store: Store, draft: Draft, now: datetime) -> HeldForm | None:
    """As a form, where it is one, is young enough, and its person still works here."""
    person = staff.get(store, draft.staff_id or 0)
    at = utc_time(draft.updated_at)
    if draft.kind != KIND or person is None or not person.active or (now - at).days >= KEEP_DAYS:
        return None
    return HeldForm(draft.id, draft.words, tuple(draft.typed), person.id, person.initials, at)
