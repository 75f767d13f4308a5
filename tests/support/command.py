"""The command line as people and scripts use it: a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Any

from support.paths import CHECKOUT

SIDE: dict[str, Any] = {
    "target": "leg",
    "leg": [
        {"station": "small", "height": "4", "girth": ["9"]},
        {"station": "calf", "height": "12", "girth": ["14 1/4", "14 1/4"]},
    ],
    "boot": [{"height": "4", "girth": ["9 7/8"]}, {"height": "12", "girth": ["13 5/8"]}],
}
JOB: dict[str, Any] = {
    "unit": "in",
    "leg": {"posture": "standing", "over": "sheer"},
    "boot": {"material": "supple-full-grain", "lining": "leather"},
    "left": SIDE,
    "right": SIDE,
}


def run(*arguments: str, typed: str | bytes = "", **extra: str) -> subprocess.CompletedProcess[str]:
    """Run `python -m fitcounter …` as a process of its own."""
    content = typed.encode() if isinstance(typed, str) else typed
    line = [sys.executable, "-m", "fitcounter", *arguments]
    done = subprocess.run(
        line,
        cwd=CHECKOUT,
        env={**os.environ, **extra},
        input=content,
        capture_output=True,
        timeout=120,
    )
    return subprocess.CompletedProcess(
        line, done.returncode, done.stdout.decode(), done.stderr.decode()
    )
