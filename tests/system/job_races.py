"""Races for what belongs to one job, from its readings to its money and what is asked after it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import count

from support.counter_forms import gap_sheet
from support.measured_pair import measured_pair
from support.ticket_rows import make_job
from system.race import Race, Shop

from fitcounter.store import items, tickets
from fitcounter.store.database import utc_text


def incident(shop: Shop) -> Iterator[Race]:
    job = make_job(shop.store, shop.act)
    with shop.store.write_tx():
        row = {"item_id": job.left, "opened_at": utc_text(shop.act.at), "what": "the grain whitens"}
        incident_id = shop.store.insert("incidents", **row)
    while True:
        version = shop.value("SELECT version FROM incidents WHERE id = ?", incident_id)
        yield Race(
            "what was agreed",
            f"/incidents/{incident_id}",
            lambda word, version=version: {"version": version, "told": "y", "agreed": word},
            lambda: shop.value("SELECT agreed FROM incidents WHERE id = ?", incident_id),
        )


def shelf(shop: Shop) -> Iterator[Race]:
    for n in count():
        if n % 20 == 0:  # a boot that was moved a hundred times is none of a shop's
            job = make_job(shop.store, shop.act, state="shelved")
        version = items.get(shop.store, job.left).version
        yield Race(
            "a boot's shelf",
            f"/items/{job.left}/shelve",
            lambda word, version=version: {"version": version, "shelf": word},
            lambda job=job: items.get(shop.store, job.left).shelf,
        )


def shaper(shop: Shop) -> Iterator[Race]:
    """Of two who finish one boot the second is told what it stands on, and not asked whether it
    shall be finished again.
    """
    while True:
        job = make_job(shop.store, shop.act, state="finishing")
        yield Race(
            "a boot finished",
            f"/items/{job.left}/finish",
            lambda word: {"version": 1, "shaper": word},
            lambda job=job: items.get(shop.store, job.left).shaper,
        )


def pickup_day(shop: Shop) -> Iterator[Race]:
    days = {}

    def day(word: str) -> str:
        return days.setdefault(
            word, (shop.act.at + timedelta(days=30 + len(days) % 60)).date().isoformat()
        )

    job = make_job(shop.store, shop.act)
    while True:
        version = tickets.get(shop.store, job.ticket_id).version
        yield Race(
            "a pickup day",
            f"/items/{job.left}/pickup-day",
            lambda word, version=version: {"version": version, "day": day(word)},
            lambda: tickets.get(shop.store, job.ticket_id).pickup_day,
            written=day,
            shown=day,
        )


def hold(shop: Shop) -> Iterator[Race]:
    hours: dict[str, str] = {}

    def so_long(word: str) -> str:
        return hours.setdefault(word, str(301 + len(hours) % 400))

    fit_id = make_job(shop.store, shop.act).fit_id
    while True:
        version = shop.value("SELECT version FROM fits WHERE id = ?", fit_id)
        yield Race(
            "a hold",
            f"/bench/hold/{fit_id}",
            lambda word, version=version: {"version": version, "hold_h": so_long(word)},
            lambda: str(shop.value("SELECT hold_h FROM fits WHERE id = ?", fit_id)),
            written=so_long,
            shown=so_long,
        )


def measuring(shop: Shop) -> Iterator[Race]:
    girths: dict[str, str] = {}

    def girth(word: str) -> str:
        return girths.setdefault(word, f"13.{500 + len(girths) % 200}")

    stored = """SELECT girth_text FROM boot_readings JOIN items i ON i.id = item_id
        WHERE fit_id = ? AND i.side = 'left' AND height_um = 317500"""
    _, fit_id = measured_pair(shop.store, shop.act)
    while True:
        version = shop.value("SELECT version FROM fits WHERE id = ?", fit_id)
        yield Race(
            "a sheet of readings",
            f"/fits/{fit_id}/measure",
            lambda word, version=version: {
                **gap_sheet(version=version),
                "boot_left_1": girth(word),
            },
            lambda: shop.value(stored, fit_id),
            written=girth,
            shown=girth,
        )


def agreeing(shop: Shop) -> Iterator[Race]:
    while True:
        ticket_id, _ = measured_pair(shop.store, shop.act)
        version = tickets.get(shop.store, ticket_id).version
        form = {
            "version": version,
            "agreed": "y",
            "line_0_what": "Stretching the pair",
            "line_0_amount": "90",
            "deposit": "30",
            "method": "cash",
            "promise": "2026-06-02",
        }
        yield Race(
            "an agreement",
            f"/tickets/{ticket_id}/agree",
            lambda word, form=form: {**form, "name": word, "line_0_what": f"Stretching, {word}"},
            lambda ticket_id=ticket_id: _only(tickets.consents(shop.store, ticket_id)).name,
        )
        with (
            shop.store.write_tx()
        ):  # it goes home: a bench with thirty pairs waiting is none of a shop's
            shop.store.db.execute("UPDATE items SET state = 'out' WHERE ticket_id = ?", [ticket_id])


def handing_over(shop: Shop) -> Iterator[Race]:
    while True:
        job = make_job(shop.store, shop.act, state="shelved")
        form = {
            "items": [job.left, job.right, job.bag],
            "paid": "60",
            "method": "cash",
            "preset": "three-short-wears",
            "evening": "18:00",
        }
        yield Race(
            "a pickup",
            f"/pickup/{job.ticket_id}",
            lambda word, form=form: {**form, "collected_by": word},
            lambda job=job: tickets.get(shop.store, job.ticket_id).collected_by,
        )


def giving_back(shop: Shop) -> Iterator[Race]:
    while True:
        job = make_job(shop.store, shop.act)
        seen = shop.value("SELECT max(id) FROM payments")
        form = {"version": seen, "what": "refund", "amount": "12", "method": "cash"}
        yield Race(
            "money given back",
            f"/tickets/{job.ticket_id}/money",
            lambda word, form=form: {**form, "why": word},
            lambda job=job: shop.value(
                "SELECT note FROM payments WHERE ticket_id = ? ORDER BY id DESC LIMIT 1",
                job.ticket_id,
            ),
        )


def follow_up(shop: Shop) -> Iterator[Race]:
    job = make_job(shop.store, shop.act, state="out")
    while True:
        with shop.store.write_tx():
            row_id = shop.store.insert(
                "follow_ups", ticket_id=job.ticket_id, due_day="2026-03-20", kind="after-pickup"
            )
        yield Race(
            "an answer on the list",
            f"/follow-ups/{row_id}",
            lambda word: {"answer": word},
            lambda row_id=row_id: shop.value("SELECT answer FROM follow_ups WHERE id = ?", row_id),
        )


def _only(rows: list) -> object:  # type: ignore[type-arg]
    assert len(rows) == 1, rows
    return rows[0]
