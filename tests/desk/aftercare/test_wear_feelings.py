"""How did they feel? Asked after a wear, of each boot that the calendar is for."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fitcounter.desk.aftercare import wear_calendar, wear_feelings
from fitcounter.errors import OutOfOrder
from fitcounter.store import contacts, wears
from fitcounter.store.database import Act, Store


def test_it_is_asked_after_a_wear_alone(store: Store, home, act: Act) -> None:
    plan = wears.get(store, home.ticket_id)[1]
    today = plan.to_come[0].local_day
    assert wear_feelings.asked(store, home.ticket_id, plan, today) == {}
    with pytest.raises(OutOfOrder):
        wear_feelings.tell(store, act, home.ticket_id, "left", "good")
    start = plan.to_come[0].start
    later = Act(start + timedelta(hours=1))
    wear_calendar.record_wear(store, later, home.ticket_id, 1, start, 30)
    plan = wears.get(store, home.ticket_id)[1]
    assert wear_feelings.asked(store, home.ticket_id, plan, today) == {"left": "", "right": ""}
    assert wear_feelings.asked(store, home.ticket_id, replace(plan, boots="left"), today) == {
        "left": ""
    }
    wear_feelings.tell(store, later, home.ticket_id, "left", "sore")
    assert wear_feelings.asked(store, home.ticket_id, plan, today)["left"] == "sore"
    told = [one.said for one in contacts.follow_ups_of_ticket(store, home.ticket_id)]
    assert told.count(wear_feelings.SORE) == 1
