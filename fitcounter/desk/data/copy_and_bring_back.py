"""Keeping the shop's data: copies, and the way back."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

from fitcounter.desk.common.translation import say, told
from fitcounter.desk.data import damaged_file, erasure, machine_clock
from fitcounter.errors import NotFound, Unavailable
from fitcounter.store import (
    backup,
    copies_kept,
    erased_list,
    integrity,
    job_log,
    opening,
    restoring,
    settings,
)
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.opening import open_store

COPIES = "copies"


def make_copy(data_dir: Path, folder: Path | None, now: datetime) -> backup.Copy:
    """A copy by hand, after one that the machine is making by itself.

    Raises NotFound, Unavailable.
    """
    if not (data_dir / backup.SHOP).exists():
        raise NotFound(
            say("There is no shop in that folder yet. Name the one it lies in with --data.")
        )
    with job_log.alone(data_dir, wait=True):
        return copy_alone(data_dir, folder, now)


def copy_alone(data_dir: Path, folder: Path | None, now: datetime) -> backup.Copy:
    """A verified copy, noted in the shop's own file too, made while nobody else makes one. Raises
    Unavailable, Damaged.

    folder: None for `copies` beside the data. What the shop keeps no longer is tidied away first,
    so that it is in no new copy; nothing goes for its age while the clock is not to be trusted.
    """
    target = folder or data_dir / COPIES
    damaged_file.look(data_dir)  # before anything is tidied away: a copy of a wreck helps nobody
    store = open_store(data_dir / backup.SHOP)
    try:
        trusted = machine_clock.is_trusted(store, now)
        if trusted:
            erasure.tidy(store, data_dir, target, now)
        else:
            erasure.erase_noted(store, data_dir, target, now)
        copy = backup.make(data_dir, target, now)
        row = {
            "at": copy.made_at,
            "file": str(copy.path.name),
            "content_hash": copy.content_hash,
            "verified_at": copy.made_at,
        }
        store.once(
            Act(now),
            "copy",
            lambda: Written(row_id=store.insert("backups", **row), detail={"copy": copy.path.name}),
        )
    finally:
        store.close()
    erased_list.join_lists(data_dir, target)
    if trusted:
        copies_kept.expire(target, now)
        restoring.expire_aside(data_dir, now)
    return copy


def is_behind(data_dir: Path) -> bool:
    """Is there a file that this program would bring up to date?"""
    return opening.is_behind(data_dir / backup.SHOP)


def restore_stands(data_dir: Path) -> tuple[str, int, int] | None:
    """How far a restore by another program is (how_far.Told); None where there is none."""
    return restoring.stands(data_dir)


def copy_before_renewal(data_dir: Path, folder: Path | None, now: datetime) -> str:
    """A copy of a file that this program is about to bring up to date, as it is: the way back to
    the program of before.

    Returns one sentence, '' where nothing is to be brought up to date. Raises Unavailable: then
    nothing has been changed.
    """
    if not is_behind(data_dir):
        return ""
    with job_log.alone(data_dir, wait=True):
        copy = backup.make(data_dir, folder or data_dir / COPIES, now)
    return say(
        "This program is newer than the shop’s file, which is brought up to date now. As it was:"
        " {file}",
        file=copy.path,
    )


def bring_back(path: Path, data_dir: Path, now: datetime, beside: Path | None = None) -> str:
    """Restores a copy, erases again who was erased after it was made, and says what is there now.

    beside: the folder with the pictures, the keys and the list of who was erased, None for the
    copy's own.
    """
    data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    # before: where the machine dies in the middle, the next night still knows whom to erase again
    erased_list.join_lists(beside or path.parent, data_dir)
    found = restoring.restore(path, data_dir, now, beside)
    store = open_store(data_dir / backup.SHOP)
    try:
        again = erasure.erase_again(store, data_dir, now)
        _count_restore(store, [*backup.copies(path.parent), *backup.copies(data_dir / COPIES)])
        backup.write_file(data_dir / backup.RESTORED, json.dumps({"at": utc_text(now)}).encode())
    finally:
        store.close()
    tickets, audit = found.rows.get("tickets", 0), found.rows.get("audit", 0)
    restored = say(
        "Restored {file}: {tickets} tickets, {rows} rows of the log, content as noted.",
        file=path.name,
        tickets=tickets,
        rows=audit,
    )
    if not again:
        return restored
    erased = say(
        "Erased again: {count}, who had asked for it after the copy was made.", count=again
    )
    return f"{restored} {erased}"


def _count_restore(store: Store, copies: list[backup.Copy]) -> None:
    """Where an older copy was brought back: copies made from now on are newer than those of the
    shop that was given up, although its audit is longer.
    """
    restores = settings.everything(store).get(backup.RESTORES, 0)
    audit = integrity.audit_rows(store)
    most = max(((copy.restores, copy.audit) for copy in copies), default=(0, 0))
    if most > (restores, audit):
        with store.write_tx():
            settings.put(store, backup.RESTORES, most[0] + 1)


def restored_at(data_dir: Path) -> str:
    """When the shop was last brought back (UTC text); '' for never."""
    try:
        return str(json.loads((data_dir / backup.RESTORED).read_text(encoding="utf-8"))["at"])
    except (OSError, ValueError, KeyError, TypeError):
        return ""


def newest(data_dir: Path, folder: Path | None) -> Path:
    """The newest copy. Raises NotFound."""
    found = backup.copies(folder or data_dir / COPIES)
    if not found:
        raise NotFound(say("There is no copy yet. Make one with `fitcounter backup`."))
    return found[0].path


def proof(path: Path) -> str:
    """Reads a copy to its end. Raises Unavailable with the first fault."""
    found = backup.verify(path)
    if not found.sound:
        raise Unavailable(
            say("{name} is not good. {faults}", name=path.name, faults=told(found.faults[0]))
        )
    return say(
        "{file} is good: {rows} rows, content {hash}.",
        file=path.name,
        rows=sum(found.rows.values()),
        hash=found.content_hash[:16],
    )


def last_copy_at(store: Store) -> str | None:
    """When the last copy was made that was read back and good (UTC text)."""
    return backup.last_verified_at(store)
