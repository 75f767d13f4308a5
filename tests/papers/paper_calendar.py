"""A plan as a sheet for paper and for the saved page, in English and at Spanish length."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.calendar import TEXTS as SENTENCES
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import preset
from fitcounter.fit.wear.wear_calendar import make_plan
from fitcounter.papers.calendar_records import CalendarSheet, WearLine

PICKED_UP = datetime(2026, 4, 24, 15, tzinfo=UTC)
TEXTS = {
    "calendar": "Wearing in your boots",
    "put_on": "Put your boots on now",
    "take_off": "Take your boots off now",
    "why": "The leather takes the shape of your leg in the first minutes.",
    "stop": "Take them off at once if your foot tingles or goes numb.",
    "ordinary": "Out to lunch in your boots",
    "ordinary_more": "See how they feel.",
    "whole_day": "Your first whole day in them",
    "whole_day_more": "Take a second pair along.",
    "guarantee": "Last day of your guarantee",
    "guarantee_more": "If a boot has gone back, we hold it once more.",
    "copy": "This copy does not change by itself.",
    "call": "Questions? Call Quillmarsh Leather Bench, 555 0142.",
}


def sheet_of(plan, **changes) -> CalendarSheet:
    """The sheet of a plan, as the desk makes it."""
    zone = ZoneInfo(plan.zone)
    wears = []
    for wear in plan.wears:
        begin, end = (
            moment.astimezone(zone).replace(tzinfo=None) for moment in (wear.began, wear.ended)
        )
        steps = len(plan.rules.minutes)
        words = (
            f"Boots on for {wear.minutes} minutes ({wear.n} of {steps})"
            if wear.n
            else "Extra time in your boots"
        )
        wears.append(
            WearLine(wear.n, begin, end, wear.actual_minutes or wear.minutes, wear.state, words)
        )
    sheet = CalendarSheet(
        "Quillmarsh Leather Bench",
        "555 0142",
        "Marisol",
        "en",
        plan.zone,
        "6f1c2a",
        0,
        PICKED_UP,
        tuple(wears),
        plan.ordinary_from,
        plan.first_whole_day,
        date(2027, 4, 25),
        TEXTS,
        ("Your left boot gave 9/16 in.",),
    )
    return replace(sheet, **changes)


def a_plan(rules=None, zone="America/New_York", picked_up=PICKED_UP):
    """A plan at six in the evening."""
    return make_plan(picked_up, clock(zone, 18, 0), rules or preset("three-short-wears"))


def in_spanish(sheet):
    """The same with the catalogue's words, an hour of twelve, codes to scan and one to type."""
    words = speech("es")
    texts = {
        key: words.say(text, shop="Quillmarsh Leather Bench", phone="(555) 010-0199")
        for key, text in SENTENCES.items()
    }
    return replace(
        sheet,
        language="es",
        hours="12",
        texts=texts,
        link=f"https://boots.example/c/{'k' * 22}",
        into_phone=f"webcal://boots.example/c/{'k' * 22}/feed.ics",
        typed="boots.example/b/7K3M-9QXW-E",
    )
