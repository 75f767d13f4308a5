"""The list of who was erased, beside the shop's file: it only grows, so that a copy from before can
be brought back without bringing anybody back.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import NamedTuple

LIST = "erased.jsonl"
UNSWEPT = "erased.unswept"  # lies there while bytes of what was erased may still be in the file


class Erased(NamedTuple):
    """One line of the list.

    created_at tells the person from another who got the same id in an older copy. files:
    folder/name.
    """

    customer_id: int
    created_at: str
    at: str
    files: tuple[str, ...]

    def as_line(self) -> str:
        return json.dumps([self.customer_id, self.created_at, self.at, list(self.files)]) + "\n"

    @classmethod
    def from_line(cls, line: str) -> Erased:
        customer_id, created_at, at, files = json.loads(line)
        return cls(customer_id, created_at, at, tuple(files))


def mark_unswept(data_dir: Path) -> None:
    """Before rows go: also after a power cut it is known that the file wants to be written anew."""
    (data_dir / UNSWEPT).touch(mode=0o600)


def note(data_dir: Path, line: Erased) -> None:
    """Adds one line to the list, on the disk when it returns, before the file itself changes: at
    worst somebody is erased again.
    """
    mark_unswept(data_dir)
    _append(data_dir / LIST, line.as_line())


def take_back(data_dir: Path, line: Erased) -> None:
    """Nothing was erased after all: the line that was added last goes again."""
    text = line.as_line().encode()
    with (data_dir / LIST).open("r+b") as file:
        length = file.seek(0, os.SEEK_END)
        file.seek(max(0, length - len(text)))
        if file.read() == text:
            file.truncate(length - len(text))
            os.fsync(file.fileno())


def noted(data_dir: Path) -> list[Erased]:
    """The list; a line that a power cut left half is no line."""
    path = data_dir / LIST
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True) if path.is_file() else []
    return [Erased.from_line(line) for line in lines if line.endswith("]\n")]


def join_lists(source: Path, target: Path) -> None:
    """Adds to the target folder's list the lines it has not yet."""
    known = set(noted(target))
    for line in noted(source):
        if line not in known:
            _append(target / LIST, line.as_line())


def _append(path: Path, line: str) -> None:
    with os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600), "r+b") as file:
        if file.seek(0, os.SEEK_END):
            file.seek(-1, os.SEEK_END)
            line = line if file.read(1) == b"\n" else f"\n{line}"
        file.write(line.encode("utf-8"))
        file.flush()
        os.fsync(file.fileno())
