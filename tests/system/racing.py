"""Two people at two phones who save the same thing at the same moment, again and again, at every
form that can be changed twice.
"""

from __future__ import annotations

import re
import threading
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import timedelta
from html import unescape
from itertools import count, cycle

from flask import Flask
from flask.testing import FlaskClient
from support.cast import Clock
from support.counter_forms import gap_sheet
from support.measured_pair import measured_pair
from support.ticket_rows import make_job
from system.hostile import Forms
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from fitcounter.desk.staff import sign_in
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store, utc_text

PHONES = 8
LANES = PHONES // 2
Form = dict[str, object]


@dataclass
class Race:
    """One row that two want to change.

    form: what somebody sends who writes these words; stored: the words that stand in the row.
    """

    what: str
    path: str
    form: Callable[[str], Form]
    stored: Callable[[], object]
    written: Callable[[str], str] = lambda word: word  # as the row keeps it
    shown: Callable[[str], str] = lambda word: word  # as a page shows it


@dataclass(frozen=True)
class Shop:
    """What a race is made from."""

    store: Store
    act: Act
    clock: Clock

    def value(self, sql: str, *values: object) -> object:
        return self.store.value(sql, *values)


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


ALWAYS = (tree, incident, person)  # quick ones, in every heat beside one of the rest
IN_TURN = (
    choice,
    her_details,
    shelf,
    shaper,
    pickup_day,
    hold,
    measuring,
    agreeing,
    handing_over,
    giving_back,
    follow_up,
)


def _only(rows: list) -> object:  # type: ignore[type-arg]
    assert len(rows) == 1, rows
    return rows[0]


class Hall:
    """Eight phones on one shop; each race is run by two of them, four races at a time."""

    def __init__(self, app: Flask, store: Store, clock: Clock) -> None:
        app.config["WTF_CSRF_ENABLED"] = False  # its tokens have tests of their own
        self.store, self.shop = store, Shop(store, Act(clock.now, 3), clock)
        self.clients = [self._signed_in(app, f"token-of-phone-{n}") for n in range(PHONES)]
        self.gate = threading.Barrier(PHONES, timeout=20)
        self.run_so_far: Counter[str] = Counter()
        self.again: dict[str, tuple[Race, TestResponse, str]] = {}

    def _signed_in(self, app: Flask, token: str) -> FlaskClient:
        client = app.test_client()
        now = self.shop.act.at
        row = {
            "token_hash": sign_in.token_hash(token),
            "staff_id": 3,
            "started_at": utc_text(now),
            "seen_at": utc_text(now),
        }
        with self.store.write_tx():
            self.store.insert("sessions", **row, ends_at=utc_text(now + timedelta(hours=9)))
        with client.session_transaction() as session:
            session["token"], session.permanent = token, True
        return client

    def run(self, pairs: int) -> str:
        """So many pairs, all kinds in turn. Returns the figures in words."""
        always, in_turn = (
            [make(self.shop) for make in ALWAYS],
            cycle([make(self.shop) for make in IN_TURN]),
        )
        with ThreadPoolExecutor(PHONES) as threads:
            while self.run_so_far.total() < pairs:
                self._heat(threads, [next(kind) for kind in (*always, next(in_turn))])
        told = ", ".join(f"{count} {what}" for what, count in self.run_so_far.items())
        return (
            f"{self.run_so_far.total()} racing pairs from {PHONES} threads, each with one winner"
            f" and one who saw both texts: {told}"
        )

    def _heat(self, threads: ThreadPoolExecutor, races: list[Race]) -> None:
        number = self.run_so_far.total()
        audited = self._audited()
        words = [f"word {'ab'[phone % 2]}{number + phone // 2}" for phone in range(PHONES)]
        answers = list(
            threads.map(
                lambda phone: self._send(phone, races[phone // 2], words[phone]), range(PHONES)
            )
        )
        for lane, race in enumerate(races):
            self._judge(race, words[2 * lane : 2 * lane + 2], answers[2 * lane : 2 * lane + 2])
        assert self._audited() == audited + LANES, (
            "one row of the audit for each winner and none for a loser"
        )

    def _send(self, phone: int, race: Race, word: str) -> TestResponse:
        form = {"submission_id": f"race-{phone}-{word.replace(' ', '-')}", **race.form(word)}
        self.gate.wait()
        return self.clients[phone].post(race.path, data=form)

    def _judge(self, race: Race, words: list[str], answers: list[TestResponse]) -> None:
        codes = [one.status_code for one in answers]
        assert sorted(codes) == [303, 409], (
            race.what,
            codes,
            [unescape(one.text)[-3000:] for one in answers if one.status_code not in (303, 409)],
        )
        won, lost = words[codes.index(303)], words[codes.index(409)]
        assert race.stored() == race.written(won), race.what
        page = unescape(answers[codes.index(409)].text)
        assert race.shown(lost) in page, f"{race.what}: what I typed is not there"
        assert race.shown(won) in page, f"{race.what}: what stands there is not shown"
        self.run_so_far[race.what] += 1
        self.again[race.what] = (
            race,
            answers[codes.index(409)],
            lost,
        )  # of the last race: on an older page more was written since

    def save_again(self) -> None:
        """From the page that shows both, of the last race of each kind: saved, after one question
        at most; or no button, and the way to its ticket.
        """
        for race, answer, lost in self.again.values():
            fields = _to_send(race, answer, lost)
            if fields is None:
                assert re.search(r'class="next" href="/tickets/[0-9]+"', answer.text), race.what
                continue
            answer = self.clients[0].post(race.path, data=fields)
            if answer.status_code == 422:
                answer = self.clients[0].post(race.path, data=_to_send(race, answer, lost))
            assert answer.status_code == 303, (race.what, answer.status_code, answer.text)
            assert race.stored() == race.written(lost), race.what

    def _audited(self) -> int:
        return int(self.store.value("SELECT count(*) FROM audit WHERE what <> 'bench-planned'"))


def _to_send(race: Race, answer: TestResponse, lost: str) -> MultiDict[str, str] | None:
    """The fields of the form on this page that saves what lost; None where there is none."""
    page = Forms(race.path)
    page.feed(answer.text)
    holds = (
        one.fields
        for one in page.found
        if one.action == race.path and race.shown(lost) in dict(one.fields).values()
    )
    return next((MultiDict(fields) for fields in holds), None)
