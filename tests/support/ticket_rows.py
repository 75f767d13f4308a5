"""One invented job as rows: a pair of boots and a bag."""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.store import bills, customers, tickets
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store, utc_text


@dataclass(frozen=True)
class Job:
    """The ids of one invented job."""

    ticket_id: int
    fit_id: int
    left: int
    right: int
    bag: int


def make_job(
    store: Store, act: Act, name: str = "Marisol Okafor-Lind", state: str = "queued"
) -> Job:
    """Straight rows, so that a test of one room does not hang on another."""
    with store.write_tx():
        customer = customers.add(store, act, name, ("(555) 010-0142", "+15550100142", "0142"))
        ticket = tickets.add(store, act, customer, currency="USD")
        fit = store.insert("fits", ticket_id=ticket)
        common = {"ticket_id": ticket, "state": state, "since": utc_text(act.at)}
        boot = {
            **common,
            "fit_id": fit,
            "letter": "a",
            "kind": "boot",
            "work": "stretch",
            "description": "chestnut tall boot",
        }
        left = store.insert("items", **boot, side="left", mark_um=304800)
        right = store.insert("items", **boot, side="right", mark_um=304800)
        bag = store.insert(
            "items",
            **common,
            letter="b",
            kind="bag",
            work="other",
            description="tan bag",
            jobs="new zip",
        )
        bills.add_line(store, ticket, NewLine("Stretch, up to two goes", "flat", 9000))
        bills.pay(store, act, ticket, "deposit", 3000)
    return Job(ticket, fit, left, right, bag)
