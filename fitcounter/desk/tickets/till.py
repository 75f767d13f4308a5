"""Closing the till: what was counted against what should be there, by kind, with a note where they
differ; kept, and printed.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime, time
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import payments
from fitcounter.errors import BadFields, BadInput, Conflict, NotFound
from fitcounter.store import staff, tills
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time

UNSAID = ""  # payments of before it was asked how they were made


class TillLine(NamedTuple):
    """One kind of payment. expected_minor: what should be there, with the change for cash.

    counted_minor: None before it is closed.
    """

    method: str
    words: str
    number: int
    in_minor: int
    out_minor: int
    expected_minor: int
    counted_minor: int | None = None

    @property
    def difference_minor(self) -> int:
        """Over, or short where it is below 0."""
        return (self.counted_minor or 0) - self.expected_minor


class TillPage(NamedTuple):
    """The till since it was closed last. float_minor: the change that was left in it then.

    seen: the last closing and the last payment, as "3-77". tips_minor: among what came in.
    """

    lines: tuple[TillLine, ...]
    currency: str
    float_minor: int
    tips_minor: int
    payments: tuple[int, int]
    seen: str


class ClosedTill(NamedTuple):
    """A till as it was closed. lines: with what was counted. who: initials."""

    id: int
    at: datetime
    who: str
    currency: str
    float_minor: int
    lines: tuple[TillLine, ...]
    note: str

    @property
    def difference_minor(self) -> int:
        return sum(one.difference_minor for one in self.lines)


class Count(NamedTuple):
    """What was counted, by method; float_minor: the change in it before the day's payments."""

    counted: Mapping[str, int]
    float_minor: int
    note: str = ""
    seen: str = ""


def look(store: Store, shop: Shop, now: datetime, float_minor: int | None = None) -> TillPage:
    """The till as it stands at `now`. float_minor: the change in it, None for what was left."""
    before, newest = tills.last(store), tills.last_payment(store)
    first = before.last_payment_id if before else _before_today(store, shop, now)
    left = _left(before) if float_minor is None else float_minor
    moved = {one.method: one for one in tills.moved(store, shop.currency, first, newest)}
    lines = []
    for method in (*payments.METHODS, UNSAID):
        one = moved.get(method, tills.MethodSums(method, 0, 0, 0, 0))
        if one.number or method == "cash":
            expected = one.in_minor + one.out_minor + (left if method == "cash" else 0)
            lines.append(
                TillLine(
                    method, words_of(method), one.number, one.in_minor, one.out_minor, expected
                )
            )
    return TillPage(
        tuple(lines),
        shop.currency,
        left,
        sum(one.tips_minor for one in moved.values()),
        (first, newest),
        f"{before.id if before else 0}-{newest}",
    )


def words_of(method: str) -> str:
    """What a kind of payment is called."""
    return say(payments.METHODS[method]) if method in payments.METHODS else say("Not said how")


def close(store: Store, act: Act, shop: Shop, count: Count) -> Written:
    """Keeps the till as counted.

    Raises BadFields (a kind that was not counted), BadInput (field: note, where something differs
    and no word is said), Conflict (closed or paid into meanwhile).
    """

    def write() -> Written:
        page = look(store, shop, act.at, count.float_minor)
        if count.seen != page.seen:
            raise Conflict(
                say("A payment was saved or the till was closed meanwhile. Count it once more.")
            )
        missing = [one.method for one in page.lines if one.method not in count.counted]
        if missing:
            words = say("Type what you counted, or 0.")
            raise BadFields({f"counted_{method or 'unsaid'}": words for method in missing})
        expected = {one.method: one.expected_minor for one in page.lines}
        counted = {method: count.counted[method] for method in expected}
        differs = expected != counted
        off = sum(counted.values()) - sum(expected.values())
        if differs and not count.note:
            raise BadInput(
                say("{difference} Count again, or type a note.", difference=_off(off, page)),
                field="note",
            )
        till_id = tills.close(
            store,
            act,
            {"expected": expected, "counted": counted},
            page.payments,
            currency=page.currency,
            float_minor=page.float_minor,
            note=count.note,
        )
        detail = {"expected": expected, "counted": counted}
        return Written(row_id=till_id, words=_off(off, page), detail=detail)

    if payments.looks_like_card(count.note):
        raise BadInput(say(payments.NO_CARDS), typed=count.note, field="note")
    return store.once(act, "till-closed", write)


def closed(store: Store, till_id: int) -> ClosedTill:
    """Raises NotFound."""
    row = tills.get(store, till_id)
    if row is None:
        raise NotFound(say("No such till. Look at the list of closed tills."))
    return _closed(store, row)


def latest(store: Store) -> list[ClosedTill]:
    """The last five, newest first."""
    return [_closed(store, row) for row in tills.latest(store)]


def difference(minor: int, currency: str) -> str:
    """ "Right to the cent.", "$2.00 short.", "$5.00 over." """
    amount = money.say(abs(minor), currency)
    if not minor:
        return say("Right to the cent.")
    return (
        say("{amount} over.", amount=amount) if minor > 0 else say("{amount} short.", amount=amount)
    )


def _off(minor: int, page: TillPage) -> str:
    return difference(minor, page.currency)


def _closed(store: Store, row: tills.TillRow) -> ClosedTill:
    expected, counted = json.loads(row.expected), json.loads(row.counted)
    moved = {
        one.method: one
        for one in tills.moved(store, row.currency, row.first_payment_id, row.last_payment_id)
    }
    lines = []
    for method in expected:
        one = moved.get(method, tills.MethodSums(method, 0, 0, 0, 0))
        words = words_of(method)
        kept = (expected[method], counted[method])
        lines.append(TillLine(method, words, one.number, one.in_minor, one.out_minor, *kept))
    person = staff.get(store, row.staff_id) if row.staff_id else None
    order = [*payments.METHODS, UNSAID]
    return ClosedTill(
        row.id,
        utc_time(row.at),
        person.initials if person else "",
        row.currency,
        row.float_minor,
        tuple(sorted(lines, key=lambda line: order.index(line.method))),
        row.note,
    )


def _before_today(store: Store, shop: Shop, now: datetime) -> int:
    """The first till a shop closes holds the payments of its own day."""
    midnight = datetime.combine(shop.today(now), time(), ZoneInfo(shop.zone))
    return tills.last_payment_before(store, utc_text(midnight))


def _left(before: tills.TillRow | None) -> int:
    """The change that the last closing began with: what was above it went to the bank."""
    return before.float_minor if before else 0


def say_moment(closed_till: ClosedTill, shop: Shop) -> str:
    """When it was closed, on the shop's own clock."""
    return spoken().moment(shop.local(closed_till.at))
