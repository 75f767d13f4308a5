"""Who works here: known by initials, and never two under the same ones."""

from __future__ import annotations

from fitcounter.store import staff
from fitcounter.store.database import Store

AT = "2026-03-17T14:00:00Z"


def add(store: Store, initials: str, **columns: object) -> int:
    row = {"name": initials, "role": "bench", "created_at": AT, **columns}
    with store.write_tx():
        return store.insert("staff", initials=initials, **row)


def leave(store: Store, staff_id: int) -> None:
    with store.write_tx():
        store.change("staff", staff_id, active=0)


def test_somebody_who_left_comes_after_those_who_work_here_and_is_not_found(store: Store):
    gone = add(store, "AA")
    leave(store, gone)
    assert [one.initials for one in staff.everybody(store)] == ["BE", "CO", "OW"]
    assert [one.initials for one in staff.with_former(store)] == ["BE", "CO", "OW", "AA"]
    assert staff.by_initials(store, "AA") is None
    left = staff.get(store, gone)
    assert left is not None
    assert left.initials == "AA"


def test_initials_are_one_in_capitals_or_not_and_stay_taken_after_their_person_left(store: Store):
    found = staff.by_initials(store, "co")
    assert found is not None
    assert found.name == "Cora"
    leave(store, found.id)
    assert staff.taken(store, "cO")
    assert not staff.taken(store, "CO", but=found.id)
    assert not staff.taken(store, "ZZ")


def test_owners_are_counted_without_those_who_left(store: Store):
    first = staff.first_owner(store)
    assert first is not None
    second = add(store, "SO", role="owner")
    assert (staff.owners(store), staff.owners(store, but=second)) == (2, 1)
    leave(store, first.id)
    assert staff.owners(store) == 1
    then = staff.first_owner(store)
    assert then is not None
    assert then.id == second


def test_a_person_without_a_pin_has_no_hash_of_one(store: Store):
    pinned = add(store, "PI", passphrase_hash="pass", pin_hash="pin")
    assert staff.with_pin(store) == {pinned}
    assert staff.secrets_of(store, pinned) == staff.Secrets("pass", "pin")
    assert staff.secrets_of(store, add(store, "NO")) == staff.Secrets()
    assert staff.secrets_of(store, 99) == staff.Secrets()
