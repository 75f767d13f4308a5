"""The README's tables of measurements, taken anew: each of their commands is run, one after
another, on a machine with nothing else to do.

`python tests/bench/all.py [WORD …]`

With words, only the rows in which one of them stands. Prints the table with what each command said
beside the figure before and the minutes it took, then the table of the growing shop, and ends with
1 when one of them is over its limit.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import time

import checkout_path  # noqa: F401 - finds the next
from support.paths import CHECKOUT

ROW = re.compile(r"^\| (?P<what>[^|]+) \| (?P<figure>[^|]+) \| `(?P<command>[^`]+)` \|$")
GROWTH = ("as a shop grows old", "", "python tests/bench/growth.py")
LAST = 6  # lines of what a command says that are shown: the figures stand at its end


def rows(words: list[str]) -> list[tuple[str, str, str]]:
    """What is measured, the figure told and the command, of the rows that have one of the words."""
    lines = (CHECKOUT / "README.md").read_text(encoding="utf-8").splitlines()
    found = filter(None, map(ROW.match, lines))
    told = [match.group("what", "figure", "command") for match in found]
    return [row for row in told if not words or any(word in " ".join(row) for word in words)]


def run(command: str) -> tuple[list[str], bool]:
    """The lines that a command says, and whether it kept its limit."""
    program, *arguments = shlex.split(command)
    module = ["-m", "pytest"] if program == "pytest" else []
    done = subprocess.run(
        [sys.executable, *module, *arguments], cwd=CHECKOUT, capture_output=True, text=True
    )
    lines = (done.stdout or done.stderr).splitlines()
    return [line.strip() for line in lines if line.strip()], done.returncode == 0


def main() -> int:
    words, kept, begun = sys.argv[1:], True, time.monotonic()
    print("| what | figure before | now | minutes | command |\n|---|---|---|---|---|")
    for what, figure, command in rows(words):
        began = time.monotonic()
        said, within = run(command)
        kept = kept and within
        now = "; ".join(said[-LAST:]).replace("|", "/")
        took = f"{(time.monotonic() - began) / 60:.1f}"
        over = "" if within else "OVER: "
        print(f"| {what} | {figure} | {over}{now} | {took} | `{command}` |", flush=True)
    if not words or any(word in " ".join(GROWTH) for word in words):
        said, within = run(GROWTH[-1])
        kept = kept and within
        print("\n" + "\n".join(said), flush=True)
    print(f"\nall of it took {(time.monotonic() - begun) / 60:.0f} minutes")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
