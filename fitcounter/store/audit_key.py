"""The key of the audit's chain: it lies beside the shop's file and never in it, so that whoever has
the file alone cannot write a chain that holds.

The copies' notes and the off-site copy carry it along. Where it is lost, a new one begins behind
the rows that there are.
"""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

FILE = "audit.key"


class AuditKey(NamedTuple):
    """key: HMAC-SHA-256's. first: the first row that must be keyed; rows before it were written by
    a program without keys. unproved: rows up to this one were keyed with a key that is lost.
    """

    key: bytes
    first: int = 1
    unproved: int = 0

    def as_note(self) -> dict[str, object]:
        """As JSON holds it."""
        return {"key": self.key.hex(), "first": self.first, "unproved": self.unproved}


_known: dict[str, AuditKey] = {}  # by folder: a key never changes while a shop is open


def drawn(rows: int, *, unproved: bool) -> AuditKey:
    """A new key for an audit of so many rows."""
    return AuditKey(secrets.token_bytes(32), rows + 1, rows if unproved else 0)


def of_note(note: object) -> AuditKey | None:
    """The key as a note holds it; None for anything else."""
    if not isinstance(note, Mapping):
        return None
    try:
        key = bytes.fromhex(str(note["key"]))
        return AuditKey(key, int(str(note["first"])), int(str(note["unproved"])))
    except (KeyError, ValueError):
        return None


def of_folder(folder: Path) -> AuditKey | None:
    """The key that lies in a folder; None where there is none, or what lies there is none."""
    known = _known.get(str(folder))
    if known is None:
        try:
            known = of_note(json.loads((folder / FILE).read_text(encoding="ascii")))
        except (OSError, ValueError):
            return None
        if known is not None:
            _known[str(folder)] = known
    return known


def write(folder: Path, key: AuditKey, *, replace: bool) -> AuditKey:
    """Lays the key in a folder, readable by its owner alone; what lies there stays where it is not
    to be replaced. Returns the key that counts there now.
    """
    draft = folder / f"{FILE}.{secrets.token_hex(4)}"
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        json.dump(key.as_note(), file)
        file.flush()
        os.fsync(file.fileno())
    try:
        if replace:
            os.replace(draft, folder / FILE)
        else:
            os.link(draft, folder / FILE)
    except FileExistsError:  # another process was first: its key is the key
        pass
    finally:
        draft.unlink(missing_ok=True)
    _known.pop(str(folder), None)
    return of_folder(folder) or key
