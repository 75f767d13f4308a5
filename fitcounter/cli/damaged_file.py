"""A command that meets a damaged file ends with one sentence, as with every other error."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from functools import wraps

from fitcounter.desk.data import damaged_file

Run = Callable[[argparse.Namespace], int]


def named(run: Run) -> Run:
    """The same command; raises Damaged where the shop's file shows that it is."""

    @wraps(run)
    def inner(given: argparse.Namespace) -> int:
        try:
            return run(given)
        except Exception as error:  # also what SQLite said in our words: a file that is "busy"
            damaged = damaged_file.shown_by(error)
            if damaged is None:
                raise
            raise damaged from error

    return inner
