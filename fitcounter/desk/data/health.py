"""How the shop's data stand and what wants a hand: one list for the health page and for `fitcounter
check`.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fitcounter.desk.data import backups, machine_clock, upkeep
from fitcounter.desk.data import replica as data_replica
from fitcounter.desk.documents import ticket as documents_ticket
from fitcounter.desk.shop import Shop, read
from fitcounter.desk.staff import held_forms as staff_held_forms
from fitcounter.store import drafts, integrity, job_log
from fitcounter.store.database import Store, dbapi, journal, utc_text, utc_time
from fitcounter.store.job_log import Duty

LOW_DISK_BYTES = 500 * 1024 * 1024
COPY_LATE = timedelta(hours=36)
BEHIND = timedelta(seconds=60)
SHEET_LATE = timedelta(hours=1)
CERTIFICATE_DAYS = (
    20  # a start renews it before; so few left say that nobody has started the program for long
)
WRITTEN = datetime(
    2026, 1, 1, tzinfo=UTC
)  # no clock that is right shows less: this program was written after


@dataclass(frozen=True, slots=True)
class Finding:
    """One line: what, how it stands in words, and, where it wants somebody's hand, what to do."""

    what: str
    words: str
    todo: str = ""

    @property
    def good(self) -> bool:
        return not self.todo


def look(
    store: Store, data_dir: Path, now: datetime, certificate_days: int | None = None
) -> list[Finding]:
    """Every line, in the order of the page.

    now: aware UTC. certificate_days: whole days until the shop's own certificate ends; None without
    one.
    """
    shop, done = read(store), job_log.read(data_dir)
    return [
        _database(),
        _room(data_dir),
        _last_copy(store, shop, data_dir, done, now),
        _second_place(data_dir, now),
        _clock(store, shop, now),
        _audit(store),
        _waiting(store, now),
        _by_itself(data_dir, done),
        _evening(shop, done, now),
        _papers(),
        _certificate(certificate_days),
    ]


def _database() -> Finding:
    mode, synchronous = journal()
    logs = {"wal": "write-ahead log, on a build without its reset bug"}
    log = logs.get(mode, "rollback journal, because this build has the log's reset bug")
    return Finding("Database", f"SQLite {dbapi.sqlite_version}, {log}, synchronous {synchronous}")


def _room(data_dir: Path) -> Finding:
    free = shutil.disk_usage(data_dir).free
    todo = "" if free > LOW_DISK_BYTES else "Make room: move what is not the shop's off this disk."
    return Finding("Room on the disk", f"{_size(free)} free", todo)


def _size(n_bytes: int) -> str:
    """As a person reads it: 75 GB, and MB where it grows tight."""
    gib = n_bytes / 1024**3
    return f"{gib:.0f} GB" if gib >= 10 else f"{n_bytes // 1024**2} MB"


def _last_copy(
    store: Store, shop: Shop, data_dir: Path, done: Mapping[str, Duty], now: datetime
) -> Finding:
    last, held = backups.last_copy_at(store), done.get(upkeep.COPY, Duty())
    fault = held.fault
    todo = f"The last try went wrong: {fault} " if fault else ""
    if last is None:
        return Finding(
            "Last copy", "none yet", f"{todo}Run “fitcounter backup”, best to another disk."
        )
    late = not timedelta() <= now - utc_time(last) <= COPY_LATE
    beside = held.done_at == last and data_replica.same_disk(data_dir, Path(held.made).parent)
    words = f"{_moment(shop, last)}, read back and good{', but on the same disk' if beside else ''}"
    return Finding("Last copy", words, f"{todo}Run “fitcounter backup”." if fault or late else "")


