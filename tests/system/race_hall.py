"""Two people at two phones who save the same thing at the same moment, again and again, at every
form that can be changed twice.
"""

from __future__ import annotations

import re
import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from html import unescape
from itertools import cycle

from flask import Flask
from flask.testing import FlaskClient
from support.cast import Clock
from system.job_races import (
    agreeing,
    follow_up,
    giving_back,
    handing_over,
    hold,
    incident,
    measuring,
    pickup_day,
    shaper,
    shelf,
)
from system.post_forms import Forms
from system.race import Race, Shop
from system.shop_races import choice, her_details, person, tree
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from fitcounter.desk.staff import sign_in
from fitcounter.store.database import Act, Store, utc_text

PHONES = 8
LANES = PHONES // 2

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
