"""A command that takes long shows how far it is: a bar where a person looks on, a line now and then
where what it says goes to a file.

It goes to standard error, so that what a command prints stays what it is. Work that is over soon
shows nothing.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from typing import TextIO

from fitcounter.cli.damaged_file import Run
from fitcounter.desk.common.translation import told
from fitcounter.desk.shop import told_to

BAR_AFTER_S, BAR_EVERY_S = 0.5, 0.1
LINE_AFTER_S, LINE_EVERY_S = 3.0, 15.0
WIDEST, NARROWEST = 40, 10


class HowFar:
    """Shows on `out` what it is told. clock: seconds that only go on. columns: how wide the
    terminal is.
    """

    def __init__(
        self,
        out: TextIO,
        clock: Callable[[], float] = time.monotonic,
        columns: Callable[[], int] = lambda: shutil.get_terminal_size().columns,
    ) -> None:
        self.out, self.clock, self.columns = out, clock, columns
        self.on_terminal = out.isatty()
        self.every = BAR_EVERY_S if self.on_terminal else LINE_EVERY_S
        self.next = clock() + (BAR_AFTER_S if self.on_terminal else LINE_AFTER_S)
        self.drawn = 0  # columns of the bar that stands there

    def __call__(self, what: str, done: int, of: int) -> None:
        now = self.clock()
        if now < self.next:
            return
        self.next = now + self.every
        share = done / of
        if not self.on_terminal:
            print(f"{told(what)}: {share:.0%}", file=self.out, flush=True)
            return
        words = told(what)
        width = min(WIDEST, max(NARROWEST, self.columns() - len(words) - 10))
        full = round(share * width)
        self._draw(f"{words} [{'#' * full}{'.' * (width - full)}] {share:4.0%}")

    def _draw(self, line: str) -> None:
        """In the place of the bar before, of which nothing is left standing."""
        shown = line[: self.columns() - 1]
        self.out.write(f"\r{shown.ljust(self.drawn)}")
        self.out.flush()
        self.drawn = len(shown)

    def end(self) -> None:
        """The bar makes room for what the command says."""
        if self.drawn:
            self._draw("")
            self.out.write("\r")
            self.out.flush()


@contextmanager
def showing() -> Iterator[None]:
    """How far what runs inside is, on standard error."""
    how_far = HowFar(sys.stderr)
    try:
        with told_to(how_far):
            yield
    finally:
        how_far.end()


def shown(run: Run) -> Run:
    """The same command, which shows how far it is."""

    @wraps(run)
    def inner(given: argparse.Namespace) -> int:
        with showing():
            return run(given)

    return inner