def _second_place(data_dir: Path, now: datetime) -> Finding:
    held = job_log.read(data_dir, job_log.SECOND).get(data_replica.NAME)
    if held is None:
        return Finding(
            "Second place",
            "none: a dead disk takes along what came since the last copy (“fitcounter replicate”"
            " makes one)",
        )
    again = (
        "Start “fitcounter replicate” again; is its disk plugged in? To give it up, delete"
        " second-place.json in the data folder."
    )
    if not held.done_at:
        return Finding(
            "Second place", f"nothing has come across to {held.made} yet", held.fault or again
        )
    behind = now - utc_time(held.done_at)
    beside = ", but on the same disk" if data_replica.same_disk(data_dir, Path(held.made)) else ""
    words = f"{held.made} is {max(0, round(behind.total_seconds()))} s behind{beside}"
    return Finding(
        "Second place",
        words,
        f"{held.fault} {again}".strip() if held.fault or behind > BEHIND else "",
    )


def _clock(store: Store, shop: Shop, now: datetime) -> Finding:
    last = integrity.last_written_at(store)
    words = (
        f"{_moment(shop, utc_text(now))}; the last row was written"
        f" {_moment(shop, last) if last else 'never'}"
    )
    leap = machine_clock.leap(store, now)
    todo = ""
    if now < WRITTEN or (last is not None and utc_text(now) < last):
        todo = "Set the machine's clock: it shows an earlier time than what is written already."
    elif leap is not None:
        todo = (
            f"Nothing was written from {_moment(shop, utc_text(leap.last))} to"
            f" {_moment(shop, utc_text(leap.next))}. Until the owner says on Shop, Health that the"
            " clock is right, nothing is deleted for its age."
        )
    return Finding("Clock", words, todo)


def _audit(store: Store) -> Finding:
    broken = integrity.broken_link(store)
    if broken is None:
        return Finding("Audit", "every row follows from the one before")
    todo = "The file was changed from outside: bring a copy back with “fitcounter restore”."
    return Finding("Audit", f"does not follow from row {broken} on", todo)


def _waiting(store: Store, now: datetime) -> Finding:
    late = len(staff_held_forms.everything(store, now))
    begun = drafts.how_many_but(store, staff_held_forms.KIND)
    words = (
        f"came after signing out: {late}; begun: {begun}; what waits on a phone is told on that"
        " phone"
    )
    return Finding(
        "Forms",
        words,
        "Whoever typed them can sign in and save them, under Me; they go after 14 days."
        if late
        else "",
    )


def _by_itself(data_dir: Path, done: Mapping[str, Duty]) -> Finding:
    opened = job_log.is_open(data_dir)
    words = (
        "the program serves the shop: what is due is done"
        if opened
        else "the program does not serve the shop: what is due waits"
    )
    faults = [f"{name}: {one.fault}" for name, one in done.items() if one.fault]
    return Finding("By itself", words, " ".join(faults))


def _evening(shop: Shop, done: Mapping[str, Duty], now: datetime) -> Finding:
    held = done.get(upkeep.EVENING, Duty())
    closing = upkeep.last_closing(shop, now)
    late = now - closing > SHEET_LATE and (not held.done_at or utc_time(held.done_at) < closing)
    words = (
        f"{_moment(shop, held.done_at)}, {held.made}"
        if held.done_at
        else "none yet; it is made at closing, while the shop is open"
    )
    return Finding(
        "Evening sheet",
        words,
        "Print it from Papers, and see why the shop was not open at closing." if late else "",
    )


def _papers() -> Finding:
    missing = documents_ticket.ready()
    return Finding("Papers", "print pages only" if missing else "PDFs can be made", missing)


def _certificate(left: int | None) -> Finding:
    if left is None:
        return Finding("Certificate", "none of the shop's own")
    todo = "" if left >= CERTIFICATE_DAYS else "Stop the program and start it again: it renews it."
    return Finding("Certificate", f"{left} days left", todo)


def _moment(shop: Shop, at: str) -> str:
    local = shop.local(utc_time(at))
    return f"{local.day} {local:%B %Y, %H:%M}"
