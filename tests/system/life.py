"""A life of the shop with a disk that fails: every form is sent with a fault at one of its writes
after the other, and then saved.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import pytest
from PIL import Image
from support.cast import Counter
from support.counter_forms import fresh
from support.disk_faults import NEXT, Fault, each, failing
from support.disk_trouble import BESIDE, content, content_of
from support.till import UNTYPED, Answer
from support.whole_shop import WholeShop
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from fitcounter.store import database

CODE = {"full": 507, "broken": 503}
SAVED = (303, 204)
# These answer with a page or a file, not with the way to one.
SHOWN = ("counter.paper_list", "owner.new_phone", "owner.take_everything", "customer.stop")
SECRET = ("passphrase", "again", "now", "pin", "who")
# What the bench reckons anew from the record, at any time: the one thing that may be missing beside
# what was saved.
RECKONED = ("bench_days",)
BY_CHANCE = (
    "hash",
    "previous_hash",
    "code",
    "file",
    "signature_file",
    "passphrase_hash",
    "pin_hash",
    "secret_hash",
    "enrol_hash",
)
# Lies there while bytes of what was erased may still be in the file; too much of it makes the file
# be written anew once more.
MARK, LIST = "erased.unswept", "erased.jsonl"


@dataclass
class Kept:
    """The shop as it stood before a form: its file, the files beside it, and what the device
    knows.
    """

    file: Any
    beside: dict[str, bytes]
    cookies: dict[Any, Any]


@dataclass
class Life:
    """A shop's way. thorough: every write of every form fails once, else one of each form. second:
    acts that come after what was asked for, and may be lacking.

    tried: how many faults each form was given. stood: after how many of them it was saved all the
    same.
    """

    shop: WholeShop
    patch: pytest.MonkeyPatch
    kinds: tuple[tuple[str, bool], ...]
    thorough: bool = True
    second: tuple[str, ...] = ("bench-planned",)
    tried: dict[str, int] = field(default_factory=dict)
    stood: int = 0

    def __post_init__(self) -> None:
        self.map = self.shop.app.url_map.bind("localhost")

    @cached_property
    def owner(self) -> Counter:
        one = Counter(self.shop.signed_in("owner"))
        one.get("/me")
        return one

    @cached_property
    def her(self) -> Counter:
        """The customer, on her own phone."""
        return Counter(self.shop.app.test_client())

    def write(
        self,
        path: str,
        sent: dict[str, object],
        who: Counter | None = None,
        make: Callable[[], bytes] | None = None,
    ) -> TestResponse:
        """One form: fault after fault, each checked for all or nothing and for what was typed; then
        it is saved.
        """
        who = who or self.owner
        sent = {"submission_id": fresh(), **sent}
        endpoint, values = self.map.match(path, method="POST")
        where = f"{endpoint} {values.get('step', '')}".strip()
        nth, saved = len(self.tried), (200,) if endpoint in SHOWN else SAVED
        self.tried.setdefault(where, 0)
        kept, after = self._keep(who), list[tuple[Fault, object]]()
        for kind, for_ever in self.kinds:
            for at in self._steps(nth, kept, who, path, sent, make):
                fault, version = Fault(at, kind, for_ever), self._version()
                with failing(self.patch, fault):
                    answer = self._send(who, path, sent, make)
                self.tried[where] += bool(fault.struck)
                if answer.status_code not in saved:
                    assert fault.struck, (path, answer.status_code, answer.text)
                    self._refused(answer, path, sent, fault, kept, version)
                    continue
                if fault.struck:
                    after.append((fault, self._record()))
                elif at == NEXT and not after:
                    return answer  # it wrote nothing more
                self._back(kept, who)
        answer = self._send(who, path, sent, make)
        assert answer.status_code in saved, (path, answer.status_code, answer.text)
        for fault, record in after:
            self.stood += 1
            assert record == self._record(), (path, fault)
        return answer

    def _steps(self, nth: int, kept: Kept, who: Counter, *given: Any) -> list[int]:
        """Which of its writes are to fail: each, by what it writes when nothing fails; or one,
        another for each form, and what comes after all.
        """
        if not self.thorough:
            return [1 + nth % 7, NEXT]
        none = Fault(0, "full", False)
        with failing(self.patch, none):
            self._send(who, *given)
        self._back(kept, who)
        return each(none.seen)

    def _refused(
        self,
        answer: TestResponse,
        path: str,
        sent: dict[str, object],
        fault: Fault,
        kept: Kept,
        version: object,
    ) -> None:
        """Nothing was stored, the code and the page say so, and what was typed is on it."""
        said = (path, fault, answer.status_code, answer.text[:3000])
        assert answer.status_code == CODE[fault.kind], said
        if version != self._version():
            before, after = content_of(kept.file), content(self.shop.store)
            assert after == before, ([name for name in after if after[name] != before[name]], said)
            with (
                self.shop.store.write_tx()
            ):  # a try at the door counts before it is looked at; here nobody waits
                self.shop.store.db.execute("DELETE FROM throttle")
        assert self._beside() == kept.beside, (sorted(self._beside()), sorted(kept.beside), said)
        typed = {
            f"{name} {n}": one
            for name, value in sent.items()
            if name not in (*UNTYPED, *SECRET)
            for n, one in enumerate(_each(value))
        }
        assert Answer(0, answer.text, typed).missing() == [], said
        assert f'name="submission_id" value="{sent["submission_id"]}"' in answer.text, said
        assert ("Retry-After" in answer.headers) is (answer.status_code == 503)

    def _send(
        self, who: Counter, path: str, sent: dict[str, object], make: Callable[[], bytes] | None
    ) -> TestResponse:
        if make is None:
            return who.send(path, sent)
        picture = FileStorage(io.BytesIO(make()), "boot.jpg")
        boundary, body = encode_multipart({"csrf_token": who.token(), **sent, "photo": picture})
        return who.client.post(
            path, data=body, content_type=f"multipart/form-data; boundary={boundary}"
        )

    def _version(self) -> object:
        """Changes with every write that another connection kept, and with nothing else."""
        return self.shop.store.value("PRAGMA data_version")

    def _beside(self) -> dict[str, bytes]:
        folder = self.shop.store.path.parent
        files = [
            one
            for one in folder.rglob("*")
            if one.is_file() and not one.name.startswith("shop.db") and one.name != MARK
        ]
        held = {str(one.relative_to(folder)): one.read_bytes() for one in files}
        return {
            name: content for name, content in held.items() if content or name != LIST
        }  # a list of nobody is no list

    def _keep(self, who: Counter) -> Kept:
        memory = database.dbapi.connect(":memory:")
        self.shop.store.db.conn.backup(memory)
        return Kept(memory, self._beside(), dict(who.client._cookies))  # type: ignore[attr-defined]

    def _back(self, kept: Kept, who: Counter) -> None:
        kept.file.backup(self.shop.store.db.conn)
        folder = self.shop.store.path.parent
        for name in self._beside().keys() - kept.beside.keys():
            (folder / name).unlink()
        for name, bytes_ in kept.beside.items():
            (folder / name).write_bytes(bytes_)
        who.client._cookies.clear()  # type: ignore[attr-defined]
        who.client._cookies.update(kept.cookies)  # type: ignore[attr-defined]

    def _record(self) -> dict[str, list[dict[str, object]]]:
        """Every row of the shop's record but what is reckoned from it, without what is drawn by
        chance.
        """
        tables = self.shop.store.rows("SELECT name FROM sqlite_master WHERE type = 'table'")
        held = {
            str(one["name"]): self.shop.store.rows(f"SELECT * FROM {one['name']}")
            for one in tables
            if one["name"] not in (*BESIDE, *RECKONED)
        }
        held["audit"] = [
            {**row, "id": 0} for row in held["audit"] if row["what"] not in self.second
        ]
        held["bookings"] = [
            {**row, "id": 0} for row in held["bookings"] if row["kind"] != "planned"
        ]
        return {
            table: [
                {name: value for name, value in row.items() if name not in BY_CHANCE}
                for row in rows
            ]
            for table, rows in held.items()
        }

    def value(self, sql: str, *values: object) -> int:
        return int(self.shop.store.value(sql, *values))

    def signed_in(self, role: str) -> Counter:
        """Another device, now."""
        one = Counter(self.shop.signed_in(role))
        self.on()
        return one

    def on(self, **lapse: float) -> None:
        """The clock goes on, and nobody is signed out by it."""
        now = self.shop.clock.on(**lapse).strftime("%Y-%m-%dT%H:%M:%SZ")
        with self.shop.store.write_tx():
            self.shop.store.db.execute(
                "UPDATE sessions SET seen_at = ?, ends_at = '2030-01-01T00:00:00Z'", [now]
            )


def _each(value: object) -> list[object]:
    return list(value) if isinstance(value, list) else [value]


def picture() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "brown").save(out, "JPEG")
    return out.getvalue()


def found(pattern: str, text: str) -> str:
    """What stands on a page."""
    match = re.search(pattern, text)
    assert match, (pattern, text[:3000])
    return match.group(1)
