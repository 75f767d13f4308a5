"""A comeback: boots handed over that are back for another look, compared with pickup and queued."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from fractions import Fraction
from typing import NamedTuple

from fitcounter.desk.aftercare import guarantee_term, wear_calendar
from fitcounter.desk.aftercare.pickup_readings import ReadingAtPickup, at_pickup
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.measuring.sheet import read_length
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.shop import Shop
from fitcounter.errors import Conflict
from fitcounter.fit import item_states
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tape import Length
from fitcounter.fit.wear import guarantee
from fitcounter.store import customers, items, outcomes, readings, tickets
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Customer, Item, Ticket

# What changed since pickup.
FINDINGS: Mapping[guarantee.Change, str] = {
    "boot back": marked("The boot shrank back. The round is free while the guarantee runs."),
    "leg fuller": marked(
        "The leg is bigger; the boot is the same. The guarantee does not cover that."
    ),
    "both": marked(
        "The boot shrank back and the leg is bigger. The round is free while the guarantee runs,"
        " but may not be enough."
    ),
    "neither": marked("No change: the difference is within what a tape can tell."),
    "cannot tell": marked(
        "The two boot measurements cannot be compared. Measure again the same way as at pickup."
    ),
}
_BOOT = (
    marked("The boot is {size} smaller than at pickup."),
    marked("The boot is {size} larger than at pickup."),
    marked("The boot is the same as at pickup."),
)
_LEG = (
    marked("The leg is {size} bigger than when first measured."),
    marked("The leg is {size} smaller than when first measured."),
    marked("The leg is the same as when first measured."),
)


class ComebackInput(NamedTuple):
    """What is typed at a comeback.

    happened_at: aware. said: the customer's words. boot, leg: lengths as typed, at the place that
    was tightest, read as at pickup; leg "" where it was not read. unit: of lengths without one.
    other_goes_on: the boot that stays at home may be worn on by the calendar.
    """

    happened_at: datetime
    said: str
    boot: str
    leg: str
    unit: str
    other_goes_on: bool = False


class ComebackPage(NamedTuple):
    """The item, whose it is, the reading to compare with, and if the guarantee covers today."""

    item: Item
    ticket: Ticket
    customer: Customer
    before: ReadingAtPickup
    covered: bool


def page(store: Store, shop: Shop, item_id: int, now: datetime) -> ComebackPage:
    """What the counter sees before the boot is read again. Raises NotFound."""
    item = items.get(store, item_id)
    ticket = tickets.get(store, item.ticket_id)
    return ComebackPage(
        item,
        ticket,
        customers.get(store, ticket.customer_id),
        at_pickup(store, item),
        guarantee_term.covers(ticket, shop.today(now)),
    )


class ReadAtComeback(NamedTuple):
    """A comeback whose lengths were read."""

    typed: ComebackInput
    boot: Length
    leg: Length | None


def read(typed: ComebackInput) -> ReadAtComeback:
    """Raises BadReading at boot or leg."""
    boot = read_length(typed.boot, typed.unit, "boot")
    leg = read_length(typed.leg, typed.unit, "leg", "leg") if typed.leg else None
    return ReadAtComeback(typed, boot, leg)


def write_back(store: Store, act: Act, item_id: int, came: ReadAtComeback, shop: Shop) -> str:
    """Saves the readings of a comeback and puts the item in the queue, inside a write; gives the
    comparison in sentences.

    The ticket opens again with its history. Raises Conflict where the item is not down as handed
    over; NotFound.
    """
    typed, item = came.typed, _handed_over(store, item_id)
    ticket = tickets.get(store, item.ticket_id)
    customers.not_erased(store, ticket.id)
    before = at_pickup(store, item)
    comparison = _compare(before, came.boot.mm, came.leg.mm if came.leg else None)
    covered = guarantee_term.covers(ticket, shop.today(typed.happened_at))
    changes = _changes_um(comparison) | {"under_guarantee": int(covered)}
    outcomes.add_comeback(
        store,
        ticket.id,
        item.id,
        typed.happened_at,
        said=typed.said,
        answer=comparison.change if comparison else "cannot tell",
        **changes,
    )
    if before.height_um is not None:
        method = before.boot_method or item.method
        _keep_reading(store, act, item.id, before.height_um, came.boot, method)
    _reopen(store, ticket)
    step = StepInput(typed.happened_at, detail=_bench_detail(changes))
    write_step(store, act, item, "come-back", step)
    return _answer(comparison, typed.unit)


def come_back(store: Store, act: Act, item_id: int, typed: ComebackInput, shop: Shop) -> Written:
    """One item that comes back alone; `words` has the comparison. Raises as `read` and
    `write_back`.
    """
    came = read(typed)

    def write() -> Written:
        words = write_back(store, act, item_id, came, shop)
        item = items.get(store, item_id)
        worn_on(store, item, typed.happened_at, goes_on=typed.other_goes_on)
        promise(store, shop, act, (item_id,))
        return Written(item.ticket_id, item_id, words=words)

    return store.once(act, "come-back", write)


def promise(store: Store, shop: Shop, act: Act, item_ids: tuple[int, ...]) -> date | None:
    """Promises boots that are back for the day on which the plan has them ready, inside a write.

    None where no tree is free for them: then nothing is promised.
    """
    plan = bench_plan.make(store, shop, act.at).plan
    boots = [boot for item_id in item_ids if (boot := plan.boot(str(item_id))) is not None]
    days = shop_days.of_shop(store, shop)
    ready = max((boot.ready for boot in boots), default=None)
    promised = days.next_open(ready) if ready and len(boots) == len(item_ids) else None
    for item_id in item_ids:
        on = promised.isoformat() if promised else None
        store.change("items", item_id, items.get(store, item_id).version, promised_day=on)
    return promised


def _handed_over(store: Store, item_id: int) -> Item:
    """The item, which must be out: two phones may take the same boot in. Raises Conflict."""
    item = items.get(store, item_id)
    if not item_states.may(item.state, "come-back"):
        raise Conflict(
            say(
                "{item} is not picked up yet (now: {state}). Check its page before you take it in.",
                item=say(name_of(item)),
                state=say(item_states.WORDS[item.state]),
            )
        )
    return item


def worn_on(store: Store, item: Item, at: datetime, *, goes_on: bool) -> None:
    """Withdraws the wears to come, inside a write. goes_on: but for those of the boot at home."""
    other = _at_home(store, item) if goes_on else None
    if other is not None and other.side:
        wear_calendar.only_for(store, item.ticket_id, other.side, at)
    else:
        wear_calendar.call_off(store, item.ticket_id, at)


def _at_home(store: Store, item: Item) -> Item | None:
    """The other boot of the pair, where it is with the customer."""
    return next(
        (
            one
            for one in items.of_ticket(store, item.ticket_id)
            if item.fit_id
            and one.fit_id == item.fit_id
            and one.id != item.id
            and one.state in item_states.GONE
        ),
        None,
    )


def _reopen(store: Store, ticket: Ticket) -> None:
    """Opens the ticket again, under its old number where no open ticket has it now."""
    is_free = outcomes.number_is_free(store, ticket.number)
    outcomes.reopen(store, ticket, ticket.number if is_free else tickets.free_number(store))


def _keep_reading(
    store: Store, act: Act, item_id: int, height_um: int, boot: Length, method: str
) -> None:
    """Stores the boot as read at a comeback; a second one in the same place is the next repeat."""
    earlier = readings.boots(store, item_id, "comeback")
    readings.add_boot(
        store,
        act,
        item_id,
        "comeback",
        height_um=height_um,
        height_text=f"{height_um / UM_PER_MM:g} mm",
        repeat=1 + sum(reading.height_um == height_um for reading in earlier),
        method=method,
        girth_um=boot.um,
        girth_text=boot.text,
        unit=boot.unit,
    )


def _compare(
    before: ReadingAtPickup, boot_mm: Fraction, leg_mm: Fraction | None
) -> guarantee.Comeback | None:
    """What changed since pickup; None where no reading of the boot counted then."""
    if before.boot_mm is None:
        return None
    leg_then = guarantee.RawReading(before.leg_mm, "leg") if before.leg_mm is not None else None
    leg_now = guarantee.RawReading(leg_mm, "leg") if leg_mm is not None else None
    boot_then = guarantee.RawReading(before.boot_mm, before.boot_method)
    boot_now = guarantee.RawReading(boot_mm, before.boot_method)
    return guarantee.compare(boot_then, boot_now, leg_then, leg_now)


def _changes_um(comparison: guarantee.Comeback | None) -> dict[str, int | None]:
    """The changes as stored, in micrometres, None where unknown; the boot's loss is negative."""
    boot = comparison.boot_back_mm if comparison else None
    leg = comparison.leg_fuller_mm if comparison else None
    return {
        "boot_change_um": None if boot is None else -round(boot * UM_PER_MM),
        "leg_change_um": None if leg is None else round(leg * UM_PER_MM),
    }


