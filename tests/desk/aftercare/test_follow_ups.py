"""The shop's follow-up list fills when a customer complains, and empties when it is answered."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.aftercare import follow_ups as aftercare_follow_ups
from fitcounter.errors import BadInput
from fitcounter.store import contacts
from fitcounter.store.database import Act, Store


def test_not_right_is_on_todays_list_until_it_is_answered(store: Store, home, act: Act):
    row_id = (
        aftercare_follow_ups.report_not_right(
            store, act, home.ticket_id, ("left", "ankle"), "rubs", date(2026, 3, 17)
        ).row_id
        or 0
    )
    assert [
        (one.kind, one.side, one.place) for one in contacts.due_follow_ups(store, date(2026, 3, 17))
    ] == [("not-right", "left", "ankle")]
    aftercare_follow_ups.answer(store, act, row_id, "comes in tomorrow")
    assert contacts.due_follow_ups(store, date(2026, 3, 17)) == []


def test_nothing_said_is_asked_for(store: Store, home, act: Act):
    with pytest.raises(BadInput):
        aftercare_follow_ups.report_not_right(
            store, act, home.ticket_id, (None, ""), "", date(2026, 3, 17)
        )
    with pytest.raises(BadInput):
        aftercare_follow_ups.answer(store, act, 1, "")
