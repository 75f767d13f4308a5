"""When something does not feel right: what the customer says puts the calendar on hold, and only
a person's answer at the shop takes it off.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput, Conflict, NotAllowed
from fitcounter.store import contacts, wears
from fitcounter.store.bench_records import FollowUp, WearAdvice
from fitcounter.store.database import Act, Store, Written

# What is ticked for each boot, the gravest first.
SIGNS = {
    "numb": marked("Numb or tingling"),
    "swollen": marked("Swollen, warm or red"),
    "pain": marked("Pain"),
    "seam": marked("Zipper or seam"),
    "tight": marked("Only tight"),
}
URGENT = ("numb", "swollen", "pain")
SIDES = ("left", "right")
ADVICE = {
    "go-on": marked("Go on wearing them in"),
    "come-in": marked("Bring the boots in"),
    "doctor": marked("See a doctor first"),
    "stop": marked("Stop wearing them"),
}
LONGEST_NOTE = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class NotRightReport:
    """What a customer says. felt: signs by boot, "left-numb". side, place: on the drawn boots,
    None and "" where none was picked.
    """

    felt: tuple[str, ...] = ()
    side: str | None = None
    place: str = ""
    text: str = ""


class ShopAnswer(NamedTuple):
    """What a person at the shop answers. advice: a key of ADVICE; from_day: where they go on;
    seen: what the person had before them, as `ReportsStanding.seen`.
    """

    advice: str
    note: str
    from_day: date | None = None
    seen: str = ""


class ReportsStanding(NamedTuple):
    """What is open and what was answered. reports: without an answer, oldest first. advice: the
    last answer since the boots were picked up, None before one.
    """

    reports: tuple[FollowUp, ...]
    advice: WearAdvice | None
    held: bool
    seen: str


def report(store: Store, act: Act, ticket_id: int, told: NotRightReport, today: date) -> Written:
    """Puts it on the shop's list of today, and the calendar on hold.

    Raises BadInput where neither a sign, a place nor a word is given.
    """
    if not (told.text or told.place or told.felt):
        raise BadInput(say("Tick what you feel, or write it. One word is enough."), field="said")

    def write() -> Written:
        wear_calendar.put_on_hold(store, ticket_id, act.at)
        remark = contacts.Remark(told.side, told.place, told.text, " ".join(told.felt))
        row_id = contacts.add_follow_up(store, ticket_id, today, "not-right", remark)
        return Written(ticket_id, row_id=row_id, detail={"follow_up": row_id})

    return store.once(act, "not-right", write)


def standing(store: Store, ticket_id: int) -> ReportsStanding:
    """What waits for an answer and what was said last."""
    every = [one for one in contacts.follow_ups_of_ticket(store, ticket_id) if _is_report(one)]
    plan = wears.of_ticket(store, ticket_id)
    advice = contacts.advice_of_ticket(store, ticket_id)
    last = advice[-1] if advice else None
    stands = last if last and plan and last.at >= plan.picked_up_at else None
    reported = max((one.id for one in every), default=0)
    return ReportsStanding(
        tuple(one for one in every if one.done_at is None),
        stands,
        plan is not None and plan.held_since is not None,
        f"{reported}-{last.id if last else 0}",
    )


def answer(store: Store, act: Act, ticket_id: int, typed: ShopAnswer) -> Written:
    """Saves what a person told the customer; every report of the ticket has its answer then.

    Going on takes the calendar off its hold, all else keeps it there. Raises BadInput, Conflict
    where something was said since, NotAllowed where nobody signs, NotFound.
    """
    _check(act, typed)

    def write() -> Written:
        now = standing(store, ticket_id)
        if now.seen != typed.seen:
            words = say("Something new was said since you opened this page. Read it, then answer.")
            raise Conflict(words, theirs=_said(store, ticket_id), ticket_id=ticket_id)
        if typed.advice == "go-on" and typed.from_day:
            wear_calendar.go_on(store, ticket_id, typed.from_day, act.at)
        else:
            wear_calendar.put_on_hold(store, ticket_id, act.at)
        for one in now.reports:
            contacts.close_follow_up(store, act, one.id, typed.note)
        row_id = contacts.add_advice(
            store, act, ticket_id, typed.advice, typed.from_day, typed.note
        )
        return Written(ticket_id, row_id=row_id, detail={"advice": typed.advice})

    return store.once(act, "wear-advice", write)


def signs_in_words(felt: str) -> list[str]:
    """The ticked signs for the shop: "left: Numb or tingling"."""
    sides = {"left": say("left"), "right": say("right")}
    pairs = [one.partition("-") for one in felt.split()]
    return [
        say("{side}: {sign}", side=sides[side], sign=say(SIGNS[sign]))
        for side, _, sign in pairs
        if side in sides and sign in SIGNS
    ]


def _check(act: Act, typed: ShopAnswer) -> None:
    if act.staff_id is None:
        raise NotAllowed(say("Sign in to answer the customer."))
    if typed.advice not in ADVICE:
        raise BadInput(say("Pick what the customer should do."), field="advice")
    if not typed.note:
        words = say("Write what you told the customer. It stands on the customer’s page.")
        raise BadInput(words, field="note")
    if typed.advice == "go-on" and typed.from_day is None:
        raise BadInput(say("Pick the day from which they go on."), field="from_day")


def _said(store: Store, ticket_id: int) -> dict[str, str]:
    """What is open now and what was answered last, for whoever answers beside somebody else."""
    now = standing(store, ticket_id)
    words = [part for one in now.reports for part in (*signs_in_words(one.felt), one.said) if part]
    told = {say("What the customer said"): ", ".join(words)} if words else {}
    if now.advice:
        told[say("What was answered")] = f"{say(ADVICE[now.advice.advice])}: {now.advice.note}"
    return told


def _is_report(follow_up: FollowUp) -> bool:
    return follow_up.kind == "not-right"
