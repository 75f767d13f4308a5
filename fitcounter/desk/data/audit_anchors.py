"""The last row of the audit as copies and the off-site copy noted it, held against the file.

A chain alone can be written anew from any row on by whoever has its key, and cut at its end by
anybody. What was noted elsewhere cannot: where the file does not hold it any more, it was changed
from outside since.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.data import copy_and_bring_back, off_site_settings
from fitcounter.store import backup, integrity, job_log
from fitcounter.store.database import Store, utc_text
from fitcounter.store.integrity import Head

OFF_SITE = "audit-head.json"


class Anchor(NamedTuple):
    """Where the last row was noted, when (UTC text), and the row."""

    name: str
    at: str
    head: Head


class Compared(NamedTuple):
    """How many notes the file agrees with; the name of the newest it does not, '' for none."""

    agree: int
    differs: str


def compare(store: Store, data_dir: Path, *folders: Path) -> Compared:
    """The file against the notes of all copies and of the off-site copy since the last restore.

    folders: further ones that copies lie in.
    """
    noted = job_log.read(data_dir, job_log.SECOND)
    anchors = [
        *(
            one
            for folder in {data_dir / copy_and_bring_back.COPIES, *folders}
            for one in of_copies(folder)
        ),
        *(
            one
            for duty in noted.values()
            if duty.made
            for one in of_off_site(off_site_settings.local_folder(data_dir, duty.made))
        ),
    ]
    since = copy_and_bring_back.restored_at(data_dir)
    anchors = sorted((one for one in anchors if one.at >= since), key=lambda one: one.at)
    differ = [one.name for one in anchors if not integrity.holds(store, one.head)]
    return Compared(len(anchors) - len(differ), differ[-1] if differ else "")


def of_copies(folder: Path) -> list[Anchor]:
    """What the notes of the copies in a folder say; older programs noted nothing."""
    return [
        Anchor(copy.path.name, copy.made_at, copy.head)
        for copy in backup.copies(folder)
        if copy.head is not None
    ]


def of_off_site(folder: Path) -> list[Anchor]:
    """What the off-site copy notes; nothing where it is away or has noted nothing yet."""
    try:
        noted = json.loads((folder / OFF_SITE).read_text(encoding="utf-8"))
        head = backup.head_of_note(noted["head"])
        return [Anchor(str(folder), str(noted["at"]), head)] if head else []
    except (OSError, ValueError, KeyError, TypeError):
        return []


def renew_off_site(folder: Path, proved: Path, data_dir: Path, now: datetime) -> bool:
    """Notes the last row of a file that was made from the off-site copy of the shop in `data_dir`.

    False where the note of before is not in that file any more: then it stays as it is.
    """
    store = Store(proved, read_only=True)
    try:
        since = copy_and_bring_back.restored_at(data_dir)
        before = [one for one in of_off_site(folder) if one.at >= since]
        if not all(integrity.holds(store, one.head) for one in before):
            return False
        note = {"at": utc_text(now), "head": asdict(integrity.head(store))}
    finally:
        store.close()
    backup.write_file(folder / OFF_SITE, json.dumps(note).encode())
    return True
