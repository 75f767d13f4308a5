"""A pair of boots on the bench of the tests: rows as the counter leaves them, without going through
its screens.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import count

from support.cast import Counter

from fitcounter.desk.plan import plan_keeping
from fitcounter.store.database import Act, Store

BROUGHT_IN = {
    165.1: "13",
    266.7: "14 3/8",
    368.3: "14 1/8",
}  # boot girths, outside tape, by height in mm
LEG = {165.1: "12 1/2", 266.7: "14 7/8", 368.3: "13 7/8"}


@dataclass(frozen=True)
class Pair:
    """Ids of one ticket with a pair of boots, left and right."""

    ticket_id: int
    fit_id: int
    left: int
    right: int


def um(inches: str) -> int:
    whole, _, part = inches.partition(" ")
    over, _, under = part.partition("/")
    return round((int(whole) + (int(over) / int(under) if part else 0)) * 25400)


def pair(
    store: Store,
    act: Act,
    number: int = 41,
    state: str = "queued",
    name: str = "Marisol Okafor-Lind",
) -> Pair:
    """A pair taken in, agreed and measured, as the counter leaves it."""
    at = "2026-03-17T14:00:00Z"
    with store.write_tx():
        customer_id = store.insert("customers", name=name, name_key=name.lower(), created_at=at)
        ticket_id = store.insert(
            "tickets",
            number=number,
            customer_id=customer_id,
            opened_at=at,
            currency="USD",
            promise_day="2026-04-25",
        )
        fit_id = store.insert("fits", ticket_id=ticket_id, limits="usual", hold_h=168)
        ids = [_boot(store, ticket_id, fit_id, side, state, at) for side in ("left", "right")]
        for side in ("left", "right"):
            for height_mm, girth in LEG.items():
                store.insert(
                    "leg_readings",
                    fit_id=fit_id,
                    side=side,
                    height_um=round(height_mm * 1000),
                    height_text=f"{height_mm} mm",
                    girth_um=um(girth),
                    girth_text=girth,
                    unit="in",
                    repeat=1,
                    read_at=at,
                )
    return Pair(ticket_id, fit_id, ids[0], ids[1])


def _boot(store: Store, ticket_id: int, fit_id: int, side: str, state: str, at: str) -> int:
    item_id = store.insert(
        "items",
        ticket_id=ticket_id,
        fit_id=fit_id,
        letter="A",
        kind="boot",
        side=side,
        work="stretch",
        description="Tall brown boot",
        material="full-grain",
        closure="pull-on",
        state=state,
        since=at,
        method="outside",
        wall_um=2200,
        mark_um=266_700,
    )
    for height_mm, girth in BROUGHT_IN.items():
        store.insert(
            "boot_readings",
            item_id=item_id,
            moment="brought-in",
            height_um=round(height_mm * 1000),
            height_text=f"{height_mm} mm",
            girth_um=um(girth),
            girth_text=girth,
            unit="in",
            method="outside",
            repeat=1,
            read_at=at,
        )
    return item_id


SLIPS = "2026-03-28"


def late_pair(store: Store, act: Act, needed_by: str | None = None) -> Pair:
    """A pair promised for a day (`SLIPS`) by which the bench cannot have it ready, days before
    it.
    """
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, act)
    with store.write_tx():
        store.change("tickets", made.ticket_id, promise_day=SLIPS, needed_by=needed_by)
    plan_keeping.renew(store, act)
    return made


def bag(store: Store, ticket_id: int) -> int:
    """Other work on the same ticket."""
    with store.write_tx():
        return store.insert(
            "items",
            ticket_id=ticket_id,
            letter="B",
            kind="bag",
            work="other",
            description="Bag",
            jobs="new strap",
            state="queued",
            since="2026-03-17T14:00:00Z",
        )


def tree(store: Store, label: str, side: str = "left", **columns: object) -> int:
    with store.write_tx():
        return store.insert("trees", label=label, side=side, **columns)


_ids = count()
TAG = "7K3M9QXWE"


def tagged_pair(store: Store, act: Act) -> Pair:
    """A measured pair whose left boot has a tag, and a tree for each side."""
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, act)
    with store.write_tx():
        store.insert(
            "tags",
            code=TAG,
            number=41,
            side="left",
            item_id=made.left,
            printed_at="2026-03-17T14:00:00Z",
        )
    return made


def new_id() -> str:
    return f"bench-form-{next(_ids):06}"


def put_on(bench: Counter, item_id: int, label: str) -> None:
    bench.get(f"/items/{item_id}")
    typed = {"tree": label, "before": "14 3/8", "on_tree": "15"}
    assert (
        bench.post(f"/items/{item_id}/put-on", submission_id=new_id(), **typed).status_code == 303
    )


def hidden(page: str) -> dict[str, str]:
    """What a page's forms carry unseen, the token left out."""
    return dict(re.findall(r'<input type="hidden" name="(?!csrf)([^"]+)" value="([^"]*)">', page))
