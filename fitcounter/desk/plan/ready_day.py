"""When is this ready? The one answer, from the kept bench plan and the shop's open days.

Find, Today, the ticket, the call and its text, the customer's page, the bench and every paper ask
here, so that they name the same day.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import NamedTuple

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.common.translation import Speech, spoken
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.store import bench_days, items, lists
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Store
from fitcounter.store.records import Item, Ticket

HELD = ("stopped", "waiting")
NOT_AGREED = ("counter", "expected")


class DayState(StrEnum):
    """How a promised day stands: kept, kept if the usual rounds do, or not kept.

    promised: nothing is planned, so the promise is all there is. held: stopped or on hold, and
    nobody can say a day. open: nothing is promised.
    """

    READY = "ready"
    ON_TRACK = "on-track"
    PROMISED = "promised"
    AT_RISK = "at-risk"
    LATE = "late"
    HELD = "held"
    OPEN = "open"


class Cause(StrEnum):
    """Why a day may not be kept."""

    NONE = ""
    TREE = "tree"
    ROUND = "round"
    CLOSED = "closed"
    PASSED = "passed"
    UNPLANNED = "unplanned"


_RANK = {
    DayState.READY: 0,
    DayState.OPEN: 0,
    DayState.ON_TRACK: 1,
    DayState.PROMISED: 1,
    DayState.AT_RISK: 2,
    DayState.HELD: 3,
    DayState.LATE: 4,
}


@dataclass(frozen=True, slots=True)
class ReadyDay:
    """day: the one to say, None where nobody can say one. slips_to: for what is at risk.

    late_days: from the promised day to `day`, or to today where no day can be said; at least 1 for
    what is late, else 0.
    """

    state: DayState
    promised: date | None = None
    day: date | None = None
    slips_to: date | None = None
    cause: Cause = Cause.NONE
    late_days: int = 0

    @property
    def late(self) -> bool:
        """Whether the promised day will not be kept, or has passed."""
        return self.state is DayState.LATE

    @property
    def not_on_track(self) -> bool:
        """Whether somebody has to know of it: late, at risk, or without a day."""
        return self.state in (DayState.AT_RISK, DayState.LATE, DayState.HELD)

    @property
    def unsure(self) -> bool:
        """Whether the promised day is all but here and no plan says that it will be kept."""
        return self.state is DayState.AT_RISK and self.cause is Cause.UNPLANNED

    def words(self, words: Speech) -> str:
        """'on track for Thu, Dec 10'; "" where there is nothing to say of a day."""
        if self.state is DayState.LATE:
            return self._late_words(words)
        if self.state is DayState.HELD:
            return words.say("no ready day until this is settled")
        if self.day is None:
            return ""
        day = words.day(self.day)
        if self.unsure:
            return words.say("at risk: promised for {day} and not ready yet", day=day)
        if self.state is DayState.AT_RISK and self.slips_to is not None:
            slip = words.day(self.slips_to)
            if self.cause is Cause.TREE:
                return words.say(
                    "at risk: could slip to {day} because it waits for a tree", day=slip
                )
            return words.say(
                "at risk: could slip to {day} because another round may be needed", day=slip
            )
        if self.state is DayState.ON_TRACK:
            return words.say("on track for {day}", day=day)
        if self.state is DayState.PROMISED:
            return words.say("promised for {day}", day=day)
        return words.say("could be ready {day}", day=day)

    def _late_words(self, words: Speech) -> str:
        promised = words.day(self.promised) if self.promised else ""
        if self.day is None:
            return words.say("will miss {promised}: no new day yet", promised=promised)
        day = words.day(self.day)
        if self.cause is Cause.CLOSED:
            return words.say("closed on {promised}: now {day}", promised=promised, day=day)
        if self.cause is Cause.PASSED:
            return words.say("missed {promised}: now {day}", promised=promised, day=day)
        return words.say("will miss {promised}: now {day}", promised=promised, day=day)


class ReadyDays(NamedTuple):
    """What the answers are made from, read once for a page. kept: the plan's days, by item.

    today: the shop-local day.
    """

    kept: Mapping[int, BootDays]
    days: ShopDays
    today: date

    def of_item(self, item: Item, ticket: Ticket, held: Sequence[Item]) -> ReadyDay:
        """One item's answer; of a boot that of its pair. held: everything on its ticket."""
        if item.state in item_states.READY:
            return ReadyDay(DayState.READY)
        if item.state in item_states.GONE or item.state in NOT_AGREED:
            return ReadyDay(DayState.OPEN)
        together = [
            one
            for one in held
            if one.id == item.id
            or (item.fit_id is not None and one.fit_id == item.fit_id and _at_work(one))
        ]
        promised = promised_day(item, ticket)
        if any(one.state in HELD for one in together):
            return self._held(promised)
        rows = [self.kept.get(one.id) for one in together if one.state != "finished"]
        planned = [row for row in rows if row is not None and row.ready_day]
        if len(planned) < len(rows):
            return self._unplanned(promised)
        return self._planned(promised, planned)

    def of_ticket(self, ticket: Ticket, held: Sequence[Item]) -> ReadyDay:
        """The answer for all that is still at work: that of the item that stands worst."""
        at_work = [self.of_item(item, ticket, held) for item in held if _at_work(item)]
        if not at_work:
            done = item_states.ready(item.state for item in held)
            return ReadyDay(DayState.READY if done else DayState.OPEN)
        stuck = any(one.state is DayState.HELD for one in at_work)
        return replace(worst(at_work), day=None) if stuck else worst(at_work)

    def _held(self, promised: date | None) -> ReadyDay:
        if promised is None or promised >= self.today:
            return ReadyDay(DayState.HELD, promised)
        late = (self.today - promised).days
        return ReadyDay(DayState.LATE, promised, None, None, Cause.PASSED, late)

    def _unplanned(self, promised: date | None) -> ReadyDay:
        if promised is None:
            return ReadyDay(DayState.OPEN)
        if promised < self.today:
            late = (self.today - promised).days
            return ReadyDay(DayState.LATE, promised, None, None, Cause.PASSED, late)
        if promised <= self.days.next_open(self.today + timedelta(days=1)):
            return self._kept(DayState.AT_RISK, promised, None, Cause.UNPLANNED)
        return self._kept(DayState.PROMISED, promised)

    def _planned(self, promised: date | None, rows: Sequence[BootDays]) -> ReadyDay:
        ready = self._latest([row.ready_day for row in rows])
        hope = self._latest([row.hope_day for row in rows])
        if promised is None:
            return ReadyDay(DayState.OPEN, None, ready if rows else None)
        if hope > promised:
            cause = Cause.PASSED if promised < self.today else Cause.NONE
            return ReadyDay(
                DayState.LATE, promised, ready, None, cause, max(1, (ready - promised).days)
            )
        if ready > promised:
            waits = any(row.waits_days for row in rows)
            cause = Cause.TREE if waits else Cause.ROUND
            return self._kept(DayState.AT_RISK, promised, ready, cause)
        return self._kept(DayState.ON_TRACK, promised)

    def _kept(
        self,
        state: DayState,
        promised: date,
        slips_to: date | None = None,
        cause: Cause = Cause.NONE,
    ) -> ReadyDay:
        """A promise that can be kept, unless the shop is closed on that day."""
        opens = self.days.next_open(promised)
        if opens != promised:
            late = (opens - promised).days
            return ReadyDay(DayState.LATE, promised, opens, None, Cause.CLOSED, late)
        return ReadyDay(state, promised, promised, slips_to, cause)

    def _latest(self, days: Sequence[str | None]) -> date:
        """The last of these days, never before today, on a day the shop is open."""
        last = max((date.fromisoformat(day) for day in days if day), default=self.today)
        return self.days.next_open(max(last, self.today))


