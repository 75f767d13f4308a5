"""Photos and signatures as files beside the shop's file: which of them no row names, and how they
go.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

from fitcounter.errors import NotFound, message
from fitcounter.store.database import Store

FOLDERS = ("photos", "signatures")
# A name and never a way: no slash, and no dot at its beginning. The tables hold to the same
# (migration 11), but a file that comes from elsewhere may have other tables.
_NAME = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9._-]{0,99}")


def is_name(name: str) -> bool:
    return bool(_NAME.fullmatch(name))


def path_of(data_dir: Path, folder: str, name: str) -> Path:
    """Where a picture lies that a row names. Raises NotFound for a name that leads elsewhere."""
    if folder not in FOLDERS or not is_name(name):
        raise NotFound(message("The name of that picture is not one of ours, so it is not opened."))
    return data_dir / folder / name


def strays(store: Store, data_dir: Path, before: datetime) -> list[str]:
    """Pictures that no row names, as a power cut leaves them, as folder/name; those written since
    may belong to a file moved aside.
    """
    known = {
        "photos": "SELECT file FROM photos",
        "signatures": "SELECT signature_file FROM consents",
    }
    found = []
    for folder, statement in known.items():
        named = {str(row[0]) for row in store.db.execute(statement)}
        old = [
            path.name
            for path in (data_dir / folder).glob("*")
            if path.name not in named and path.stat().st_mtime < before.timestamp()
        ]
        found += [f"{folder}/{name}" for name in sorted(old)]
    return found


def remove(folder: Path, files: tuple[str, ...] | list[str]) -> None:
    """Files that may be gone already. files: folder/name."""
    for file in files:
        kind, _, name = file.partition("/")
        if kind in FOLDERS and is_name(name):
            (folder / kind / name).unlink(missing_ok=True)
