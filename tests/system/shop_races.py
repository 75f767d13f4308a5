"""Races for what a shop keeps: a tree, a person, a customer, a choice."""

from __future__ import annotations

from collections.abc import Iterator

from support.ticket_rows import make_job
from system.race import Race, Shop


def tree(shop: Shop) -> Iterator[Race]:
    with shop.store.write_tx():
        tree_id = shop.store.insert("trees", label="4", side="left")
    while True:
        version = shop.value("SELECT version FROM trees WHERE id = ?", tree_id)
        form = {"version": version, "label": "4", "side": "left", "closed_setting": "0"}
        yield Race(
            "a tree's note",
            f"/bench/trees/{tree_id}",
            lambda word, form=form: {**form, "note": word},
            lambda: shop.value("SELECT note FROM trees WHERE id = ?", tree_id),
        )


def person(shop: Shop) -> Iterator[Race]:
    while True:
        version = shop.value("SELECT version FROM staff WHERE initials = 'BE'")
        yield Race(
            "a person's name",
            "/shop/people/2",
            lambda word, version=version: {
                "version": version,
                "name": word,
                "initials": "BE",
                "role": "bench",
            },
            lambda: shop.value("SELECT name FROM staff WHERE id = 2"),
        )


def her_details(shop: Shop) -> Iterator[Race]:
    job = make_job(shop.store, shop.act)
    customer_id = shop.value("SELECT max(id) FROM customers")
    while True:
        version = shop.value("SELECT version FROM customers WHERE id = ?", customer_id)
        form = {"version": version, "name": "Marisol", "language": "en"}
        yield Race(
            "a customer's note",
            f"/tickets/{job.ticket_id}/details",
            lambda word, form=form: {**form, "note": word},
            lambda: shop.value("SELECT note FROM customers WHERE id = ?", customer_id),
        )


def choice(shop: Shop) -> Iterator[Race]:
    while True:
        seen = shop.value("SELECT sum(version) FROM settings")
        yield Race(
            "a choice of the shop",
            "/shop/choices",
            lambda word, seen=seen: {"version": seen, "address": word},
            lambda: shop.value("SELECT value FROM settings WHERE key = 'address'"),
            written=lambda word: f'"{word}"',
        )
