"""What the machine did by itself, in one small file beside the shop's: when each duty was last
tried and done, and what went wrong.

It lies beside the shop's file and not in it, because it must be there to read when that file takes
no writes.
"""

from __future__ import annotations

import fcntl
import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path

FILE, SECOND = "duties.json", "second-place.json"
LOCK, OPEN, FOLLOWED = "duties.lock", "open.lock", "second-place.lock"
EVENINGS = "evening"  # the folder of the evening sheets


@dataclass(frozen=True, slots=True)
class Duty:
    """tried_at, done_at: UTC text, '' for never.

    fault: one sentence, '' where the last try went well. made: what it left, by name.
    """

    tried_at: str = ""
    done_at: str = ""
    fault: str = ""
    made: str = ""


def read(data_dir: Path, name: str = FILE) -> dict[str, Duty]:
    """By name; empty where nothing was ever done.

    A file that cannot be read counts as nothing done.
    """
    try:
        told = json.loads((data_dir / name).read_text(encoding="utf-8"))
        return {str(duty): Duty(**held) for duty, held in told.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def write(data_dir: Path, duties: Mapping[str, Duty], name: str = FILE) -> None:
    """In one step, so that a power cut leaves the old file or the new one. Raises OSError."""
    draft = data_dir / f"{name}.part"
    with os.fdopen(
        os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8"
    ) as file:
        json.dump({duty: asdict(one) for duty, one in duties.items()}, file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(data_dir / name)


def drop_evenings(data_dir: Path) -> None:
    """Evening sheets have names on them: they go when somebody is erased, and the next closing
    makes a new one.
    """
    for sheet in (data_dir / EVENINGS).glob("evening-*"):
        sheet.unlink(missing_ok=True)


@contextmanager
def alone(data_dir: Path, *, wait: bool, name: str = LOCK) -> Iterator[bool]:
    """Lets one process at a time make copies and papers of this shop. The kernel lets go when a
    process dies.

    wait: until the other is done; otherwise gives False at once where another is at it. name: of
    the file that is held.
    """
    held = os.open(data_dir / name, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        except BlockingIOError:
            yield False
        else:
            yield True
    finally:
        os.close(held)


@contextmanager
def while_open(data_dir: Path) -> Iterator[None]:
    """Says to others on this machine that the shop is open; several may say so."""
    held = os.open(data_dir / OPEN, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        fcntl.flock(held, fcntl.LOCK_SH)
        yield
    finally:
        os.close(held)


def is_open(data_dir: Path) -> bool:
    """Does a process say so now?"""
    with alone(data_dir, wait=False, name=OPEN) as nobody:
        return not nobody


def is_followed(data_dir: Path) -> bool:
    """Does a process follow the shop into a second place now?"""
    if not (data_dir / FOLLOWED).exists():
        return False
    held = os.open(data_dir / FOLLOWED, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    finally:
        os.close(held)
    return False