def _bench_detail(changes: dict[str, int | None]) -> dict[str, int]:
    """What the bench sees in the history: the boot's change where known, and whether the guarantee
    pays. The leg is body data and stays out.
    """
    return {
        key: value for key, value in changes.items() if value is not None and key != "leg_change_um"
    }


def _answer(comparison: guarantee.Comeback | None, unit: str) -> str:
    """What changed since pickup, and by how much, in sentences."""
    if comparison is None:
        return say(FINDINGS["cannot tell"])
    sentences = [say(FINDINGS[comparison.change])]
    if comparison.leg_fuller_mm is None:
        sentences.append(say("The leg was not compared."))
    if comparison.boot_back_mm is not None:
        sentences.append(_difference(_BOOT, comparison.boot_back_mm, unit))
    if comparison.leg_fuller_mm is not None:
        sentences.append(_difference(_LEG, comparison.leg_fuller_mm, unit))
    return " ".join(sentences)


def _difference(sentences: tuple[str, str, str], length_mm: Fraction, unit: str) -> str:
    """sentences: for more, for less, and for where a tape shows no difference."""
    more, less, same = sentences
    size = say_length(abs(length_mm), unit)
    if size.startswith(("0 ", "0.0 ")):
        return say(same)
    return say(less if length_mm < 0 else more, size=size)
