"""A copy of the shop's file that is known to be good.

It is made while the shop works (VACUUM INTO), read to its end, and written with a note of what it
holds. The way back is in `restoring`, how long copies stay in `copies_kept`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import NamedTuple

from fitcounter import how_far
from fitcounter.errors import Unavailable, message
from fitcounter.store import audit_key, settings
from fitcounter.store.audit_key import AuditKey
from fitcounter.store.database import Store, dbapi, utc_text
from fitcounter.store.integrity import Head, Soundness, head, look

SHOP = "shop.db"
RESTORES = "restores"  # among the settings: how often the shop was brought back
RESTORED = "restored.json"  # when it was last, beside the file: its content stays what it was
LOOKED_AT_EVERY = 200_000  # steps of SQLite's machine: some hundredths of a second
COPYING = message("Copying the shop’s file")
COPYING_PICTURES = message("Copying the pictures")
SIDES = ("", "-wal", "-shm", "-journal")


class Copy(NamedTuple):
    """A backup on disk: its file, when it was made, and what it holds.

    audit: rows of its audit. restores: how often the shop had been brought back before. head: the
    last row of its audit; None in the notes of older programs.
    """

    path: Path
    made_at: str
    content_hash: str
    audit: int = 0
    restores: int = 0
    head: Head | None = None


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
        make_private(draft)  # SQLite fills an empty file, and leaves its mode as it is
        restores = settings.everything(store).get(RESTORES, 0)
        key = audit_key.of_folder(data_dir)
        _write_copy(store, draft)
    except dbapi.Error as error:
        draft.unlink(missing_ok=True)
        raise Unavailable(
            message(
                "The copy could not be written: {error}. Make room in {name}, or name another"
                " folder.",
                error=error,
                name=folder.name,
            )
        ) from error
    finally:
        store.close()
    found = look(draft, key=key)
    if not found.sound:
        draft.unlink(missing_ok=True)
        raise Unavailable(
            message("The copy is not good, so it was not kept. {faults}", faults=found.faults[0])
        )
    copy_files(data_dir, folder)
    renew_keys(data_dir, folder)
    sync(draft)
    note = {"made_at": utc_text(now), "restores": restores, **_holds(found, _head(draft), key)}
    write_file(target.with_suffix(".json"), json.dumps(note, indent=1, sort_keys=True).encode())
    draft.rename(target)
    sync_folder(folder)
    return _copy(target, note)


def _write_copy(store: Store, draft: Path) -> None:
    """The file anew, without its gaps; how far it is is seen by how large the copy has become."""
    size = int(store.value("PRAGMA page_count")) * int(store.value("PRAGMA page_size"))

    def look_on() -> int:
        how_far.tell(COPYING, draft.stat().st_size, size)
        return 0

    store.db.conn.set_progress_handler(look_on, LOOKED_AT_EVERY)
    try:
        store.db.execute("VACUUM INTO ?", [str(draft)])
    finally:
        store.db.conn.set_progress_handler(None, 0)


def _holds(found: Soundness, last: Head, key: AuditKey | None) -> dict[str, object]:
    """What the note of a copy says of its content and its audit."""
    return {
        "content_hash": found.content_hash,
        "rows": found.rows,
        "audit_head": asdict(last),
        "audit_key": key.as_note() if key else None,
    }


def copies(folder: Path) -> list[Copy]:
    """Every copy with its note, newest first: by how often the shop had been brought back, then by
    how long its audit is. The date is a clock's word, and clocks are wrong at times.
    """
    found = [_copy(path, _note(path)) for path in sorted(folder.glob("shop-*.db"))]
    return sorted(found, key=lambda copy: (copy.restores, copy.audit, copy.path.name), reverse=True)


def last_verified_at(store: Store) -> str | None:
    """When the last copy was made that was read back and good (UTC text); None before the first."""
    found = store.value(
        "SELECT at FROM backups WHERE verified_at IS NOT NULL ORDER BY id DESC LIMIT 1"
    )
    return None if found is None else str(found)


def verify(path: Path) -> Soundness:
    """Reads a copy to its end and holds it against its note."""
    return look(path, note_text(_note(path), "content_hash"), key_of(path))


def key_of(path: Path) -> AuditKey | None:
    """The key of a copy's audit, as its note has it."""
    return audit_key.of_note(_note(path).get("audit_key"))


def _head(path: Path) -> Head:
    store = Store(path, read_only=True)
    try:
        return head(store)
    finally:
        store.close()


def note_text(note: Mapping[str, object], key: str) -> str:
    return str(note.get(key, ""))


def copy_files(source: Path, target: Path) -> None:
    """Photographs and signatures that the target has not yet, and the keys: without them her link
    would open nothing.
    """
    for folder in ("photos", "signatures"):
        missing = sorted(_names(source / folder) - _names(target / folder))
        for name in how_far.Part(COPYING_PICTURES, partial(len, missing)).each(missing):
            (target / folder).mkdir(mode=0o700, exist_ok=True)
            with suppress(FileNotFoundError):  # it was erased a moment ago
                write_file(target / folder / f"{name}.half", (source / folder / name).read_bytes())
                (target / folder / f"{name}.half").replace(target / folder / name)
    keys, goal = source / "keys.json", target / "keys.json"
    if keys.is_file() and not goal.exists():
        write_file(goal, keys.read_bytes())


def renew_keys(data_dir: Path, folder: Path) -> None:
    """The keys as they are now go with the newest copy."""
    keys, held = data_dir / "keys.json", folder / "keys.json"
    if keys.is_file() and (not held.is_file() or held.read_bytes() != keys.read_bytes()):
        write_file(held, keys.read_bytes())


def _names(folder: Path) -> set[str]:
    """Of the files there that are whole."""
    return (
        {name for name in os.listdir(folder) if not name.endswith(".half")}
        if folder.is_dir()
        else set()
    )


def _copy(path: Path, note: Mapping[str, object]) -> Copy:
    rows = note.get("rows")
    return Copy(
        path,
        note_text(note, "made_at"),
        note_text(note, "content_hash"),
        _count(rows.get("audit") if isinstance(rows, dict) else 0),
        _count(note.get("restores")),
        head_of_note(note.get("audit_head")),
    )


def head_of_note(noted: object) -> Head | None:
    """The last row of an audit as a note has it; None for anything else."""
    if not isinstance(noted, dict) or not isinstance(noted.get("row"), int):
        return None
    return Head(noted["row"], str(noted.get("hash")))


def _count(value: object) -> int:
    return value if isinstance(value, int) else 0


def _note(path: Path) -> dict[str, object]:
    try:
        note = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return note if isinstance(note, dict) else {}


def write_file(path: Path, content: bytes) -> None:
    """A whole file that nobody else reads, on the disk when it returns."""
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def make_private(path: Path) -> None:
    """An empty file that nobody else reads, before anything is written into it."""
    path.unlink(missing_ok=True)
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))


def sync(path: Path) -> None:
    with path.open("rb") as file:
        os.fsync(file.fileno())


def sync_folder(folder: Path) -> None:
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
