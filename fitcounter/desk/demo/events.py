"""One event of the story: [whose, step, days from today, time, what was said], as one call of the
desk.
"""

from __future__ import annotations

from typing import Any

from fitcounter.desk.aftercare import (
    comeback,
    not_right,
    pickup_readings,
    wear_calendar,
    wear_feelings,
)
from fitcounter.desk.aftercare import follow_ups as aftercare_follow_ups
from fitcounter.desk.bench import arrive_done_shelve, incidents, other_work, put_on_turn_up_take_off
from fitcounter.desk.common.state_changes import StepInput, take_step
from fitcounter.desk.demo.stage import PlayedJob, Stage
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.tickets import cancel, payments, price_change, till
from fitcounter.fit.item_states import GONE
from fitcounter.store import contacts, items, tickets, works
from fitcounter.store.database import Act, Written, utc_text

AT_THE_BENCH = (
    "prepare",
    "put-on",
    "turn-up",
    "take-off",
    "measure-again",
    "another-round",
    "done",
    "finish",
    "shelve",
    "stop",
    "work-line",
)
FROM_HOME = ("felt", "not-right")


def own_choices(stage: Stage, job: PlayedJob) -> None:
    """What this job has of its own beside the shop's defaults: her language, careful limits."""
    story = job.story

    def write() -> Written:
        ticket = tickets.get(stage.store, job.ticket_id)
        if "language" in story:
            stage.store.change("customers", ticket.customer_id, language=story["language"])
        if "limits" in story and job.fit_id is not None:
            stage.store.change("fits", job.fit_id, limits=story["limits"])
        return Written(job.ticket_id)

    stage.store.once(stage.act(story["opened"]), "own-choices", write)


def step(stage: Stage, job: PlayedJob, event: list[Any]) -> None:
    """Plays one event. A step whose time is still to come today is left out."""
    whose, name, day, hour, data = event
    act = stage.act(day, hour, "BR" if name in AT_THE_BENCH else "CO")
    if whose == "all":
        _of_ticket(stage, job, act, name, data)
    else:
        _of_item(stage, job, act, job.items[whose], name, data)


def _of_item(
    stage: Stage, job: PlayedJob, act: Act, item_id: int, name: str, data: dict[str, Any]
) -> None:
    store, shop, said = stage.store, stage.shop, StepInput(act.at)
    if name == "prepare":
        put_on_turn_up_take_off.prepare(store, act, item_id, said, data["prepared"], data["with"])
    elif name == "put-on":
        tree = put_on_turn_up_take_off.PutOn(
            data["tree"],
            data["setting"],
            data["girth"],
            data["before"],
            mark=data["mark"],
            take_tree=True,
        )
        put_on_turn_up_take_off.put_on(store, act, shop, item_id, said, tree)
    elif name == "turn-up":
        put_on_turn_up_take_off.turn_up(
            store, act, shop, item_id, said, data["girth"], data["setting"]
        )
    elif name == "take-off":
        put_on_turn_up_take_off.take_off(store, act, item_id, said, data["came_out"])
    elif name == "measure-again":
        measure_again(store, act, shop, item_id, said, RestedReading(data["rested"]))
    elif name == "finish":
        arrive_done_shelve.finish(store, act, item_id, said, data["shaper"])
    elif name == "shelve":
        arrive_done_shelve.shelve(
            store, act, item_id, said, data["shelf"], items.get(store, item_id).shaper
        )
    elif name == "work-done":
        arrive_done_shelve.work_done(store, act, item_id, said, data["shelf"])
    elif name == "stop":
        incidents.stop(store, act, item_id, said, data["what"], data["where"])
    elif name == "work-line":
        _work_line(stage, act, item_id, data)
    elif name == "come-back":
        _come_back(stage, act, item_id, data)
    else:
        take_step(store, act, item_id, name, said)


def _come_back(stage: Stage, act: Act, item_id: int, data: dict[str, Any]) -> None:
    before = pickup_readings.at_pickup(stage.store, items.get(stage.store, item_id))
    boot = f"{float(before.boot_mm or 0) - data['boot_back']:.0f}mm"
    came = comeback.ComebackInput(act.at, data["said"], boot, data["leg"], stage.shop.unit)
    comeback.come_back(stage.store, act, item_id, came, stage.shop)


