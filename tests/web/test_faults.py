"""The disk fails at each step of each write, one after the other: all or nothing, and what was typed is on the page that says so.

One job goes through the shop, from New job to coming back and being erased; every form on its way is sent again and again, each time
with the disk failing one statement later, until it succeeds.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import timedelta

import pytest
from bad_till import Answer, Till
from cast import Counter
from door import agreement, fresh, gap_sheet, new_job
from faults import Fault, failing
from PIL import Image
from trouble import content, full_disk
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart
from whole_shop import WholeShop

from fitcounter.desk.bench_findings import OTHER_WORDS
from fitcounter.desk.links import link_hash, link_key, link_token
from fitcounter.store import tickets

OF_LEGS = ("over", "posture", "part_of_day", "ease")
CODE = {"full": 507, "broken": 503}


@dataclass
class Life:
    """A job's way through the shop. tried: how many faults each write was given."""

    shop: WholeShop
    patch: pytest.MonkeyPatch
    kinds: tuple[tuple[str, bool], ...]
    every: int
    tried: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.owner, self.her = Counter(self.shop.signed_in("owner")), Counter(self.shop.app.test_client())
        self.owner.get("/me")

    def write(self, path: str, sent: dict[str, object], who: Counter | None = None, make: Callable[[], bytes] | None = None) -> TestResponse:
        """One form: faults until it succeeds, each checked for all or nothing and for what was typed."""
        who = who or self.owner
        sent = {"submission_id": fresh(), **sent}
        where = re.sub(r"\d+|/c/[^/]+", "N", path)
        for kind, for_ever in self.kinds:
            at = 1
            while self._fails(who, path, sent, Fault(at, kind, for_ever), make):
                at += self.every
                self.tried[where] = self.tried.get(where, 0) + 1
        answer = self._send(who, path, sent, make)
        assert answer.status_code in (303, 204), (path, answer.text)
        return answer

    def _fails(self, who: Counter, path: str, sent: dict[str, object], fault: Fault, make: Callable[[], bytes] | None) -> bool:
        before, files = content(self.shop.store), self._files()
        with failing(self.patch, fault):
            answer = self._send(who, path, sent, make)
        if answer.status_code in (303, 204):
            return False
        said = (path, fault, answer.status_code, answer.text[:2000])
        after = content(self.shop.store)
        assert answer.status_code == CODE[fault.kind], said
        assert ([name for name in after if after[name] != before[name]], self._files()) == ([], files), said
        assert make is not None or Answer(0, answer.text, sent).missing() == [], said
        assert ("Retry-After" in answer.headers) is (answer.status_code == 503)
        return True

    def _send(self, who: Counter, path: str, sent: dict[str, object], make: Callable[[], bytes] | None) -> TestResponse:
        if make is None:
            return who.send(path, sent)
        picture = FileStorage(io.BytesIO(make()), "boot.jpg")
        boundary, body = encode_multipart({"csrf_token": who.token(), **sent, "photo": picture})
        return who.client.post(path, data=body, content_type=f"multipart/form-data; boundary={boundary}")

    def _files(self) -> list[str]:
        return sorted(str(one) for one in self.shop.store.path.parent.rglob("*") if one.is_file() and not one.name.startswith("shop.db"))

    def value(self, sql: str, *values: object) -> int:
        return int(self.shop.store.value(sql, *values))


def picture() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "brown").save(out, "JPEG")
    return out.getvalue()


