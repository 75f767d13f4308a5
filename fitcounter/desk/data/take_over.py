"""Which computer the shop is on. A note in the off-site copy says it; another computer takes the
shop over by writing its own there, and the one before then serves no more.
"""

from __future__ import annotations

import json
import secrets
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.errors import Conflict
from fitcounter.store import backup
from fitcounter.store.database import utc_text

FILE = "lease.json"  # in the off-site copy
MACHINE = "machine"  # beside the shop's file, in no copy: which computer this is
LOST = "taken-over.json"  # beside the shop's file: the lease of the computer that has the shop now


@dataclass(frozen=True, slots=True)
class Lease:
    """machine: who has the shop. at: since when, UTC text."""

    machine: str
    at: str


def read(path: Path) -> Lease | None:
    """The lease in a file; None where there is none that can be read."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        return Lease(str(found["machine"]), str(found["at"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def write(path: Path, lease: Lease) -> None:
    """In one step, for its user's eyes alone."""
    draft = path.with_name(f"{path.name}.half")
    backup.make_private(draft)
    backup.write_file(draft, json.dumps(asdict(lease)).encode())
    draft.replace(path)


def ours(data_dir: Path, now: datetime) -> Lease:
    """One for this computer, from now on."""
    path, draft = data_dir / MACHINE, data_dir / f"{MACHINE}.half"
    if not path.exists():
        backup.make_private(draft)
        backup.write_file(draft, secrets.token_hex(16).encode())
        draft.replace(path)
    return Lease(path.read_text(encoding="ascii"), utc_text(now))


def check(data_dir: Path, there: Lease) -> None:
    """Notes it here, and raises Conflict, where another computer has the shop."""
    with suppress(OSError):
        if (data_dir / MACHINE).read_text(encoding="ascii") == there.machine:
            return
    write(data_dir / LOST, there)
    refuse(data_dir)


def refuse(data_dir: Path) -> None:
    """Raises Conflict where another computer is known to have the shop."""
    lost = read(data_dir / LOST)
    if lost is not None:
        raise Conflict(
            say(
                "Another computer took this shop over on {day}, so it is not served here: what is"
                " saved here would be lost. To have it here again, type: fitcounter take-over",
                day=lost.at[:10],
            )
        )


def won(data_dir: Path) -> None:
    """The shop is on this computer again."""
    (data_dir / LOST).unlink(missing_ok=True)
