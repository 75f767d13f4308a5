"""Who does something and what a write did, as the audit and the submissions keep them."""

from __future__ import annotations

import hashlib
import hmac
import json
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, NamedTuple

# as JSON; made once, because json.dumps makes one each time it is told how
_ROW = json.JSONEncoder(separators=(",", ":"), ensure_ascii=False).encode
_DETAIL = json.JSONEncoder(sort_keys=True).encode


@dataclass(frozen=True, slots=True)
class Act:
    """Who does something, when, and which submission asks for it.

    at: aware UTC. submission_id: 8–64 characters made by the client, or None where nothing is sent
    twice (the command line).
    body_hash: of what was sent with it; the same id with another body is refused.
    """

    at: datetime
    staff_id: int | None = None
    phone_id: int | None = None
    submission_id: str | None = None
    body_hash: str = ""


class Written(NamedTuple):
    """What a write did: where to go next, and what the audit keeps (ids, states and measures; never
    names or phone numbers).
    """

    ticket_id: int | None = None
    item_id: int | None = None
    row_id: int | None = None
    words: str = ""
    detail: dict[str, Any] | None = None

    def as_text(self) -> str:
        return json.dumps([self.ticket_id, self.item_id, self.row_id, self.words])

    def detail_as_text(self) -> str:
        return _DETAIL(self.detail)

    @classmethod
    def from_text(cls, text: str) -> Written:
        ticket_id, item_id, row_id, words = json.loads(text)
        return cls(ticket_id, item_id, row_id, words)


def utc_text(at: datetime) -> str:
    """An aware datetime as stored: 2026-11-25T09:30:00Z, to the second."""
    return at.astimezone(UTC).replace(microsecond=0, tzinfo=None).isoformat() + "Z"


def utc_time(text: str) -> datetime:
    """The stored text as an aware datetime."""
    return datetime.fromisoformat(text)


def audit_hash(previous: str, row: dict[str, object], key: bytes = b"") -> str:
    """Over the hash before and the row's own words, keys in order: HMAC-SHA-256 (RFC 2104) with the
    shop's key, SHA-256 as it was before there was one.
    """
    said = (previous + _ROW({name: row[name] for name in sorted(row)})).encode()
    return hmac.digest(key, said, "sha256").hex() if key else hashlib.sha256(said).hexdigest()
