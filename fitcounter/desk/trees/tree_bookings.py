"""Claims of running rounds on trees, and what a tree's setting and girth mean beside a boot."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.fit.assessment.profile import inside_girth_mm
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tape import Length
from fitcounter.store import items, plans, tickets, trees
from fitcounter.store.bench_records import Round, TreeBooking, TreeRow
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Item


def book(
    store: Store,
    shop: Shop,
    item: Item,
    round_n: int,
    tree: TreeRow,
    held: tuple[datetime, datetime],
) -> None:
    """Books the tree for a round from the day it went on to the day it is due off (`held`), in the
    place of this boot's own plan; other boots' plans that it touches give way
    (`tree_booked_for_another`).

    Raises BadInput where the tree is kept for boots still at home by now.
    """
    from_day, to_day = booked_days(shop, *held)
    plans.drop_planned(store, item.id, round_n)
    others = other_claims(store, item, tree, (from_day, to_day))
    if others and others[0].kind == "slot" and others[0].from_day <= from_day:
        booked = say_booked(store, tree, others[0])
        raise BadInput(
            f"{booked} {say('Release that tree on the bench plan first, or pick another.')}",
            typed=tree.label,
            field="tree",
        )
    plans.set_running(store, item.id, round_n, tree.id, from_day, to_day)


def other_claims(
    store: Store, item: Item, tree: TreeRow, span: tuple[str, str]
) -> list[TreeBooking]:
    """What else a tree is booked for in [first day, last day) (ISO), the soonest first."""
    claims = plans.claims_on(store, tree.id, *span)
    return [one for one in claims if one.item_id != item.id]


def say_booked(store: Store, tree: TreeRow, claim: TreeBooking) -> str:
    """From when a tree is booked, and for whom."""
    return say(
        "Tree {tree} is booked from {day} for {whose}.",
        tree=tree.label,
        whose=_whose(store, claim.item_id, claim.words),
        day=say_day(date.fromisoformat(claim.from_day)),
    )


def named_tree(store: Store, label: str) -> TreeRow:
    """The tree with this label. Raises BadInput."""
    tree = trees.by_label(store, label.strip())
    if tree is None:
        raise BadInput(
            say("There is no tree with that label. Check the label, or add the tree under Trees."),
            typed=label,
            field="tree",
        )
    return tree


def stretch(store: Store, shop: Shop, item: Item, turn: Round, due_at: datetime) -> None:
    """Lets a running claim end with a later day of taking off; planned claims that it touches give
    way.
    """
    if turn.tree_id is None:
        return
    on_at = utc_time(turn.on_at) if turn.on_at else due_at
    plans.set_running(store, item.id, turn.n, turn.tree_id, *booked_days(shop, on_at, due_at))


def release(store: Store, item: Item) -> None:
    """The boot is off: its tree is free."""
    plans.clear_running(store, item.id)


def setting_milli(text: str) -> int | None:
    """A setting as thousandths where it is a figure: "14", "14.5", "14,5"; None for words such as
    "second notch".
    """
    plain = text.strip().replace(",", ".")
    if not plain or not plain.replace(".", "", 1).isdigit() or not plain.isascii():
        return None
    milli = round(float(plain) * 1000)
    return milli if milli <= 1_000_000 else None


def say_day(day: date) -> str:
    """Tuesday 8 December, in the language spoken."""
    return spoken().day(day)


def inside_um(item: Item, girth: Length, method: str) -> int:
    """The inside girth of a boot on its tree: what the tree itself measures there."""
    return round(inside_girth_mm(girth.float_mm, method, item.wall_um / UM_PER_MM) * UM_PER_MM)


def booked_days(shop: Shop, on_at: datetime, due_at: datetime) -> tuple[str, str]:
    """The days (ISO) on which a hold has its tree: [first, last)."""
    first = shop.local(on_at).date()
    last = max(shop.local(due_at).date(), first + timedelta(days=1))
    return first.isoformat(), last.isoformat()


def _whose(store: Store, item_id: int | None, words: str) -> str:
    if item_id is None:
        return words or say("boots still at home")
    other = items.get(store, item_id)
    return item_words.named(other.side, other.kind, tickets.get(store, other.ticket_id).number)
