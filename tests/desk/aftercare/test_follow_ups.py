"""The shop's follow-up list fills when a customer complains, and empties when it is answered."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.aftercare import follow_ups as aftercare_follow_ups
from fitcounter.desk.aftercare import not_right
from fitcounter.errors import BadInput, OutOfOrder
from fitcounter.store import contacts
from fitcounter.store.database import Act, Store


def test_what_is_not_right_leaves_the_list_by_a_persons_advice_alone(store: Store, home, act: Act):
    today, told = (
        date(2026, 3, 17),
        not_right.NotRightReport(side="left", place="ankle", text="rubs"),
    )
    row_id = not_right.report(store, act, home.ticket_id, told, today).row_id or 0
    assert [(one.kind, one.side, one.place) for one in contacts.due_follow_ups(store, today)] == [
        ("not-right", "left", "ankle")
    ]
    with pytest.raises(OutOfOrder):
        aftercare_follow_ups.answer(store, act, row_id, "good")
    seen = not_right.standing(store, home.ticket_id).seen
    advice = not_right.ShopAnswer("come-in", "Bring them tomorrow.", seen=seen)
    not_right.answer(store, act, home.ticket_id, advice)
    assert contacts.due_follow_ups(store, today) == []


def test_nothing_said_is_asked_for(store: Store, home, act: Act):
    with pytest.raises(BadInput):
        not_right.report(store, act, home.ticket_id, not_right.NotRightReport(), date(2026, 3, 17))
    with pytest.raises(BadInput):
        aftercare_follow_ups.answer(store, act, 1, "")
