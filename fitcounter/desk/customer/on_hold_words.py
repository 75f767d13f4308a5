"""Boots off: what a calendar on hold says to the customer, and what the shop answered, as said."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fitcounter.desk.aftercare import not_right
from fitcounter.desk.common.translation import Speech, marked
from fitcounter.desk.shop import Shop
from fitcounter.store import staff
from fitcounter.store.bench_records import WearAdvice
from fitcounter.store.database import Store, utc_time

WAITING = marked("Boots off until the shop has answered.")
HEADLINES = {
    "come-in": marked("Boots off. Bring them to the shop."),
    "doctor": marked("Boots off. See a doctor first."),
    "stop": marked("Boots off. Do not wear these boots."),
}
GO_ON = marked("The shop has answered: go on from {day}.")


class HoldWords(NamedTuple):
    """headline: what the calendar says instead of a wear, "" where it is not on hold. waiting: no
    answer yet. answer: what it comes to, where the calendar goes on; note: the shop's own words,
    "" where none stand. who: by whom and when they were said.
    """

    headline: str
    waiting: bool
    answer: str
    note: str
    who: str


def hold_words(store: Store, shop: Shop, ticket_id: int, words: Speech) -> HoldWords:
    """What stands of hold and answer on every form of the calendar, in the customer's language."""
    now = not_right.standing(store, ticket_id)
    advice = None if now.reports else now.advice
    if not now.held:
        goes_on = advice is not None and advice.from_day is not None
        day = date.fromisoformat(advice.from_day) if advice and advice.from_day else None
        answer = words.say(GO_ON, day=words.day(day)) if day else ""
        return HoldWords("", False, answer, *_said(store, shop, advice if goes_on else None, words))
    held_by = advice if advice and advice.advice in HEADLINES else None
    headline = words.say(HEADLINES[held_by.advice] if held_by else WAITING)
    return HoldWords(headline, held_by is None, "", *_said(store, shop, held_by, words))


def _said(store: Store, shop: Shop, advice: WearAdvice | None, words: Speech) -> tuple[str, str]:
    """The note and who said it when; both empty where there is no advice."""
    if advice is None or not advice.note:
        return "", ""
    person = staff.get(store, advice.staff_id)
    name = person.name.split()[0] if person and person.name.split() else shop.name
    when = words.moment(shop.local(utc_time(advice.at)))
    return advice.note, words.say("{name}, {when}", name=name, when=when)
