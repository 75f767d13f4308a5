"""Sessions and the shop's phones as rows: what lives, what has ended, what was never taken in."""

from __future__ import annotations

import pytest

from fitcounter.store import sessions
from fitcounter.store.database import Store

NOW, LATER = "2026-03-17T14:00:00Z", "2026-03-17T22:00:00Z"


def begin(store: Store, token: str, staff_id: int = 1, **columns: object) -> int:
    times = {"started_at": NOW, "seen_at": NOW, "ends_at": LATER}
    with store.write_tx():
        return store.insert("sessions", token_hash=token, staff_id=staff_id, **times | columns)


def phone(store: Store, label: str, **columns: object) -> int:
    with store.write_tx():
        return store.insert("phones", label=label, **columns)


def living(store: Store, now: str = NOW) -> list[str]:
    return [one.token_hash for one in sessions.living(store, now)]


def test_a_session_lives_until_its_end_and_the_latest_seen_comes_first(store: Store):
    begin(store, "a")
    begin(store, "b", seen_at="2026-03-17T15:00:00Z")
    assert living(store) == ["b", "a"]
    assert living(store, LATER) == []


@pytest.mark.parametrize(
    ("which", "left"),
    [
        ({"staff_id": 1}, ["other", "on phone"]),
        ({"phone_id": 1}, ["other", "this", "mine"]),
        ({"staff_id": 1, "but": 2}, ["other", "on phone", "this"]),
        ({"session_id": 1}, ["other", "on phone", "this"]),
    ],
)
def test_one_session_ends_or_all_of_a_person_or_of_a_phone(
    store: Store, which: dict[str, int], left: list[str]
):
    phone(store, "Bench", enrolled_at=NOW)
    begin(store, "mine")
    begin(store, "this")
    begin(store, "on phone", 2, phone_id=1)
    begin(store, "other", 3)
    with store.write_tx():
        assert sessions.end(store, NOW, **which) == 4 - len(left)
        assert sessions.end(store, NOW, **which) == 0
    assert living(store) == left


def test_a_session_that_has_ended_is_still_known_by_its_token(store: Store):
    session_id = begin(store, "a")
    with store.write_tx():
        sessions.end(store, NOW, session_id=session_id)
    ended = sessions.by_token(store, "a")
    assert ended is not None
    assert ended.ended_at == NOW
    assert sessions.by_token(store, "b") is None


def test_a_person_who_is_forgotten_is_no_longer_the_last_on_anybodys_phone(store: Store):
    for token, who in (("a", 2), ("b", 3)):
        begin(store, token, who_id=who, who_at=NOW, proved_at=NOW)
    with store.write_tx():
        sessions.forget_person(store, 2)
    found = [sessions.by_token(store, token) for token in ("a", "b")]
    assert [(one.who_id, one.proved_at) for one in found if one] == [(None, None), (3, NOW)]


def test_a_phone_that_was_struck_off_is_listed_last_and_its_secret_opens_nothing(store: Store):
    phone(store, "A", secret_hash="old", enrolled_at=NOW, struck_at=NOW)
    kept = phone(store, "B", secret_hash="new", enrolled_at=NOW)
    phone(store, "", enrol_hash="code", enrol_until=LATER)
    assert [one.label for one in sessions.phones(store)] == ["B", "A"]
    assert sessions.phone_by_secret(store, "old") is None
    found = sessions.phone_by_secret(store, "new")
    assert found is not None
    assert found.id == kept
    assert sessions.phone(store, kept) == found


def test_only_a_code_that_nobody_scanned_in_time_goes(store: Store):
    for code, until in (("early", NOW), ("late", LATER)):
        phone(store, "", enrol_hash=code, enrol_until=until)
    phone(store, "B", enrol_hash="used", enrol_until=NOW, enrolled_at=NOW)
    with store.write_tx():
        sessions.drop_unclaimed(store, "2026-03-17T14:00:01Z")
    known = [sessions.phone_by_code(store, code) is not None for code in ("early", "late", "used")]
    assert known == [False, True, True]
