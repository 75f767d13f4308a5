"""How far each boot has come, said only from readings that can be compared."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.how_far_boots_came import what_boots_did
from fitcounter.store import items
from fitcounter.store.database import Store

ROUND = {
    "n": 1,
    "before_um": 361950,
    "before_text": "14 1/4",
    "rested_text": "14 1/2",
    "rested_counts": 1,
    "method": "outside",
    "on_at": "2026-03-01T10:00:00Z",
}


def said(store: Store, ticket_id: int, language: str = "en") -> list[str]:
    return what_boots_did(store, items.of_ticket(store, ticket_id), "in", speech(language))


def test_a_boot_read_before_and_after_says_what_it_gave(store: Store, job) -> None:
    with store.write_tx():
        store.insert("rounds", item_id=job.left, rested_um=368300, **ROUND)
    assert said(store, job.ticket_id) == ["Your left boot gave ¼ in."]


def test_two_right_boots_are_told_apart_by_their_words(store: Store, job) -> None:
    """Both were "your right boot"."""
    with store.write_tx():
        store.insert("rounds", item_id=job.right, rested_um=368300, **ROUND)
        like = {key: getattr(items.get(store, job.right), key) for key in ("ticket_id", "since")}
        more = {"letter": "c", "kind": "boot", "work": "stretch", "state": "queued"}
        other = store.insert("items", side="right", description="black riding boot", **more, **like)
        store.insert("rounds", item_id=other, rested_um=387350, **ROUND)
    assert said(store, job.ticket_id) == [
        "Your right boot (chestnut tall boot) gave ¼ in.",
        "Your right boot (black riding boot) gave 1 in.",
    ]


@pytest.mark.parametrize(
    ("rested_um", "size"),
    [
        (368300, "¼ de pulgada"),
        (366713, "3/16 de pulgada"),
        (387350, "1 pulgada"),
        (396875, "1⅜ pulgadas"),
    ],
)
def test_a_part_of_an_inch_is_said_as_spanish_does(
    store: Store, job, rested_um: int, size: str
) -> None:
    """Also where the fraction is one letter."""
    with store.write_tx():
        store.insert("rounds", item_id=job.left, rested_um=rested_um, **ROUND)
    assert said(store, job.ticket_id, "es") == [f"Tu bota izquierda ha cedido {size}."]


def test_another_way_of_measuring_says_nothing(store: Store, job) -> None:
    with store.write_tx():
        store.insert("rounds", item_id=job.left, rested_um=368300, rested_method="flat", **ROUND)
    assert said(store, job.ticket_id) == []
