"""How many files hold one of some words as bytes, found by a process of its own.

The living file must never be opened here but through SQLite: closing any descriptor of a file drops
every POSIX lock that this process holds on it (fcntl(2)), and with them SQLite's own. Another
program then takes the log for left behind and removes it, and every later save is lost without a
sign. A child process has no such locks to lose.

Run as a program it reads one JSON object from its standard input and writes one to its standard
output; it imports nothing of ours.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

PIECE = 4 * 1024 * 1024
LONGEST_S = 600


class Searched(NamedTuple):
    """files: how many were read. bytes: how long they were together. hits: how many of them hold
    one of the words.
    """

    files: int
    bytes: int
    hits: int


def search(files: Iterable[Path], words: Sequence[str]) -> Searched | None:
    """What a child process finds in the files; None where it could not look.

    words: travel through its standard input, so that nobody reads them in the list of processes.
    """
    asked = json.dumps({"files": [str(path) for path in files], "words": list(words)})
    try:
        done = subprocess.run(
            [sys.executable, "-I", "-S", __file__],
            input=asked.encode(),
            capture_output=True,
            timeout=LONGEST_S,
            check=True,
        )
        return Searched(*json.loads(done.stdout))
    except (OSError, ValueError, TypeError, subprocess.SubprocessError):
        return None


def read_and_count(files: Sequence[str], words: Sequence[str]) -> tuple[int, int, int]:
    """Files read, their bytes, and how many hold one of the words. Only for the child process."""
    wanted = [word.encode() for word in words]
    lengths, hits = [], 0
    for path in files:
        with suppress(FileNotFoundError):  # it was erased meanwhile
            length, hit = _look_through(path, wanted)
            lengths.append(length)
            hits += hit
    return len(lengths), sum(lengths), hits


def _look_through(path: str, wanted: list[bytes]) -> tuple[int, bool]:
    """A piece at a time, with the end of the one before, so that no word is cut in two."""
    overlap = max((len(word) for word in wanted), default=1) - 1
    length, hit, tail = 0, False, b""
    with open(path, "rb") as file:
        while piece := file.read(PIECE):
            length += len(piece)
            window = tail + piece
            hit = hit or any(word in window for word in wanted)
            tail = window[-overlap:] if overlap else b""
    return length, hit


if __name__ == "__main__":
    given = json.load(sys.stdin)
    print(json.dumps(read_and_count(given["files"], given["words"])))
