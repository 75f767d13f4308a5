"""The shop never loses its last owner."""

from __future__ import annotations

import pytest
from support.cast import Clock

from fitcounter.desk.staff import people
from fitcounter.errors import BadInput
from fitcounter.store import staff
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.opening import open_store


@pytest.mark.parametrize("how", ["leaves", "becomes bench"])
def test_two_owners_who_take_each_other_out_at_once_leave_one(
    store: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch, how: str
):
    """The other one's change is stored between the look at this form and its write."""
    with store.write_tx():
        second = store.insert(
            "staff", name="Second", initials="SO", role="owner", created_at="2026-01-01T00:00:00Z"
        )
    first, elsewhere, once = staff.by_initials(store, "OW"), open_store(store.path), Store.once
    assert first is not None

    def just_before(self: Store, act: Act, what: str, work) -> Written:
        if self is store:
            people.set_active(elsewhere, Act(clock.now, first.id), second, False)
        return once(self, act, what, work)

    monkeypatch.setattr(Store, "once", just_before)
    act, seen = Act(clock.now, second), (first.version, first.name, first.initials, "bench")
    ways = {
        "leaves": lambda: people.set_active(store, act, first.id, False),
        "becomes bench": lambda: people.change_person(store, act, first.id, *seen),
    }
    with pytest.raises(BadInput, match="needs an owner"):
        ways[how]()
    elsewhere.close()
    assert staff.owners(store) == 1