def worst(days: Iterable[ReadyDay]) -> ReadyDay:
    """The one that somebody has to know of first; of those alike the one promised first."""

    def urgency(one: ReadyDay) -> tuple[int, bool, date, timedelta]:
        left = date.max - (one.promised or date.max)
        return _RANK[one.state], one.unsure, one.day or date.max, left

    return max(days, key=urgency)


def ready_days(
    store: Store, shop: Shop, today: date, ticket_ids: Collection[int] | None = None
) -> ReadyDays:
    """What every answer of a page is made from. ticket_ids: where only these are asked about."""
    kept = (
        bench_days.everything(store)
        if ticket_ids is None
        else bench_days.of_tickets(store, ticket_ids)
    )
    return ReadyDays(kept, shop_days.of_shop(store, shop), today)


def of_ticket(store: Store, shop: Shop, ticket: Ticket, today: date) -> ReadyDay:
    """The answer for one ticket as its rows stand."""
    held = items.of_ticket(store, ticket.id)
    return ready_days(store, shop, today, [ticket.id]).of_ticket(ticket, held)


def words_by_item(store: Store, shop: Shop, today: date) -> dict[int, str]:
    """Of everything that is at work on an open ticket how its day stands, in the language spoken
    just now.
    """
    days, things, words = ready_days(store, shop, today), lists.items(store), spoken()
    return {
        item.id: days.of_item(item, ticket, things[ticket.id]).words(words)
        for ticket in lists.open_tickets(store)
        for item in things.get(ticket.id, [])
        if _at_work(item)
    }


def promised_day(item: Item, ticket: Ticket) -> date | None:
    """The day an item is promised for: its own, else its ticket's while none of it was picked up; a
    later pickup that was agreed counts instead.
    """
    day = item.promised_day or (None if ticket.handed_over_at else ticket.promise_day)
    if day is None:
        return None
    return date.fromisoformat(max(day, ticket.pickup_day or day))


def _at_work(item: Item) -> bool:
    return item.state not in (*item_states.READY, *item_states.GONE, *NOT_AGREED)
