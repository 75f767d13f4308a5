"""The table of commands: what each is for, what has to be set up before it runs, its arguments
(arguments.py), and the function that does it.

The table itself needs nothing but the standard library, and of that little: named tuples, because
dataclasses load all that looks into code. The module of a family of commands is
imported when one of its commands runs, and only then: so --help, `assess` and `handbook` start at
once and need no package, and `demo --help` works on a machine where nothing is set up yet.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable
from importlib import import_module
from types import ModuleType
from typing import NamedTuple

from fitcounter.cli.arguments import (
    CERTIFICATE,
    COPIES,
    COPY,
    DEMO,
    EXPORT,
    JOB,
    REPLICATE,
    RESTORE,
    SERVE,
    SERVICE,
    SLIPS,
    STAND_BY,
    TAKE_OVER,
    WHAT,
    Argument,
)
from fitcounter.errors import message

RUN, TEST = "run", "test"  # what a command needs set up, as first_run names it

FAMILIES: dict[str, Callable[[], ModuleType]] = {
    "assess": lambda: import_module("fitcounter.cli.assess"),
    "certificate": lambda: import_module("fitcounter.cli.certificate"),
    "serve": lambda: import_module("fitcounter.cli.serve"),
    "service": lambda: import_module("fitcounter.cli.service"),
    "stand_by": lambda: import_module("fitcounter.cli.stand_by"),
    "copies_and_export": lambda: import_module("fitcounter.cli.copies_and_export"),
    "testing": lambda: import_module("fitcounter.cli.testing"),
}


class Command(NamedTuple):
    """One command.

    needs: "" for the standard library alone, RUN for the program's packages, TEST for those of the
    tests. family, function: where it stands, as a key of FAMILIES and a name in that module; the
    function takes the parsed arguments and returns the exit code.
    """

    summary: str
    needs: str
    family: str
    function: str
    arguments: tuple[Argument, ...] = ()

    def run(self, given: argparse.Namespace) -> int:
        """Do it. Returns the exit code; raises FitCounterError with a sentence for the person."""
        code: int = getattr(family(self.family), self.function)(given)
        return code


def family(name: str) -> ModuleType:
    """The module of a family of commands.

    What is loaded with it the first time stays to the end, so it is not searched meanwhile for
    what may go: that took a tenth of the time until the first page.
    """
    if f"fitcounter.cli.{name}" in sys.modules:
        return FAMILIES[name]()
    gc.disable()
    try:
        return FAMILIES[name]()
    finally:
        gc.freeze()
        gc.enable()


COMMANDS = {
    "demo": Command(
        message("Open an invented shop to try the program"), RUN, "serve", "demo", DEMO
    ),
    "serve": Command(message("Open your own shop"), RUN, "serve", "serve", SERVE),
    "assess": Command(
        message("Say whether boots can be stretched, from a job file"),
        "",
        "assess",
        "assess",
        (JOB,),
    ),
    "handbook": Command(
        message("Print every figure of the handbook, with its source"), "", "assess", "handbook"
    ),
    "certificate": Command(
        message("Make the shop's own certificate, for phones in the shop"),
        RUN,
        "certificate",
        "certificate",
        CERTIFICATE,
    ),
    "backup": Command(
        message("Make a copy of the shop and check it"), RUN, "copies_and_export", "backup", COPIES
    ),
    "verify": Command(message("Check a copy to its end"), RUN, "copies_and_export", "verify", COPY),
    "restore": Command(
        message("Restore the shop from a copy"), RUN, "copies_and_export", "restore", RESTORE
    ),
    "replicate": Command(
        message("Keep an off-site copy of the shop, seconds behind"),
        RUN,
        "copies_and_export",
        "replicate",
        REPLICATE,
    ),
    "take-over": Command(
        message("Bring the shop to this computer from the off-site copy, for good"),
        RUN,
        "copies_and_export",
        "take_over",
        TAKE_OVER,
    ),
    "stand-by": Command(
        message("Follow the off-site copy and show the shop on this computer, to look only"),
        RUN,
        "stand_by",
        "stand_by",
        STAND_BY,
    ),
    "service": Command(
        message("Let the computer start the shop at boot, and keep it running"),
        RUN,
        "service",
        "service",
        SERVICE,
    ),
    "export": Command(
        message("Write the whole shop to one file"), RUN, "copies_and_export", "export", EXPORT
    ),
    "import": Command(
        message("Fill an empty shop from such a JSON file"),
        RUN,
        "copies_and_export",
        "bring_in",
        EXPORT,
    ),
    "slips": Command(
        message("Add a list of paper jobs, or only show how it is read"),
        RUN,
        "copies_and_export",
        "paper_jobs",
        SLIPS,
    ),
    "check": Command(
        message("Check the health of the shop's data"), RUN, "copies_and_export", "check", COPIES
    ),
    "test": Command(message("Run the tests"), TEST, "testing", "test", (WHAT,)),
}
