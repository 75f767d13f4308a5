"""Everything one item's page shows, read at once."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.assessment.job import PairRows, pair_rows
from fitcounter.desk.assessment.standing import Standing, standing
from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.board import may_turn_up
from fitcounter.desk.bench.counter_history import with_counter
from fitcounter.desk.bench.incidents import unsettled
from fitcounter.desk.bench.item_figures import Figures, figures
from fitcounter.desk.bench.item_history import Line, lines
from fitcounter.desk.bench.other_work import WorkSeen
from fitcounter.desk.bench.put_on_hints import PutOnHints, put_on_hints
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.seen_at_intake import what_happened
from fitcounter.desk.rounds.round_seen import RoundSeen, rounds_of, with_trees
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.fit.assessment.one_round import counts_from
from fitcounter.store import customers, findings, items, photos, staff, tags, tickets, undos
from fitcounter.store.bench_records import Incident, StepRow
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Customer, Finding, Item, Photo, Tag, Ticket

# What a boot or a thing may do beside its next step, in the order of the page.
BESIDE = {
    "queued": ("put-on", "done"),
    "prepared": ("prepare",),
    "on-tree": ("turn-up", "take-off", "leave-on"),
    "finishing": ("shelve",),
    "to-decide": ("done", "another-round", "measure-again"),
}
AT_BENCH = (
    "queued",
    "prepared",
    "on-tree",
    "resting",
    "to-decide",
    "finishing",
    "stopped",
    "waiting",
)
WAITS_FOR_TREE = ("queued", "prepared", "to-decide")
OTHER_BESIDE = {"queued": ("work-done",)}


class Look(NamedTuple):
    """One item for its page. step: the next one; beside: other steps; undo_step: the one that may
    be taken back.

    unsettled: the record of what went wrong that stands before the next step.
    counts_at: from when a rested reading counts, while it rests. figures: None where it was not
    measured. hints: while it waits for a tree. back: what was read when it came back for another
    look, until it goes on a tree again. comes_off, measure_on: when its round ends and when it
    counts, in the shop's hours. work: beside the stretching. found: where it stands, at the bench.
    held: everything on its ticket. photos: as they were taken, without paper slips.
    """

    item: Item
    ticket: Ticket
    customer: Customer
    other: Item | None
    tag: Tag | None
    rounds: list[RoundSeen]
    findings: list[Finding]
    photos: list[Photo]
    incidents: list[Incident]
    history: list[Line]
    step: item_states.Step | None
    beside: tuple[item_states.Step, ...]
    further: tuple[str, ...]
    undo_step: Line | None
    counts_at: datetime | None
    figures: Figures | None
    hints: PutOnHints | None
    unsettled: int | None
    back: str = ""
    comes_off: datetime | None = None
    measure_on: datetime | None = None
    work: tuple[WorkSeen, ...] = ()
    found: Standing | None = None
    held: tuple[Item, ...] = ()

    @property
    def running(self) -> RoundSeen | None:
        """The last round, while it is on the tree."""
        return self.rounds[-1] if self.rounds and self.item.state == "on-tree" else None

    @property
    def last_photo(self) -> int | None:
        """The number of the last one that was taken."""
        return max((one.id for one in self.photos), default=None)

    @property
    def ask_first(self) -> bool:
        """A rule says to stop before another round: that is for the customer to decide."""
        shown = self.figures
        return (
            self.item.state == "to-decide"
            and shown is not None
            and bool(shown.stops)
            and not shown.done
        )

    @property
    def stopped_by(self) -> str:
        """What went wrong with a stopped item, as it was noted; "" where that is settled."""
        return next(
            (
                what_happened(one.what).rstrip(".")
                for one in self.incidents
                if one.id == self.unsettled
            ),
            "",
        )

    @property
    def rush(self) -> bool:
        """Whether it goes first: of a rush job, and not done yet."""
        done = (*item_states.READY, *item_states.GONE)
        return bool(self.ticket.rush) and self.item.state not in done

    @property
    def number(self) -> int:
        return self.ticket.number


def look(store: Store, shop: Shop, item_id: int) -> Look:
    """Raises NotFound."""
    item, held = items.with_ticket(store, item_id)
    ticket = tickets.get(store, item.ticket_id)
    pair = _pair(store, item, held)
    seen = _seen(store, item_id, pair)
    people = {one.id: one.name for one in staff.with_former(store)}
    rows = items.steps(store, item_id)
    history = lines(rows, people, shop.unit)
    last = undos.last(store, item_id)
    struck = {one.id for one in last[1]} if last else set()
    found = standing(store, item, pair=pair) if item.state in AT_BENCH else None
    shown = figures(store, shop, item, seen, found)
    waits = item.state in WAITS_FOR_TREE and item.work == "stretch"
    hints = put_on_hints(store, shop, item, seen, found) if waits else None
    return Look(
        item,
        ticket,
        customers.get(store, ticket.customer_id),
        next((one for one in pair.boots if one.id != item_id), None) if pair else None,
        tags.of_item(store, item_id),
        seen,
        list(pair.seen.get(item_id, ())) if pair else findings.of_item(store, item_id),
        photos.of_item(store, item_id),
        findings.incidents_of_item(store, item_id),
        with_counter(store, item, people, history),
        None if (open_record := unsettled(store, item)) else next_of(item, shown),
        beside(item),
        item_states.further(item.state, item.work),
        next((one for one in history if one.step_id in struck), None),
        _counts_at(item, seen),
        shown,
        hints,
        open_record,
        _back(rows, history) if item.state in AT_BENCH else "",
        _in_hours(store, shop, _comes_off(item, seen)),
        _in_hours(store, shop, _counts_at(item, seen)),
        tuple(other_work.of_item(store, item)),
        found,
        tuple(held),
    )


def _pair(store: Store, item: Item, held: list[Item]) -> PairRows | None:
    """The boots of its fit, of everything on its ticket; None for another thing."""
    if item.fit_id is None:
        return None
    boots = [one for one in held if one.fit_id == item.fit_id]
    return pair_rows(store, sorted(boots, key=lambda one: one.side or ""))


def _seen(store: Store, item_id: int, pair: PairRows | None) -> list[RoundSeen]:
    if pair is None:
        return rounds_of(store, item_id)
    return with_trees(store, pair.rounds.get(item_id, ()), pair.turns)


def _back(rows: list[StepRow], told: list[Line]) -> str:
    """Where a boot is back and no round followed: the readings and the drawing are from before it
    went home.
    """
    turning = [one for one in rows if one.undone_at is None and one.step in ("come-back", "put-on")]
    if not turning or turning[-1].step != "come-back":
        return ""
    return next(one.text for one in told if one.step_id == turning[-1].id)


def next_of(item: Item, shown: Figures | None) -> item_states.Step | None:
    """The large button: done rather than another round where nothing is short any more; none where
    a rule says to stop, so that the customer is asked.
    """
    if item.state == "to-decide" and shown is not None and (shown.done or shown.stops):
        return item_states.STEPS["done"] if shown.done else None
    return item_states.next_step(item.state, item.work)


def comes_off_early(seen: Look, shop: Shop, now: datetime) -> bool:
    """On a tree whose hold still runs, until a later day: taken off now, it keeps less."""
    due = seen.running.row.due_off_at if seen.running else None
    if due is None or seen.comes_off is None:
        return False
    return utc_time(due) > now and shop.local(seen.comes_off).date() > shop.today(now)


def step_now(seen: Look, shop: Shop, now: datetime) -> item_states.Step | None:
    """The large button at this instant: while a hold runs the boot is turned up, where it may be,
    and comes off on its day.
    """
    run, off = seen.running, seen.comes_off
    if run and (off is None or off > now) and may_turn_up(shop, now, run.row, len(run.turns)):
        return item_states.STEPS["turn-up"]
    return None if comes_off_early(seen, shop, now) else seen.step


def beside(item: Item) -> tuple[item_states.Step, ...]:
    """Other steps that follow from where the item stands."""
    names = OTHER_BESIDE.get(item.state, ()) if item.work == "other" else BESIDE.get(item.state, ())
    return tuple(item_states.STEPS[name] for name in names)


def _in_hours(store: Store, shop: Shop, at: datetime | None) -> datetime | None:
    """The instant, or the next one at which the bench is open."""
    return at and shop_days.of_bench(store, shop).next_opening(shop.local(at))


def _comes_off(item: Item, seen: list[RoundSeen]) -> datetime | None:
    if item.state != "on-tree" or not seen or seen[-1].row.due_off_at is None:
        return None
    return utc_time(seen[-1].row.due_off_at)


def _counts_at(item: Item, seen: list[RoundSeen]) -> datetime | None:
    if item.state != "resting" or not seen or seen[-1].row.off_at is None:
        return None
    return counts_from(utc_time(seen[-1].row.off_at))
