"""What the calendar asks of the customer now."""

from __future__ import annotations

from datetime import timedelta

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.calendar_today import calendar_today
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


def test_the_last_change_can_be_undone_for_a_day(store: Store, home, act: Act) -> None:
    ticket, words = tickets.get(store, home.ticket_id), speech("en")
    wear_calendar.choose_hour(store, act, ticket.id, 20, 15)
    for hours, undo in ((1, "Undo: keep the old time"), (25, "")):
        now = act.at + timedelta(hours=hours)
        today = calendar_today(store, ticket, now, words)
        assert today is not None
        assert (today.undo, today.hour) == (undo, "20:15")
