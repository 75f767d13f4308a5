"""What the wearing-in calendar asks of the customer now, in their language."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import NamedTuple

from fitcounter.desk.aftercare import wear_calendar, wear_feelings
from fitcounter.desk.common.translation import Speech, marked
from fitcounter.fit.handbook.wearing import NIGHT_FROM_H, SLIPPED_DAYS
from fitcounter.fit.wear.wear import Wear
from fitcounter.fit.wear.wear_changes import has_slipped
from fitcounter.fit.wear.wear_plan import Due, WearPlan
from fitcounter.store import contacts, wears
from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Ticket

UNDO = {
    "wear": marked("Undo: I did not wear them"),
    "wear-moved": marked("Undo: I can wear them today"),
    "wear-hour": marked("Undo: keep the old time"),
    "wear-zone": marked("Undo: keep the old time"),
}
PRAISE = {
    "first": marked("Well done: the first time is behind you."),
    "next": marked("Well done: {n} of {steps} are behind you."),
    "last": marked("Well done: the short times are all behind you."),
}

MIDNIGHT = time()


class WearEntry(NamedTuple):
    """One wear of the calendar, in the customer's language.

    length: the minutes in words. start_at: UTC text, for the page's timer. state: planned, worn,
    missed, moved or off.
    """

    n: int
    day: str
    clock: str
    minutes: int
    length: str
    state: str
    start_at: str


class CalendarToday(NamedTuple):
    """What the wearing-in calendar asks for now.

    kind: wear, rest, ordinary, whole-day, over or hold. wear: the one it speaks of. steps: how many
    wears there are in all. until_day, until_time: when the rest is over, the time "" where that is
    midnight. day: today, shop-local. hour: of the day for the wears, "18:00", in zone. worn: the
    steps worn already, "1 2". boots: left or right where it is for one alone, else "".
    undo: what the last change was, "" where it cannot be undone. slipped: a week without a wear.
    felt: what was tapped for each boot after the last wear. progress: of each step its weekday, and
    whether it is done. praise: a kind sentence after a wear, "" where a boot felt sore.
    off_by: the time by which they are off, where a wear to come starts before her hour for it.
    """

    kind: str
    wear: WearEntry | None
    steps: int
    until_day: str
    until_time: str
    day: date
    late_first_wear: bool
    hour: str
    zone: str
    worn: str
    boots: str
    undo: str
    slipped: bool
    felt: dict[str, str]
    progress: tuple[tuple[str, bool], ...]
    praise: str
    off_by: str


def calendar_today(
    store: Store, ticket: Ticket, now: datetime, words: Speech
) -> CalendarToday | None:
    if wears.of_ticket(store, ticket.id) is None:
        return None
    calendar = wear_calendar.current(store, ticket.id, now)
    plan, due = calendar.plan, calendar.due
    until_day, until_time = _until(due, plan, words)
    last = wear_calendar.last_change(calendar.row, now)
    felt = wear_feelings.asked(store, ticket.id, plan, plan.clock.day_of(now))
    return CalendarToday(
        kind=due.kind,
        wear=_wear(due.wear, plan, words) if due.wear else None,
        steps=len(plan.rules.minutes),
        until_day=until_day,
        until_time=until_time,
        day=plan.clock.day_of(now),
        late_first_wear="late-first-wear" in plan.notes,
        hour=f"{plan.hour:02}:{plan.minute:02}",
        zone=plan.zone,
        worn=" ".join(str(wear.n) for wear in plan.wears if wear.state == "worn" and wear.n),
        boots=plan.boots,
        undo=words.say(UNDO[last.event]) if last and last.event in UNDO else "",
        slipped=_asks_again(store, ticket.id, plan, now),
        felt=felt,
        progress=tuple(
            (words.short_weekday(wear.local_day), wear.state == "worn")
            for wear in plan.wears
            if wear.n and wear.state in ("worn", "planned")
        ),
        praise=_praise(plan, felt, words),
        off_by=_off_by(plan, words),
    )


def _off_by(plan: WearPlan, words: Speech) -> str:
    """The hour at which the night begins, where a long wear is planned earlier for it."""
    clock = plan.clock
    is_earlier = any(clock.for_wear(wear.minutes) != clock for wear in plan.to_come)
    return words.clock(time(NIGHT_FROM_H)) if is_earlier else ""


def _praise(plan: WearPlan, felt: dict[str, str], words: Speech) -> str:
    """Said while the boots of a wear are asked about, and never of a boot that hurt."""
    done = len({wear.n for wear in plan.wears if wear.n and wear.state == "worn"})
    if not (felt and done) or "sore" in felt.values():
        return ""
    steps = len(plan.rules.minutes)
    which = "last" if done == steps else "first" if done == 1 else "next"
    return words.say(PRAISE[which], n=done, steps=steps)


def plan_of(store: Store, ticket_id: int, now: datetime) -> WearPlan | None:
    """The calendar as it stands, None before there is one."""
    if wears.of_ticket(store, ticket_id) is None:
        return None
    return wear_calendar.current(store, ticket_id, now).plan


def _asks_again(store: Store, ticket_id: int, plan: WearPlan, now: datetime) -> bool:
    """Whether the plan slipped a week, and nobody has said yet how to go on."""
    said = (wear_calendar.SLIPPED_AGAIN, wear_calendar.SLIPPED_ON)
    today = plan.clock.day_of(now)
    answered = any(
        one.said in said and (today - date.fromisoformat(one.due_day)).days < SLIPPED_DAYS
        for one in contacts.follow_ups_of_ticket(store, ticket_id)
    )
    return has_slipped(plan, now) and not answered


def _wear(wear: Wear, plan: WearPlan, words: Speech) -> WearEntry:
    local = wear.began.astimezone(plan.clock.zone)
    return WearEntry(
        wear.n,
        words.day(wear.local_day),
        words.clock(local),
        wear.minutes,
        words.minutes(wear.minutes),
        wear.state,
        utc_text(wear.start),
    )


def _until(due: Due, plan: WearPlan, words: Speech) -> tuple[str, str]:
    if due.until is None:
        return "", ""
    local = due.until.astimezone(plan.clock.zone)
    return words.day(local.date()), words.clock(local) if local.time() != MIDNIGHT else ""
