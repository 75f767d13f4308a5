"""What a calendar on hold says, and the shop's answer as it was said."""

from __future__ import annotations

from datetime import date

from fitcounter.desk.aftercare import not_right
from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.on_hold_words import HoldWords, hold_words
from fitcounter.desk.shop import Shop
from fitcounter.store import wears
from fitcounter.store.database import Act, Store


def said(store: Store, choices: Shop, ticket_id: int) -> HoldWords:
    return hold_words(store, choices, ticket_id, speech("en"))


def test_nothing_is_said_before_anything_is_told(store: Store, choices: Shop, home) -> None:
    assert said(store, choices, home.ticket_id) == HoldWords("", False, "", "", "")


def test_a_new_report_hides_the_answer_to_the_one_before(
    store: Store, choices: Shop, home, act: Act
) -> None:
    told = not_right.NotRightReport(felt=("left-numb",))
    not_right.report(store, act, home.ticket_id, told, date(2026, 3, 17))
    seen = not_right.standing(store, home.ticket_id).seen
    advice = not_right.ShopAnswer("doctor", "Today, please.", seen=seen)
    not_right.answer(store, act, home.ticket_id, advice)
    answered = said(store, choices, home.ticket_id)
    assert answered.headline == "Boots off. See a doctor first."
    assert answered.note == "Today, please."
    assert not answered.waiting

    not_right.report(store, act, home.ticket_id, told, date(2026, 3, 17))
    again = said(store, choices, home.ticket_id)
    assert again.waiting
    assert again.note == ""
    assert wears.get(store, home.ticket_id)[1].held_since == act.at
