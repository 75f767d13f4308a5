"""The way back from a copy, while nobody else can have the shop's file open.

A copy is never laid over a living file: a log that is left beside it would give a wrong file that
passes every check. All files of the old shop are moved aside first. What is cut off between these
steps is known by a mark, and whoever opens the shop next finishes it: never is an empty shop made
where one was being brought back.
"""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path

from fitcounter import how_far
from fitcounter.errors import Conflict, NotFound, Unavailable, message
from fitcounter.store import audit_key, backup, job_log, open_files
from fitcounter.store.audit_key import AuditKey
from fitcounter.store.backup import SHOP, SIDES
from fitcounter.store.copies_kept import KEPT_DAYS
from fitcounter.store.database import in_use, utc_text
from fitcounter.store.integrity import Soundness, look

MARK = "restoring.json"  # lies there from before the old files go until the copy is in their place
DRAFT = f"{SHOP}.restoring"
COPIED_AT_ONCE = 4 * 1024 * 1024


def restore(path: Path, data_dir: Path, now: datetime, beside: Path | None = None) -> Soundness:
    """Puts a verified copy in the place of the shop's file; the old files are moved aside, never
    overwritten.

    beside: the folder with the pictures and the keys, None for the copy's own.
    Raises NotFound, Unavailable (the copy is not good), Conflict (the shop is open).
    """
    if not path.is_file():
        raise NotFound(
            message(
                "{name} is not there. Name one of the files of `fitcounter backup`.", name=path.name
            )
        )
    before = backup.verify(path)
    if not before.sound:
        raise Unavailable(
            message("{faults} Nothing was changed; take another copy.", faults=before.faults[0])
        )
    data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    with open_files.shut(data_dir / SHOP) as alone:
        if not alone or job_log.is_followed(data_dir) or in_use(data_dir / SHOP):
            raise Conflict(
                message("The shop is open on this machine. Stop it first, then restore.")
            )
        _put_in_place(data_dir)  # what an earlier one left half done
        with how_far.also_told_to(_Noting(data_dir)):
            draft = data_dir / DRAFT
            backup.make_private(draft)
            _copy(path, draft)
            backup.sync(draft)
            backup.copy_files(beside or path.parent, data_dir)
            key = backup.key_of(path) or audit_key.of_folder(beside or path.parent)
            _bring_key(key, data_dir, now)
            _write_mark(data_dir, now)
            _put_in_place(data_dir)
            after = look(data_dir / SHOP, before.content_hash)
    if not after.sound:
        raise Unavailable(
            message(
                "{faults} The files of before are in the folder before-restore.",
                faults=after.faults[0],
            )
        )
    return after


def _copy(source: Path, draft: Path) -> None:
    """A piece at a time, so that it is told how far it is."""
    size, done = source.stat().st_size, 0
    with source.open("rb") as read, draft.open("r+b") as written:
        while piece := read.read(COPIED_AT_ONCE):
            written.write(piece)
            done += len(piece)
            how_far.tell(backup.COPYING, done, size)


class _Noting:
    """Notes each hundredth of a restore, in the lock that keeps others out, for whoever waits."""

    def __init__(self, data_dir: Path) -> None:
        self.path, self.noted = data_dir / open_files.LOCK, ("", -1)
        self(backup.COPYING, 0, 1)

    def __call__(self, what: str, done: int, of: int) -> None:
        stands = what, 100 * done // of
        if stands != self.noted:
            self.noted = stands
            self.path.write_text(json.dumps(stands), encoding="utf-8")


def stands(data_dir: Path) -> tuple[str, int, int] | None:
    """How far a restore is that keeps everybody out now (how_far.Told); None where there is
    none.
    """
    if not open_files.is_shut(data_dir / SHOP):
        return None
    try:
        what, percent = json.loads((data_dir / open_files.LOCK).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return backup.COPYING, 0, 1
    return message(str(what)), int(percent), 100


def _bring_key(key: AuditKey | None, data_dir: Path, now: datetime) -> None:
    """The audit's key comes with the audit; another that lies there goes where its file goes."""
    held = audit_key.of_folder(data_dir)
    if key is None or key == held:
        return
    if held is not None:
        aside = data_dir / _aside_name(now)
        aside.mkdir(mode=0o700, exist_ok=True)
        audit_key.write(aside, held, replace=True)
    audit_key.write(data_dir, key, replace=True)


def finish(data_dir: Path) -> bool:
    """Finishes a restore that was cut off. Returns whether there was one.

    Raises Unavailable while another process is at it.
    """
    if not (data_dir / MARK).exists():
        return False
    with open_files.shut(data_dir / SHOP) as alone:
        if not alone:
            raise Unavailable(open_files.SHUT)
        _put_in_place(data_dir)
    return True


def expire_aside(data_dir: Path, now: datetime) -> None:
    """What a restore moved aside goes when copies of its age go, so that what was erased is gone
    from there too; a copy that never came to its place goes after a day.
    """
    draft, yesterday = data_dir / DRAFT, now.timestamp() - timedelta(days=1).total_seconds()
    if draft.exists() and not (data_dir / MARK).exists() and draft.stat().st_mtime < yesterday:
        draft.unlink()
    oldest = _aside_name(now - timedelta(days=KEPT_DAYS))
    for aside in data_dir.glob("before-restore-*"):
        if aside.name < oldest:
            shutil.rmtree(aside)


def _aside_name(now: datetime) -> str:
    return f"before-restore-{utc_text(now).replace(':', '')}"


def _write_mark(data_dir: Path, now: datetime) -> None:
    """On the disk in one step, after the copy itself."""
    draft = data_dir / f"{MARK}.part"
    backup.write_file(draft, json.dumps({"aside": _aside_name(now)}).encode())
    draft.rename(data_dir / MARK)
    backup.sync_folder(data_dir)


def _put_in_place(data_dir: Path) -> None:
    """Moves the old files aside and the copy to their place; begun again, it goes on where it was
    cut off.
    """
    draft, mark = data_dir / DRAFT, data_dir / MARK
    if mark.exists() and draft.exists():
        _move_aside(data_dir, str(json.loads(mark.read_text(encoding="utf-8"))["aside"]))
        draft.rename(data_dir / SHOP)
        backup.sync_folder(data_dir)
    mark.unlink(missing_ok=True)


def _move_aside(data_dir: Path, name: str) -> None:
    aside = data_dir / name
    for side in SIDES:
        old = data_dir / f"{SHOP}{side}"
        if old.exists():
            aside.mkdir(mode=0o700, exist_ok=True)
            old.rename(aside / old.name)