def _of_ticket(stage: Stage, job: PlayedJob, act: Act, name: str, data: dict[str, Any]) -> None:
    store = stage.store
    if name == "try-on":
        for side in ("left", "right"):
            pickup.try_on(store, act, job.items[side], data["how"], StepInput(act.at))
    elif name == "hand-over":
        _hand_over(stage, job, act, data)
    elif name == "discount":
        _discount(stage, job, act, data)
    elif name == "refund":
        typed = payments.Typed("refund", data["amount"], data["why"], method=data["method"])
        payments.write_down(store, act, job.ticket_id, typed)
    elif name == "close-till":
        _close_till(stage, act, data)
    elif name == "cancel":
        _cancel(stage, job, act, data)
    elif name in FROM_HOME:
        _from_home(stage, job, Act(act.at), name, data)
    elif name == "answer":
        _answer(stage, job, act, data)
    elif name == "call":
        again = stage.day(data["again"]).isoformat()
        row = {
            "ticket_id": job.ticket_id,
            "at": utc_text(act.at),
            "about": "ready",
            "how": data["how"],
            "again_day": again,
        }

        def write() -> Written:
            return Written(
                job.ticket_id, row_id=store.insert("calls", **row, staff_id=act.staff_id)
            )

        store.once(act, "call", write)


def _discount(stage: Stage, job: PlayedJob, act: Act, data: dict[str, Any]) -> None:
    typed = price_change.PriceChange(
        lines=(), why="", discount=data["discount"], discount_why=data["why"]
    )
    price_change.change(stage.store, act, stage.shop, job.ticket_id, typed, stage.data_dir)


def _work_line(stage: Stage, act: Act, item_id: int, data: dict[str, Any]) -> None:
    lines = [one for one in works.of_item(stage.store, item_id) if one.what == data["what"]]
    typed = other_work.WorkStepInput(data["to"], note=data.get("note", ""))
    other_work.set_line(stage.store, act, lines[0].id, act.at, typed)


def _cancel(stage: Stage, job: PlayedJob, act: Act, data: dict[str, Any]) -> None:
    typed = cancel.Cancellation(item_id=None, charge_minor=data["charge"], note=data["note"])
    cancel.cancel(stage.store, act, stage.shop, job.ticket_id, typed, stage.data_dir)


def _from_home(stage: Stage, job: PlayedJob, act: Act, name: str, data: dict[str, Any]) -> None:
    """What the customer taps on the page: how each boot felt, or that one is not right."""
    if name == "felt":
        for side, feel in data.items():
            wear_feelings.tell(stage.store, act, job.ticket_id, side, feel)
        return
    told = not_right.NotRightReport(felt=tuple(data["felt"]), text=data["said"])
    not_right.report(stage.store, act, job.ticket_id, told, stage.shop.today(act.at))


def _answer(stage: Stage, job: PlayedJob, act: Act, data: dict[str, Any]) -> None:
    """What a person at the shop says of a report: to go on from that day, or another advice."""
    seen = not_right.standing(stage.store, job.ticket_id).seen
    from_day = stage.day(data["from"]) if "from" in data else None
    said = not_right.ShopAnswer(data["advice"], data["note"], from_day, seen)
    not_right.answer(stage.store, act, job.ticket_id, said)


def _close_till(stage: Stage, act: Act, data: dict[str, Any]) -> None:
    """Counted with so much too little in cash."""
    page = till.look(stage.store, stage.shop, act.at, data["change"])
    counted = {line.method: line.expected_minor for line in page.lines}
    counted["cash"] -= data["short"]
    count = till.Count(counted, data["change"], data["note"], page.seen)
    till.close(stage.store, act, stage.shop, count)


def _hand_over(stage: Stage, job: PlayedJob, act: Act, data: dict[str, Any]) -> None:
    """Handed over with what was owed, then the wears she said she wore."""
    shown = pickup.look(stage.store, job.ticket_id)
    due, here = (
        shown.sums.due_minor,
        frozenset(item.id for item in shown.items if item.state not in GONE),
    )
    handed = pickup.Handover(
        here,
        act.at,
        data["collected_by"],
        max(due, 0),
        method=data.get("method", "card"),
        tip_minor=data.get("tip", 0),
        preset="three-short-wears",
        hour=data.get("hour", 18),
    )
    pickup.hand_over(stage.store, act, job.ticket_id, handed, stage.shop)
    for asked in contacts.follow_ups_of_ticket(stage.store, job.ticket_id):
        if asked.due_day < stage.day(0).isoformat():
            asked_at = Act(stage.at(0, "9:00"), stage.people["CO"])
            aftercare_follow_ups.answer(stage.store, asked_at, asked.id, "good")
    for minutes in data["wears"]:
        plan = wear_calendar.current(stage.store, job.ticket_id, act.at).plan
        wear = plan.to_come[0]
        if wear.end > stage.now:
            break
        customer = Act(wear.end)
        wear_calendar.record_wear(stage.store, customer, job.ticket_id, wear.n, wear.start, minutes)