def steps(life: Life) -> Iterator[int]:
    """The whole way; yields after each part, so that a short form may stop."""
    life.write("/new", new_job(phone="(412) 555-0187", things=""))
    fit_id, ticket_id = life.value("SELECT max(id) FROM fits"), life.value("SELECT max(id) FROM tickets")
    sheet = {name: value for name, value in gap_sheet().items() if name not in OF_LEGS}
    life.write(f"/fits/{fit_id}/measure", sheet)
    yield 1
    life.write(f"/tickets/{ticket_id}/agree", agreement(life.owner, ticket_id))
    yield 2
    left = life.value("SELECT id FROM items WHERE fit_id = ? AND side = 'left'", fit_id)
    right = life.value("SELECT id FROM items WHERE fit_id = ? AND side = 'right'", fit_id)
    life.write("/bench/trees", {"label": "Z9", "side": "either", "counts": "turns"})
    life.write(f"/items/{left}/prepare", {"prepared": "conditioned", "prepared_with": "lanolin"})
    life.write(f"/items/{left}/put-on", {"tree": "Z9", "before": "13 5/8", "on_tree": "13 7/8", "mark": "12 1/2"})
    life.write(f"/items/{left}/turn-up", {"girth": "14", "setting": "8"})
    life.write(f"/items/{left}/take-off", {"came_out": "eased"})
    yield 3
    on(life, days=2)
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(f"/items/{left}/undo", {"step_id": life.value("SELECT max(id) FROM steps WHERE item_id = ?", left)})
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(f"/items/{left}/finding", {"word": next(iter(OTHER_WORDS)), "place": "toe", "note": "shallow"})
    life.write(f"/items/{left}/photos", {"moment": "after"}, make=picture)
    life.write(f"/items/{left}/done", {})
    life.write(f"/items/{left}/finish", {"shaper": "12"})
    life.write(f"/items/{left}/shelve", {"shelf": "C2", "shaper": "12"})
    yield 4
    life.write(f"/items/{right}/further", {"state": "shelved"})
    life.write(f"/tickets/{ticket_id}/call", {"how": "left-word", "note": "with her son"})
    life.write(f"/pickup/{ticket_id}/tried", {"how": "fits"})
    handed: dict[str, object] = {"items": [str(left), str(right)], "collected_by": "Marisol", "paid": "10", "preset": "growing", "evening": "18:00"}
    life.write(f"/pickup/{ticket_id}", handed)
    yield 5
    token = link_token(link_key(life.shop.store.path.parent), tickets.get(life.shop.store, ticket_id))
    assert life.value("SELECT count(*) FROM tickets WHERE link_hash = ?", link_hash(token)) == 1
    life.her.get(f"/c/{token}")
    life.write(f"/c/{token}/hour", {"evening": "19:30"}, life.her)
    on(life, hours=26)
    life.write(f"/c/{token}/wear", {"n": "1", "minutes": "20"}, life.her)
    life.write(f"/c/{token}/not-right", {"side": "left", "place": "calf", "said": "presses a little"}, life.her)
    life.write(f"/items/{left}/back", {"said": "it presses", "boot": "13 7/8", "leg": ""})
    life.write(f"/tickets/{ticket_id}/again", {})
    yield 6
    life.write("/bench/away", {"from_day": "2026-09-01", "to_day": "2026-09-04", "why": "fair"})
    life.write("/bench/slots", {"words": "Ada", "sides": "pair", "first": "2026-05-04", "goes": "2"})
    life.write("/shop/people", {"name": "Dora", "initials": "DO", "role": "bench"})
    life.write("/shop/choices", {"name": "The other bench"})
    life.write(f"/shop/customers/{life.value('SELECT customer_id FROM tickets WHERE id = 3')}/erase", {"word": "erase", "confirmed": "y"})
    yield 7


def on(life: Life, **lapse: float) -> None:
    """The clock goes on, and nobody is signed out by it."""
    now = life.shop.clock.on(**lapse) + timedelta()
    with life.shop.store.write_tx():
        life.shop.store.db.execute("UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'", [now.strftime("%Y-%m-%dT%H:%M:%SZ")])


def test_a_disk_that_fails_leaves_all_or_nothing_of_a_job_taken_in(whole: WholeShop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every fourth statement of the writes up to the tree, full once."""
    life = Life(whole, monkeypatch, (("full", False),), every=4)
    for part in steps(life):
        if part == 3:
            break
    print(sum(life.tried.values()), "faults in", len(life.tried), "writes")
    assert len(life.tried) >= 7


@pytest.mark.slow
def test_a_disk_that_fails_at_any_step_leaves_all_or_nothing_of_any_write(whole: WholeShop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every statement of every write, full or broken, once or for ever."""
    life = Life(whole, monkeypatch, (("full", False), ("broken", True)), every=1)
    for _ in steps(life):
        pass
    print(sum(life.tried.values()), "faults in", len(life.tried), "writes")
    assert len(life.tried) >= 25


def test_what_was_seen_on_a_boot_outlives_a_full_disk(whole: WholeShop, monkeypatch: pytest.MonkeyPatch) -> None:
    """The word that was picked is on the page of the full disk, for the save that comes after it."""
    till = Till(whole, "bench")
    path = f"/items/{till.boots.left}/finding"  # the pair is made while there is room
    sent: dict[str, object] = {"submission_id": fresh(), "word": "scuffs", "place": "toe", "note": "shallow"}
    with full_disk(till.store, monkeypatch):
        answer = till.post(path, sent)
    assert (answer.code, Answer(0, answer.text, sent).missing()) == (507, [])
