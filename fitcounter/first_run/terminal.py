"""What the set-up says on the terminal, and how it ends when it cannot go on."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from typing import NoReturn

CANNOT_GO_ON = 3


def run(line: Sequence[str], sentence: str) -> None:
    """Run a program to its end; where it fails, say the sentence and end. Raises SystemExit(3)."""
    if subprocess.run(line).returncode:
        stop(sentence)


def say(sentence: str) -> None:
    """Write a sentence to standard error, at once."""
    print(sentence, file=sys.stderr, flush=True)


def stop(sentence: str) -> NoReturn:
    """Say a sentence and end. Raises SystemExit(3)."""
    say(sentence)
    raise SystemExit(CANNOT_GO_ON)
