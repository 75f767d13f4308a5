"""A report puts the calendar on hold, and only a person's answer ends it."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.aftercare import not_right
from fitcounter.errors import BadInput, NotAllowed
from fitcounter.store import wears
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def test_an_answer_needs_a_person_a_choice_a_note_and_a_day(store: Store, home, act: Act) -> None:
    told = not_right.NotRightReport(felt=("left-numb", "right-tight"))
    not_right.report(store, act, home.ticket_id, told, TODAY)
    now = not_right.standing(store, home.ticket_id)
    assert not_right.signs_in_words(now.reports[0].felt) == [
        "left: Numb or tingling",
        "right: Only tight",
    ]
    for typed in (
        not_right.ShopAnswer("", "Fine.", TODAY, now.seen),
        not_right.ShopAnswer("go-on", "", TODAY, now.seen),
        not_right.ShopAnswer("go-on", "Fine.", None, now.seen),
    ):
        with pytest.raises(BadInput):
            not_right.answer(store, act, home.ticket_id, typed)
    nobody, typed = Act(act.at), not_right.ShopAnswer("go-on", "Fine.", TODAY, now.seen)
    with pytest.raises(NotAllowed):
        not_right.answer(store, nobody, home.ticket_id, typed)
    assert wears.get(store, home.ticket_id)[1].held_since == act.at
    not_right.answer(store, act, home.ticket_id, typed)
    assert wears.get(store, home.ticket_id)[1].held_since is None
