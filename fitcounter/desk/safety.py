"""Keeping the shop's data: copies, the way back, and what the health page says."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.desk import erasing
from fitcounter.errors import NotFound, Unavailable
from fitcounter.store import backup, content, duties
from fitcounter.store import erasing as erased
from fitcounter.store.database import Act, Store, Written, dbapi, journal, utc_text, utc_time
from fitcounter.store.migrations import open_store

COPIES = "copies"
LOW_DISK_BYTES = 500 * 1024 * 1024
COPY_LATE_H = 36


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the health page: what, how it stands in words, and whether it wants somebody's hand."""

    what: str
    words: str
    good: bool = True


def make_copy(data_dir: Path, folder: Path | None, now: datetime) -> backup.Copy:
    """A copy by hand, after one that the machine is making by itself. Raises NotFound, Unavailable."""
    if not (data_dir / backup.SHOP).exists():
        raise NotFound("There is no shop in that folder yet. Name the one it lies in with --data.")
    with duties.alone(data_dir, wait=True):
        return copy_alone(data_dir, folder, now)


def copy_alone(data_dir: Path, folder: Path | None, now: datetime) -> backup.Copy:
    """A verified copy, noted in the shop's own file too, made while nobody else makes one. Raises Unavailable.

    folder: None for `copies` beside the data. What the shop keeps no longer is tidied away first, so that it is in no new copy.
    """
    target = folder or data_dir / COPIES
    store = open_store(data_dir / backup.SHOP)
    try:
        erasing.tidy(store, data_dir, target, now)
        copy = backup.make(data_dir, target, now)
        row = {"at": copy.made_at, "file": str(copy.path.name), "content_hash": copy.content_hash, "verified_at": copy.made_at}
        store.once(Act(now), "copy", lambda: Written(row_id=store.insert("backups", **row), detail={"copy": copy.path.name}))
    finally:
        store.close()
    erased.join_lists(data_dir, target)
    backup.expire_aside(data_dir, now)
    return copy


def bring_back(path: Path, data_dir: Path, now: datetime, beside: Path | None = None) -> str:
    """Restores a copy, erases again who was erased after it was made, and says what is there now.

    beside: the folder with the pictures, the keys and the list of who was erased, None for the copy's own.
    """
    found = backup.restore(path, data_dir, now, beside)
    erased.join_lists(beside or path.parent, data_dir)
    store = open_store(data_dir / backup.SHOP)
    try:
        again = erasing.erase_again(store, data_dir, now)
    finally:
        store.close()
    tickets, audit = found.rows.get("tickets", 0), found.rows.get("audit", 0)
    told = f"Restored {path.name}: {tickets} tickets, {audit} rows of the audit, content as noted."
    return f"{told} Erased again: {again}, who had asked for it after the copy was made." if again else told


def newest(data_dir: Path, folder: Path | None) -> Path:
    """The newest copy. Raises NotFound."""
    found = backup.copies(folder or data_dir / COPIES)
    if not found:
        raise NotFound("There is no copy yet. Make one with `fitcounter backup`.")
    return found[0].path


def proof(path: Path) -> str:
    """Reads a copy to its end. Raises Unavailable with the first fault."""
    found = backup.verify(path)
    if not found.sound:
        raise Unavailable(f"{path.name} is not good. {found.faults[0]}")
    return f"{path.name} is good: {sum(found.rows.values())} rows, content {found.content_hash[:16]}."


def health(store: Store, data_dir: Path, now: datetime) -> list[Finding]:
    """How the shop's data stand: build, journal, room, copies, clock, audit."""
    mode, synchronous = journal()
    free = shutil.disk_usage(data_dir).free
    broken = content.broken_link(store)
    return [
        Finding("Database", f"SQLite {dbapi.sqlite_version}, {_journal_words(mode)}, synchronous {synchronous}"),
        Finding("Room on the disk", f"{free // (1024 * 1024)} MB free", free > LOW_DISK_BYTES),
        _last_copy(store, now),
        _clock(store, now),
        Finding("Audit", _chain_words(broken), broken is None),
    ]


def _chain_words(broken: int | None) -> str:
    return "every row follows from the one before" if broken is None else f"does not follow from row {broken} on"


def _journal_words(mode: str) -> str:
    return "write-ahead log on a build without its reset bug" if mode == "wal" else "rollback journal: this build has the log's reset bug"


def last_copy_at(store: Store) -> str | None:
    """When the last copy was made that was read back and good (UTC text)."""
    found = store.value("SELECT max(at) FROM backups WHERE verified_at IS NOT NULL")
    return None if found is None else str(found)


def _last_copy(store: Store, now: datetime) -> Finding:
    last = last_copy_at(store)
    if last is None:
        return Finding("Last copy", "none yet; run `fitcounter backup`, best to another disk", good=False)
    age = now - utc_time(last)
    return Finding("Last copy", f"{last}, read back and good", age <= timedelta(hours=COPY_LATE_H))


def _clock(store: Store, now: datetime) -> Finding:
    last = store.value("SELECT max(at) FROM audit")
    behind = last is not None and utc_text(now) < str(last)
    return Finding("Clock", f"{utc_text(now)}; the last row was written {last or 'never'}", not behind)
