"""The ways in which something comes at the wrong moment: twice, late, out of order, on a full disk,
by somebody who was sent away.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from typing import Any

import pytest
from support.bench_cast import pair, tree
from support.disk_trouble import full_disk, locked, read_only
from support.till import Answer, Till, fresh
from support.whole_shop import NOW, PEOPLE
from system.bad_ways import WAYS, Way, way

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import people
from fitcounter.store import fits


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
