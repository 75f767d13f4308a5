"""The ways in which something comes at the wrong moment: twice, late, out of order, on a full disk,
by a clock that is wrong.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from support.bench_cast import pair, tree
from support.disk_trouble import full_disk, locked, read_only
from support.till import Answer, Till, fresh
from support.whole_shop import NOW, PEOPLE
from system.bad_ways import WAYS, Way, way

from fitcounter.desk import shop
from fitcounter.desk.common.link_token import link_hash, link_key, link_token
from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import people
from fitcounter.store import fits, tickets


@way("two taps")
def two_taps(till: Till, _: object, __: object) -> Answer:
    """The same form twice within a few milliseconds, from two connections."""
    path, sent = till.usual("new job")
    found: list[str] = []

    def tap(client: Any) -> None:
        found.append(client.post(path, data={**sent, "csrf_token": till.token}).location)

    before = till.store.value("SELECT count(*) FROM tickets")
    held = till.client.get_cookie("fitcounter")
    assert held
    clients = [till.shop.app.test_client() for _ in range(2)]
    for one in clients:
        one.set_cookie("fitcounter", held.value)
    threads = [threading.Thread(target=tap, args=(one,)) for one in clients]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert till.store.value("SELECT count(*) FROM tickets") == before + 1
    assert len(set(found)) == 1
    return Answer(303, found[0])


@way("next day")
def next_day(till: Till, _: object, __: object) -> Answer:
    path, sent = till.usual("new job")
    first = till.post(path, sent)
    count = till.store.value("SELECT count(*) FROM tickets")
    till.shop.clock.on(hours=20)
    again = Till(till.shop, "counter")
    with till.store.write_tx():
        till.store.db.execute(
            "UPDATE sessions SET seen_at = '2026-03-18T09:59:00Z', ends_at = '2026-03-19T00:00:00Z'"
        )
    second = again.post(path, sent)
    assert (first.code, till.store.value("SELECT count(*) FROM tickets")) == (303, count)
    assert second.text.split("\n")[0] == first.text.split("\n")[0]
    return second


@way("other words")
def other_words(till: Till, _: object, __: object) -> Answer:
    path, sent = till.usual("new job")
    assert till.post(path, sent).code == 303
    return till.post(path, {**sent, "note": "another note than before"})


@way("two people")
@way("back button")
def an_older_page(till: Till, _: object, __: object) -> Answer:
    """A sheet that was opened before another was saved: both texts stand on the page."""
    version = str(fits.get(till.store, till.fit_id).version)
    assert till.send("reading", boot_left_2="13 7/8", version=version).code == 303
    answer = till.send("reading", version=version, boot_left_2="14 1/8")
    assert "13 7/8" in answer.text
    row = (
        "SELECT count(*) FROM boot_readings r JOIN items i ON i.id = r.item_id WHERE i.fit_id = ?"
        " AND girth_text = '14 1/8'"
    )
    assert till.store.value(row, till.fit_id) == 0
    return answer


@way("out of order")
def out_of_order(till: Till, how: str, _: object) -> Answer:
    left = till.boots.left
    if how == "shelve before measured":
        return till.post(f"/items/{left}/shelve", {"submission_id": fresh(), "shelf": "C2"})
    if how == "picked up twice":
        sent = {
            "submission_id": fresh(),
            "items": [str(left), str(till.boots.right)],
            "collected_by": "Marisol",
            "catch_up": "y",
            "preset": "growing",
            "evening": "18:00",
        }
        first = till.post(f"/pickup/{till.boots.ticket_id}", sent)
        assert first.code == 303, first.text
        return till.post(f"/pickup/{till.boots.ticket_id}", sent)
    item_id = till.store.value("SELECT id FROM items WHERE state = 'out' AND ticket_id = 14")
    return till.post(f"/items/{item_id}/undo", {"submission_id": fresh(), "step_id": "1"})


@way("smaller than before")
def smaller_than_before(till: Till, _: object, __: object) -> Answer:
    left = till.boots.left
    sent = {"tree": "B4", "before": "14 3/8", "on_tree": "14 7/8"}
    assert till.post(f"/items/{left}/put-on", {"submission_id": fresh(), **sent}).code == 303
    return till.post(
        f"/items/{left}/measure-again", {"submission_id": fresh(), "rested": "14", "catch_up": "1"}
    )


@way("one tree twice")
def one_tree_twice(till: Till, _: object, __: object) -> Answer:
    sent = {"tree": "B4", "before": "14 3/8", "on_tree": "14 7/8"}
    tree(till.store, "B9")
    other = pair(till.store, Act(NOW, PEOPLE["owner"]), number=942, name="Tobias Renwick")
    assert (
        till.post(f"/items/{till.boots.left}/put-on", {"submission_id": fresh(), **sent}).code
        == 303
    )
    return till.post(f"/items/{other.left}/put-on", {"submission_id": fresh(), **sent})


@way("killed while saving")
def killed_while_saving(till: Till, _: object, patch: pytest.MonkeyPatch) -> Answer:
    """The process is killed with -9 in the middle of the save, before one row or the other: nothing
    of it is there, and saving again saves all.
    """
    path, sent = till.usual("reading")
    for nth in (1, 6, 13, 15):  # twelve readings, the row of the audit, the submission, the commit
        child = os.fork()
        if child == 0:
            _die_at(Store, nth)
            till.client.post(path, data={**sent, "csrf_token": till.token})
            os._exit(0)
        assert os.waitpid(child, 0)[1] == 9
        assert readings_of(till) == 0
    answer = till.post(path, sent)
    assert (readings_of(till), till.store.value("PRAGMA integrity_check")) == (12, "ok")
    return answer


def readings_of(till: Till) -> int:
    count = (
        "SELECT (SELECT count(*) FROM {0} r JOIN items i ON i.id = r.item_id WHERE i.fit_id = ?)"
    )
    return sum(
        int(till.store.value(count.format(table), till.fit_id))
        for table in ("gap_readings", "boot_readings")
    )


def _die_at(kind: type[Store], nth: int) -> None:
    made, seen = kind.__init__, iter(range(1, 100))

    def die(sql: str) -> None:
        if sql.startswith(("INSERT", "COMMIT")) and next(seen) == nth:
            os.kill(os.getpid(), 9)

    def watched(self: Store, *given: Any, **more: Any) -> None:
        made(self, *given, **more)
        self.db.conn.set_trace_callback(die)

    kind.__init__ = watched  # type: ignore[method-assign]


def _under(trouble: Callable[..., Any]) -> Way:
    def send(till: Till, _: object, patch: pytest.MonkeyPatch) -> Answer:
        path, sent = till.usual("reading")
        with trouble(till.store, patch):
            answer = till.client.post(path, data={**sent, "csrf_token": till.token})
            assert till.client.get("/me").status_code == 200
        assert (
            till.store.value(
                "SELECT count(*) FROM gap_readings g JOIN items i ON i.id = g.item_id WHERE"
                " fit_id = ?",
                till.fit_id,
            )
            == 0
        )
        assert ("Retry-After" in answer.headers) is (answer.status_code == 503)
        return Answer(answer.status_code, answer.text, sent)

    return send


WAYS |= {"full disk": _under(full_disk), "locked": _under(locked), "read only": _under(read_only)}


@way("clock")
def wrong_clock(till: Till, how: str, _: object) -> Answer:
    """No session outlives a clock that jumps: signed out, and what was typed is kept.

    Signed in again it is saved, and health says why.
    """
    path, sent = till.usual("reading")
    now = till.shop.clock.now = {
        "an hour back": NOW - timedelta(hours=1),
        "a day on": NOW + timedelta(days=1),
        "1970": datetime(1970, 1, 1, tzinfo=UTC),
    }[how]
    answer = till.client.post(path, data={**sent, "csrf_token": till.token})
    owner = Till(till.shop, "owner").client
    with till.store.write_tx():
        till.store.db.execute(
            "UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'",
            [now.strftime("%Y-%m-%dT%H:%M:%SZ")],
        )
    assert till.post(path, sent).code == 303
    assert ("clock: it shows a time before" in owner.get("/shop/health").text) is (
        how != "a day on"
    )
    return Answer(answer.status_code, answer.text, sent)


def handed_over(till: Till, at: datetime, zone: str, hour: str = "18:00") -> int:
    """A pair that is fetched at this moment in a shop of this zone; her ticket."""
    act = Act(NOW, PEOPLE["owner"])
    shop.choose(till.store, act, zone=zone)
    till.shop.clock.now = at
    with till.store.write_tx():
        till.store.db.execute(
            "UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'",
            [at.strftime("%Y-%m-%dT%H:%M:%SZ")],
        )
    both = [str(till.boots.left), str(till.boots.right)]
    sent = {
        "submission_id": fresh(),
        "items": both,
        "collected_by": "Marisol",
        "catch_up": "y",
        "preset": "three-short-wears",
        "evening": hour,
    }
    answer = till.post(f"/pickup/{till.boots.ticket_id}", sent)
    assert answer.code == 303, answer.text
    return till.boots.ticket_id


def first_day(till: Till, ticket_id: int) -> str:
    """The day of her first wear as her calendar file has it, and all of the file."""
    ticket = tickets.get(till.store, ticket_id)
    made = link_token(link_key(till.store.path.parent), ticket)
    with till.store.write_tx():
        till.store.change(
            "tickets", ticket_id, link_hash=link_hash(made), link_until="2031-01-01T00:00:00Z"
        )
    answer = till.shop.app.test_client().get(f"/c/{made}/calendar.ics")
    assert answer.status_code == 200, answer.text
    return answer.text


@way("an hour that is not")
def an_hour_that_is_not(till: Till, _: object, __: object) -> Answer:
    """02:30 on the day the clocks go on: it begins at 03:30 of that day's clock, one second of
    elapsed time wrong nowhere.
    """
    ticket_id = handed_over(till, datetime(2026, 3, 7, 15, tzinfo=UTC), "America/New_York", "02:30")
    ics = first_day(till, ticket_id)
    starts = [
        row["start_at"]
        for row in till.store.rows(
            "SELECT start_at FROM wears WHERE plan_id = (SELECT max(id) FROM wear_plans) ORDER BY n"
        )
    ]
    assert starts[0] == "2026-03-08T07:30:00Z", starts
    return Answer(200, "2026-03-08" if "DTSTART;TZID=America/New_York:20260308" in ics else ics)


@way("late evening")
def late_evening(till: Till, zone: str, _: object) -> Answer:
    """Fetched at 23:30 of the shop's own clock: day one is the shop's next day, not that of
    London.
    """
    at = datetime(2026, 3, 17, 23, 30, tzinfo=ZoneInfo(zone)).astimezone(UTC)
    ticket_id = handed_over(till, at, zone)
    ics = first_day(till, ticket_id)
    row = till.store.rows(
        "SELECT start_at FROM wears WHERE plan_id = (SELECT max(id) FROM wear_plans) ORDER BY n"
        " LIMIT 1"
    )[0]
    local = datetime.fromisoformat(row["start_at"].replace("Z", "+00:00")).astimezone(
        ZoneInfo(zone)
    )
    assert local.strftime("%H:%M") == "18:00"
    assert f"DTSTART;TZID={zone}:{local:%Y%m%d}" in ics
    return Answer(200, local.date().isoformat())


@way("29 February")
def leap_day(till: Till, _: object, __: object) -> Answer:
    ticket_id = handed_over(till, datetime(2028, 2, 29, 15, tzinfo=UTC), "America/New_York")
    return Answer(200, str(tickets.get(till.store, ticket_id).guarantee_end))


@way("zone changed")
def zone_changed(till: Till, _: object, __: object) -> Answer:
    """A shop that moves: calendars that were given keep their hours."""
    ticket_id = handed_over(till, NOW, "America/New_York")
    before = first_day(till, ticket_id)
    shop.choose(till.store, Act(NOW, PEOPLE["owner"]), zone="Asia/Tokyo")
    after = first_day(till, ticket_id)
    assert [line for line in before.splitlines() if line.startswith("DTSTART")] == [
        line for line in after.splitlines() if line.startswith("DTSTART")
    ]
    return Answer(200, "")


@way("wrong order from the pocket")
def from_the_pocket(till: Till, _: object, __: object) -> Answer:
    """Three sheets that waited two hours and come in another order: the first is saved, the others
    stay with the phone as conflicts.
    """
    version = str(fits.get(till.store, till.fit_id).version)
    path, sent = till.usual("reading")
    codes = []
    for girth in ("14 1/8", "14", "13 7/8"):
        form = {
            **sent,
            "submission_id": fresh(),
            "boot_left_2": girth,
            "version": version,
            "csrf_token": till.token,
        }
        answer = till.client.post(
            path, data=form, headers={"Outbox": "later", "Outbox-Age": "7200"}
        )
        codes.append((answer.status_code, answer.headers["Outbox"]))
    assert codes == [(204, "saved"), (409, "refused"), (409, "refused")]
    assert till.store.value("SELECT count(*) FROM boot_readings WHERE girth_text = '14 1/8'") >= 1
    return Answer(answer.status_code, answer.text, {"boot_left_2": "13 7/8"})


@way("sent away")
def sent_away(till: Till, _: object, __: object) -> Answer:
    path, sent = till.usual("reading")
    people.set_active(till.store, Act(NOW, PEOPLE["owner"]), PEOPLE["counter"], False)
    answer = till.client.post(path, data={**sent, "csrf_token": till.token})
    assert till.store.value("SELECT count(*) FROM drafts WHERE kind = 'parked'") == 1
    return Answer(answer.status_code, answer.text, sent)
