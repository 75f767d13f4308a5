"""Forms that were begun: kept as typed while they are being typed, gone on with on any of the
shop's phones.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterable
from typing import Protocol

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.store import drafts
from fitcounter.store.database import Act, Store
from fitcounter.store.drafts import Draft

KEEP_DAYS = 14
MOST_TYPED = 20_000
_ID = re.compile(r"[A-Za-z0-9_-]{16,64}")
_NEVER = ("csrf_token", "submission_id", "passphrase", "pin", "signature")
# The fields that name a draft in the list, in this order.
_NAMED_BY = ("name", "phone", "description")


class FormValues(Protocol):
    """What came from a form: every name with its values."""

    def lists(self) -> Iterable[tuple[str, list[str]]]: ...


def new_id() -> str:
    return secrets.token_urlsafe(16)


def typed(store: Store, draft_id: str) -> list[tuple[str, str]]:
    """What was typed so far, and the draft's own id; empty where there is no such draft."""
    held = drafts.get(store, draft_id) if _ID.fullmatch(draft_id) else None
    return [*held.typed, ("draft", held.id)] if held else []


def begun(store: Store, kind: str) -> list[Draft]:
    """Latest first."""
    return drafts.of_kind(store, kind)


def keep(store: Store, act: Act, draft_id: str, kind: str, form: FormValues) -> None:
    """Keeps a form as typed in place of what was kept of it before.

    Raises BadInput when it is too long to be a form of ours.
    """
    if not _ID.fullmatch(draft_id):
        raise BadInput(
            say("This page is too old to save. Reload the page; what you typed is saved."),
            field="draft",
        )
    pairs = [
        (name, value)
        for name, values in form.lists()
        for value in values
        if name not in _NEVER and value
    ]
    if sum(len(value) for _, value in pairs) > MOST_TYPED:
        raise BadInput(say("That is too much for one ticket. Shorten the note."), field="note")
    words = next((value for name in _NAMED_BY for key, value in pairs if key == name), "")[:80]

    # not an act of the shop: a draft is kept at every pause of the typing, so it has no audit row
    # and no submission
    with store.write_tx():
        drafts.put(store, act, draft_id, kind, pairs, words)
