"""How did they feel? One tap a boot after a wear; the shop reads it on the ticket."""

from __future__ import annotations

from datetime import date

from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.errors import BadInput, OutOfOrder
from fitcounter.fit.wear.wear_plan import WearPlan
from fitcounter.store import contacts, feelings, wears
from fitcounter.store.database import Act, Store, Written

FEELS = {"good": marked("Good"), "tight": marked("Tight"), "sore": marked("Sore")}
SORE = marked("sore after wearing them")


def asked(store: Store, ticket_id: int, plan: WearPlan, today: date) -> dict[str, str]:
    """The boots of the last wear and what was tapped for each, "" where nothing yet; empty where
    the last wear was not today or yesterday.
    """
    worn = [wear for wear in plan.wears if wear.state == "worn"]
    if not worn or (today - worn[-1].local_day).days > 1:
        return {}
    day = worn[-1].local_day.isoformat()
    told = {
        one.side: one.feel for one in feelings.of_ticket(store, ticket_id) if one.local_day == day
    }
    return {side: told.get(side, "") for side in ("left", "right") if plan.boots in ("", side)}


def tell(store: Store, act: Act, ticket_id: int, side: str, feel: str) -> Written:
    """Saves how a boot felt after the last wear; another tap changes it.

    Raises BadInput for what no page offers, OutOfOrder before a wear, NotFound.
    """
    if side not in ("left", "right") or feel not in FEELS:
        raise BadInput(say("Tap how each boot felt."), typed=feel, field="feel")

    def write() -> Written:
        plan = wears.get(store, ticket_id)[1]
        worn = [wear for wear in plan.wears if wear.state == "worn"]
        if not worn:
            raise OutOfOrder(say("Today’s plan has changed. Load the page again."), field="feel")
        last = worn[-1]
        felt = feelings.Feeling(last.n, last.local_day.isoformat(), side, feel)
        known = [(one.local_day, one.feel) for one in feelings.of_ticket(store, ticket_id)]
        feelings.put(store, act, ticket_id, felt)
        if feel == "sore" and (felt.local_day, "sore") not in known:
            today = act.at.astimezone(plan.clock.zone).date()
            remark = contacts.Remark(side=side, said=SORE)
            contacts.add_follow_up(store, ticket_id, today, "other", remark)
        return Written(ticket_id, detail={"felt": f"{side}-{feel}"})

    return store.once(act, "wear-felt", write)


def for_the_shop(store: Store, ticket_id: int) -> list[str]:
    """A line a day for the ticket: "Tue, Mar 17: left good, right tight"."""
    sides = {"left": say("left"), "right": say("right")}
    by_day: dict[str, list[str]] = {}
    for one in feelings.of_ticket(store, ticket_id):
        words = f"{sides[one.side]} {say(FEELS[one.feel]).lower()}"
        by_day.setdefault(one.local_day, []).append(words)
    return [
        say("{day}: {boots}", day=spoken().day(date.fromisoformat(day)), boots=", ".join(boots))
        for day, boots in by_day.items()
    ]
