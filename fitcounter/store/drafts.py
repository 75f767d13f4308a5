"""Forms that were begun and not sent: kept as typed, to be gone on with on any of the shop's
phones.
"""

from __future__ import annotations

import json
from typing import NamedTuple

from fitcounter.store.database import Act, Store, utc_text


class Draft(NamedTuple):
    """form: JSON of [name, value] pairs as typed. words: how it is called in the list."""

    id: str
    kind: str
    form: str
    words: str
    staff_id: int | None
    updated_at: str

    @property
    def typed(self) -> list[tuple[str, str]]:
        return [(str(name), str(value)) for name, value in json.loads(self.form)]


def get(store: Store, draft_id: str) -> Draft | None:
    return store.first(Draft, "SELECT * FROM drafts WHERE id = ?", draft_id)


def of_kind(store: Store, kind: str) -> list[Draft]:
    """Latest first."""
    return store.all(
        Draft, "SELECT * FROM drafts WHERE kind = ? ORDER BY updated_at DESC, id", kind
    )


def how_many_but(store: Store, kind: str) -> int:
    """Of every other kind."""
    return int(store.value("SELECT count(*) FROM drafts WHERE kind <> ?", kind))


def put(
    store: Store, act: Act, draft_id: str, kind: str, typed: list[tuple[str, str]], words: str
) -> None:
    """Keeps a form as typed, inside a write; the same id again takes its place."""
    form = json.dumps(typed, ensure_ascii=False)
    store.db.execute(
        "INSERT INTO drafts (id, kind, form, words, staff_id, updated_at) VALUES (?, ?, ?, ?, ?, ?)"
        " ON CONFLICT (id) DO UPDATE SET form = excluded.form, words = excluded.words, staff_id ="
        " excluded.staff_id, updated_at = excluded.updated_at",
        [draft_id, kind, form, words, act.staff_id, utc_text(act.at)],
    )


def drop(store: Store, draft_id: str) -> None:
    """Inside a write."""
    store.db.execute("DELETE FROM drafts WHERE id = ?", [draft_id])


def drop_before(store: Store, before: str) -> None:
    """Those not touched since an instant (UTC text), inside a write."""
    store.db.execute("DELETE FROM drafts WHERE updated_at < ?", [before])


def drop_but(store: Store, kind: str, staff_id: int, newest: int) -> None:
    """All of a kind and a person but the newest, inside a write."""
    theirs = "FROM drafts WHERE kind = ? AND staff_id = ?"
    sql = f"DELETE {theirs} AND id NOT IN (SELECT id {theirs} ORDER BY updated_at DESC LIMIT ?)"
    store.db.execute(sql, [kind, staff_id, kind, staff_id, newest])


def drop_of(store: Store, kind: str, staff_id: int) -> None:
    """All of a kind and a person, inside a write."""
    store.db.execute("DELETE FROM drafts WHERE kind = ? AND staff_id = ?", [kind, staff_id])
