"""Photos and signatures as files beside the shop's file: which of them no row names, and how they
go.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from fitcounter.store.database import Store


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
        if kind in ("photos", "signatures") and Path(name).name == name:
            (folder / kind / name).unlink(missing_ok=True)
