"""A copy of the shop's file that is known to be good, and the way back from it.

A copy is made while the shop works (VACUUM INTO), read to its end, and written with a note of what
it holds. A restore never lays a file over a living one: a log that is left beside it would give a
wrong file that passes every check. All three files of the old shop are moved aside first.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.errors import Conflict, NotFound, Unavailable
from fitcounter.store import job_log
from fitcounter.store.database import Store, dbapi, utc_text
from fitcounter.store.integrity import Soundness, look

SHOP = "shop.db"
# so that what a customer had erased is gone from the copies too (shop's choice within a month's
# reason)
KEPT_DAYS = 35
DENSE_DAYS = 2  # copies come after each pickup; of older days the last is enough
SIDES = ("", "-wal", "-shm", "-journal")


@dataclass(frozen=True, slots=True)
class Copy:
    """A backup on disk: its file, when it was made, and what it holds."""

    path: Path
    made_at: str
    content_hash: str


def make(data_dir: Path, folder: Path, now: datetime) -> Copy:
    """A verified copy of the file, the photographs and the keys.

    Raises Unavailable; nothing half-made is left.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    stamp = utc_text(now).replace(":", "").replace("-", "")
    target, draft = folder / f"shop-{stamp}.db", folder / f"shop-{stamp}.db.part"
    draft.unlink(missing_ok=True)
    store = Store(data_dir / SHOP)
    try:
        store.db.execute("VACUUM INTO ?", [str(draft)])
    except dbapi.Error as error:
        draft.unlink(missing_ok=True)
        raise Unavailable(
            f"The copy could not be written: {error}. Make room in {folder.name}, or name another"
            " folder."
        ) from error
    finally:
        store.close()
    found = look(draft)
    if not found.sound:
        draft.unlink(missing_ok=True)
        raise Unavailable(f"The copy is not good, so it was not kept. {found.faults[0]}")
    copy_files(data_dir, folder)
    renew_keys(data_dir, folder)
    _sync(draft)
    note = {"made_at": utc_text(now), "content_hash": found.content_hash, "rows": found.rows}
    _write(target.with_suffix(".json"), json.dumps(note, indent=1, sort_keys=True).encode())
    draft.rename(target)
    _sync_folder(folder)
    _expire(folder, now)
    return Copy(target, note_text(note, "made_at"), found.content_hash)


def copies(folder: Path) -> list[Copy]:
    """Every copy with its note, newest first."""
    found = []
    for path in sorted(folder.glob("shop-*.db"), reverse=True):
        note = _note(path)
        found.append(Copy(path, note_text(note, "made_at"), note_text(note, "content_hash")))
    return found


def last_verified_at(store: Store) -> str | None:
    """When the last copy was made that was read back and good (UTC text); None before the first."""
    found = store.value("SELECT max(at) FROM backups WHERE verified_at IS NOT NULL")
    return None if found is None else str(found)


def verify(path: Path) -> Soundness:
    """Reads a copy to its end and holds it against its note."""
    return look(path, note_text(_note(path), "content_hash"))


def restore(path: Path, data_dir: Path, now: datetime, beside: Path | None = None) -> Soundness:
    """Puts a verified copy in the place of the shop's file; the old files are moved aside, never
    overwritten.

    beside: the folder with the pictures and the keys, None for the copy's own.
    Raises NotFound, Unavailable (the copy is not good), Conflict (the shop is open).
    """
    if not path.is_file():
        raise NotFound(f"{path.name} is not there. Name one of the files of `fitcounter backup`.")
    before = verify(path)
    if not before.sound:
        raise Unavailable(f"{before.faults[0]} Nothing was changed; take another copy.")
    data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    if job_log.is_open(data_dir) or _in_use(data_dir / SHOP):
        raise Conflict("The shop is open on this machine. Stop it first, then restore.")
    draft = data_dir / f"{SHOP}.restoring"
    shutil.copyfile(path, draft)
    _sync(draft)
    _move_aside(data_dir, now)
    draft.rename(data_dir / SHOP)
    _sync_folder(data_dir)
    copy_files(beside or path.parent, data_dir)
    after = look(data_dir / SHOP, before.content_hash)
    if not after.sound:
        raise Unavailable(
            f"{after.faults[0]} The files of before are in the folder before-restore."
        )
    return after


