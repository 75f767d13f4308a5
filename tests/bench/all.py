"""The README's table of measurements, taken anew: each of its commands is run, one after another.

`python tests/bench/all.py [WORD …]`

With words, only the rows in which one of them stands. Prints the table with what each command said
in the place of the figure, and ends with 1 when one of them is over its limit. All rows take hours.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys

import checkout_path  # noqa: F401 - finds the next
from support.paths import CHECKOUT

ROW = re.compile(r"^\| (?P<what>[^|]+) \| (?P<figure>[^|]+) \| `(?P<command>[^`]+)` \|$")
LAST = 6  # lines of what a command says that are shown: the figures stand at its end


def rows(words: list[str]) -> list[tuple[str, str, str]]:
    """What is measured, the figure told and the command, of the rows that have one of the words."""
    lines = (CHECKOUT / "README.md").read_text(encoding="utf-8").splitlines()
    found = filter(None, map(ROW.match, lines))
    told = [match.group("what", "figure", "command") for match in found]
    return [row for row in told if not words or any(word in " ".join(row) for word in words)]


def measured(command: str) -> tuple[str, bool]:
    """What a command says at its end, in one line, and whether it kept its limit."""
    program, *arguments = shlex.split(command)
    module = ["-m", "pytest"] if program == "pytest" else []
    run = subprocess.run(
        [sys.executable, *module, *arguments], cwd=CHECKOUT, capture_output=True, text=True
    )
    said = [line.strip() for line in (run.stdout or run.stderr).splitlines() if line.strip()]
    return "; ".join(said[-LAST:]).replace("|", "/"), run.returncode == 0


def main() -> int:
    kept = True
    print("| what | figure before | now | command |\n|---|---|---|---|")
    for what, figure, command in rows(sys.argv[1:]):
        said, within = measured(command)
        kept = kept and within
        now = said if within else f"OVER: {said}"
        print(f"| {what} | {figure} | {now} | `{command}` |", flush=True)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
