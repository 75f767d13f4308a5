"""What a message says on a locked phone, in its language: no name, nothing of the body, nothing
that was written.
"""

from __future__ import annotations

import base64
import hashlib
import json
from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.translation import Speech, speech_at
from fitcounter.desk.customer.calendar import ON_FOR, TEXTS
from fitcounter.desk.messages import mail_events
from fitcounter.desk.shop import Shop
from fitcounter.fit.wear.wear_plan import WearPlan
from fitcounter.store import items, push_phones, staff, tickets, wears
from fitcounter.store.database import Store, utc_time
from fitcounter.store.push_phones import PushPhone
from fitcounter.store.pushes import Push

# For how long each is worth telling.
LASTS = {
    "put-on": timedelta(hours=2),
    "take-off": timedelta(hours=1),
    "missed": timedelta(hours=12),
    "answered": timedelta(days=2),
    "ready": timedelta(days=2),
    "hold": timedelta(hours=8),
    "not-right": timedelta(days=1),
}
URGENT = ("take-off", "put-on", "not-right")  # RFC 8030 section 5.3


class PushWords(NamedTuple):
    """title, body: as the phone shows them. path: what it opens, "" for the customer's own page."""

    title: str
    body: str
    path: str = ""

    def payload(self, push: Push) -> bytes:
        """What the worker on the phone reads. The same event takes the place of itself."""
        said = {"title": self.title, "body": self.body, "tag": topic(push.event)}
        more = {"path": self.path, "stays": push.kind == "take-off"}
        return json.dumps({**said, **more}, ensure_ascii=False).encode()


def topic(event: str) -> str:
    """At most 32 characters of base64url (RFC 8030 section 5.4) that tell nothing of the event."""
    return base64.urlsafe_b64encode(hashlib.sha256(event.encode()).digest()[:18]).decode("ascii")


def words_of(
    store: Store, shop: Shop, phone: PushPhone, push: Push, now: datetime
) -> PushWords | None:
    """The words, None for what is no longer so, or so old that it would mislead."""
    if now - utc_time(push.queued_at) >= LASTS[push.kind]:
        return None
    ticket = tickets.get(store, push.ticket_id)
    if phone.staff_id is not None:
        if all(one.id != phone.id for one in push_phones.of_staff(store)):
            return None  # who left the shop since, or a phone that was the shop's
        person = staff.get(store, phone.staff_id)
        words = speech_at(shop, person.language if person else "")
        return _for_staff(store, push, ticket.number, words)
    words = speech_at(shop, phone.language)
    if push.kind == "answered":
        return PushWords(words.say("The shop has answered"), words.say("Read it on your page."))
    if push.kind == "ready":
        if not mail_events.is_ready(store, ticket):
            return None
        title = words.say("Ready to pick up (ticket {number})", number=ticket.number)
        return PushWords(title, words.say("Everything is ready for you at {shop}.", shop=shop.name))
    return _of_calendar(store, push, words, now)


def _for_staff(store: Store, push: Push, number: int, words: Speech) -> PushWords | None:
    if push.kind == "not-right":
        title = words.say("Ticket {number}: something does not feel right", number=number)
        body = words.say("The customer keeps the boots off until you answer.")
        return PushWords(title, body, f"/tickets/{push.ticket_id}/not-right")
    if all(item.state != "on-tree" for item in items.of_ticket(store, push.ticket_id)):
        return None
    title = words.say("Ticket {number}: time on the tree is over", number=number)
    return PushWords(title, words.say("Take the boots off the tree."), "/bench")


def _of_calendar(store: Store, push: Push, words: Speech, now: datetime) -> PushWords | None:
    if wears.of_ticket(store, push.ticket_id) is None:
        return None
    calendar = wear_calendar.current(store, push.ticket_id, now)
    due, plan = calendar.due, calendar.plan
    if push.kind == "take-off":
        if is_worn(plan, int(push.event.split("-")[3])):
            return None
        body = words.say("Then open your page and tap: They are off.")
        return PushWords(words.say(TEXTS["take_off"]), body)
    if due.wear is None or due.kind not in ("wear", "rest"):
        return None
    length, steps = words.minutes(due.wear.minutes), len(plan.rules.minutes)
    wear = words.say(ON_FOR[plan.boots], length=length, n=due.wear.n, steps=steps)
    if push.kind == "missed":
        when = words.say(
            "{day}, {hour}",
            day=words.day(due.wear.local_day),
            hour=words.clock(due.wear.start.astimezone(plan.clock.zone)),
        )
        return PushWords(words.say("A day was missed, so all days moved on."), f"{when}: {wear}.")
    return PushWords(words.say(TEXTS["put_on"]), f"{wear}.") if due.kind == "wear" else None


def is_worn(plan: WearPlan, n: int) -> bool:
    """Whether that step was told as worn."""
    return any(wear.n == n and wear.state == "worn" for wear in plan.wears)
