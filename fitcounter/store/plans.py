"""Claims on trees, and the days without anybody at the bench.

Two claims on one tree never overlap: the database refuses it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import NamedTuple

from fitcounter.store.bench_records import Closure, TreeBooking
from fitcounter.store.database import Store


class Claim(NamedTuple):
    """A tree for one boot's round, [from_day, to_day), ISO days."""

    tree_id: int
    item_id: int
    round_n: int
    from_day: str
    to_day: str


def bookings(store: Store) -> list[TreeBooking]:
    """All claims, by day and tree."""
    return store.all(TreeBooking, "SELECT * FROM bookings ORDER BY from_day, tree_id")


def get(store: Store, booking_id: int) -> TreeBooking | None:
    return store.first(TreeBooking, "SELECT * FROM bookings WHERE id = ?", booking_id)


def of_item(store: Store, item_id: int) -> list[TreeBooking]:
    return store.all(
        TreeBooking, "SELECT * FROM bookings WHERE item_id = ? ORDER BY from_day", item_id
    )


def claims_on(store: Store, tree_id: int, from_day: str, to_day: str) -> list[TreeBooking]:
    """Claims on one tree that touch [from_day, to_day)."""
    sql = (
        "SELECT * FROM bookings WHERE tree_id = ? AND from_day < ? AND ? < to_day ORDER BY from_day"
    )
    return store.all(TreeBooking, sql, tree_id, to_day, from_day)


def replace_planned(store: Store, claims: Iterable[Claim]) -> None:
    """Puts a whole new plan in the place of the old one, inside one write. Running rounds and slots
    stay as they are.

    Raises Conflict when a claim would overlap another.
    """
    store.db.execute("DELETE FROM bookings WHERE kind = 'planned'")
    for one in claims:
        store.insert(
            "bookings",
            tree_id=one.tree_id,
            item_id=one.item_id,
            kind="planned",
            round_n=one.round_n,
            from_day=one.from_day,
            to_day=one.to_day,
        )


def drop_planned(store: Store, item_id: int, round_n: int | None = None) -> None:
    """Takes a boot's planned claims back: one round's, or all."""
    if round_n is None:
        store.db.execute("DELETE FROM bookings WHERE item_id = ? AND kind = 'planned'", [item_id])
    else:
        store.db.execute(
            "DELETE FROM bookings WHERE item_id = ? AND kind = 'planned' AND round_n <= ?",
            [item_id, round_n],
        )


def free_planned(
    store: Store, tree_id: int, from_day: str = "", to_day: str = "9999-12-31"
) -> None:
    """Takes back every planned claim on a tree that touches [from_day, to_day), inside a write."""
    sql = (
        "DELETE FROM bookings WHERE tree_id = ? AND kind = 'planned' AND from_day < ? AND ? <"
        " to_day"
    )
    store.db.execute(sql, [tree_id, to_day, from_day])


@dataclass(frozen=True, slots=True)
class SlotClaim:
    """A tree kept for boots that are on no ticket yet, [from_day, to_day), ISO days. words: whose.

    slot_id, slot_side: where it was kept for a promise, for which and on which side.
    """

    tree_id: int
    words: str
    round_n: int
    from_day: str
    to_day: str
    slot_id: int | None = None
    slot_side: str = ""


def add_slot(store: Store, claim: SlotClaim) -> None:
    """Keeps a tree for boots that are on no ticket yet, in the place of planned claims, inside a
    write.
    """
    free_planned(store, claim.tree_id, claim.from_day, claim.to_day)
    store.insert("bookings", kind="slot", **asdict(claim))


def strike_slots(store: Store, booking_id: int) -> None:
    """Takes back all trees that are kept under the same words as this one, inside a write."""
    sql = (
        "DELETE FROM bookings WHERE kind = 'slot' AND slot_id IS NULL AND words = (SELECT words"
        " FROM bookings WHERE id = ? AND kind = 'slot')"
    )
    store.db.execute(sql, [booking_id])


def set_running(
    store: Store, item_id: int, round_n: int, tree_id: int, from_day: str, to_day: str
) -> None:
    """Claims a tree for the round that is running on it, in the place of every planned claim that
    it touches.

    Days that are kept for boots still at home stay kept: the claim ends where they begin, because
    what is on a tree is on it. Raises Conflict where they began already.
    """
    clear_running(store, item_id)
    free_planned(store, tree_id, from_day, to_day)
    kept = (
        "SELECT min(from_day) FROM bookings WHERE tree_id = ? AND kind = 'slot' AND ? < from_day"
        " AND from_day < ?"
    )
    until = store.value(kept, tree_id, from_day, to_day) or to_day
    store.insert(
        "bookings",
        tree_id=tree_id,
        item_id=item_id,
        kind="running",
        round_n=round_n,
        from_day=from_day,
        to_day=until,
    )


def clear_running(store: Store, item_id: int) -> None:
    store.db.execute("DELETE FROM bookings WHERE item_id = ? AND kind = 'running'", [item_id])


def closures(store: Store) -> list[Closure]:
    """Days without anybody at the bench, by day. to_day is the last such day."""
    return store.all(Closure, "SELECT * FROM closures ORDER BY from_day")


def strike_closure(store: Store, closure_id: int) -> None:
    """Takes days away back, inside a write."""
    store.db.execute("DELETE FROM closures WHERE id = ?", [closure_id])