def note_text(note: Mapping[str, object], key: str) -> str:
    return str(note.get(key, ""))


def _move_aside(data_dir: Path, now: datetime) -> None:
    aside = data_dir / f"before-restore-{utc_text(now).replace(':', '')}"
    for side in SIDES:
        old = data_dir / f"{SHOP}{side}"
        if old.exists():
            aside.mkdir(mode=0o700, exist_ok=True)
            old.rename(aside / old.name)


def expire_aside(data_dir: Path, now: datetime) -> None:
    """What a restore moved aside goes when copies of its age go, so that what was erased is gone
    from there too.
    """
    oldest = f"before-restore-{utc_text(now - timedelta(days=KEPT_DAYS)).replace(':', '')}"
    for aside in data_dir.glob("before-restore-*"):
        if aside.name < oldest:
            shutil.rmtree(aside)


def copy_files(source: Path, target: Path) -> None:
    """Photographs and signatures that the target has not yet, and the keys: without them her link
    would open nothing.
    """
    for folder in ("photos", "signatures"):
        for name in sorted(_names(source / folder) - _names(target / folder)):
            (target / folder).mkdir(mode=0o700, exist_ok=True)
            with suppress(FileNotFoundError):  # it was erased a moment ago
                _write(target / folder / f"{name}.half", (source / folder / name).read_bytes())
                (target / folder / f"{name}.half").replace(target / folder / name)
    keys, goal = source / "keys.json", target / "keys.json"
    if keys.is_file() and not goal.exists():
        _write(goal, keys.read_bytes())


def renew_keys(data_dir: Path, folder: Path) -> None:
    """The keys as they are now go with the newest copy."""
    keys, held = data_dir / "keys.json", folder / "keys.json"
    if keys.is_file() and (not held.is_file() or held.read_bytes() != keys.read_bytes()):
        _write(held, keys.read_bytes())


def _names(folder: Path) -> set[str]:
    """Of the files there that are whole."""
    return (
        {name for name in os.listdir(folder) if not name.endswith(".half")}
        if folder.is_dir()
        else set()
    )


def _expire(folder: Path, now: datetime) -> None:
    """Every copy for two days, then the last of each day, none after its days; what was broken off
    half-way goes after a day.
    """
    oldest, dense = (
        utc_text(now - timedelta(days=KEPT_DAYS)),
        utc_text(now - timedelta(days=DENSE_DAYS)),
    )
    seen: set[str] = set()
    for one in copies(folder):  # newest first
        day = one.made_at[:10]
        if one.made_at and (one.made_at < oldest or (one.made_at < dense and day in seen)):
            one.path.unlink()
            one.path.with_suffix(".json").unlink(missing_ok=True)
        seen.add(day)
    for half in folder.glob("shop-*.db.part"):
        if half.stat().st_mtime < now.timestamp() - timedelta(days=1).total_seconds():
            half.unlink()


def _note(path: Path) -> dict[str, object]:
    try:
        note = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return note if isinstance(note, dict) else {}


def _write(path: Path, content: bytes) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _sync(path: Path) -> None:
    with path.open("rb") as file:
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _in_use(path: Path) -> bool:
    """Does somebody hold the file open for writing? A wreck that cannot be opened is in nobody's
    use.
    """
    if not path.exists():
        return False
    connection = dbapi.connect(str(path), isolation_level=None, timeout=0)
    try:
        connection.execute("BEGIN EXCLUSIVE")
        connection.execute("ROLLBACK")
    except dbapi.OperationalError as error:
        return "locked" in str(error)
    except dbapi.DatabaseError:
        return False
    finally:
        connection.close()
    return False
