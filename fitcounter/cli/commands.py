"""The table of commands: what each is for, what has to be set up before it runs, its arguments, and
the function that does it.

The table itself needs nothing but the standard library, and of that little: named tuples, because
dataclasses load all that looks into code. The module of a family of commands is
imported when one of its commands runs, and only then: so --help, `assess` and `handbook` start at
once and need no package, and `demo --help` works on a machine where nothing is set up yet.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType, ModuleType
from typing import NamedTuple

RUN, TEST = "run", "test"  # what a command needs set up, as first_run names it

FAMILIES: dict[str, Callable[[], ModuleType]] = {
    "assess": lambda: import_module("fitcounter.cli.assess"),
    "certificate": lambda: import_module("fitcounter.cli.certificate"),
    "serve": lambda: import_module("fitcounter.cli.serve"),
    "shop_data": lambda: import_module("fitcounter.cli.shop_data"),
    "testing": lambda: import_module("fitcounter.cli.testing"),
}


class Argument(NamedTuple):
    """One argument of a command. options: further ones of argparse's add_argument."""

    name: str
    help: str
    options: Mapping[str, object] = MappingProxyType({})

    def add_to(self, parser: argparse.ArgumentParser) -> None:
        """Let a command's parser take this argument."""
        parser.add_argument(self.name, help=self.help, **self.options)  # type: ignore[arg-type]


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
        code: int = getattr(FAMILIES[self.family](), self.function)(given)
        return code


def _folder(name: str, help: str) -> Argument:  # noqa: A002 - as argparse calls it
    return Argument(name, help, {"metavar": "FOLDER"})


DATA = _folder(
    "--data", "the folder of the shop's data (default: FITCOUNTER_DATA, or your own data folder)"
)
ADDRESS = (
    DATA,
    Argument(
        "--host",
        "the network address to listen on: 0.0.0.0 lets phones in (default: this machine alone)",
    ),
    Argument("--port", "the port to listen on (default: 8000)"),
    Argument(
        "--address",
        "how phones reach the shop, for example https://boots.example",
        {"metavar": "URL"},
    ),
)
DEMO = (
    *ADDRESS,
    Argument(
        "--keep",
        "keep the invented shop of last time, with its changes",
        {"action": "store_true"},
    ),
    Argument("--no-serve", "load the invented shop and stop", {"action": "store_true"}),
)
SERVE = (
    *ADDRESS,
    Argument(
        "--proxies",
        "1 if a proxy of your own stands before the server and passes the visitor's address on"
        " (default: 0)",
    ),
    Argument(
        "--proxy",
        "the address that proxy comes from; nobody else's word counts (default: this machine)",
        {"metavar": "ADDRESS"},
    ),
    Argument(
        "--certificate",
        "a certificate for HTTPS, in PEM (default: the one of `fitcounter certificate`)",
        {"metavar": "FILE"},
    ),
    Argument("--key", "the certificate's key, in PEM", {"metavar": "FILE"}),
    _folder("--copies", "the folder for copies, best on another disk (default: beside the data)"),
)
JOB = Argument(
    "job",
    "the job, as one JSON object; - reads it from standard input",
    {"metavar": "JOB.json"},
)
CERTIFICATE = (
    DATA,
    Argument(
        "names",
        "what phones call the shop's machine, for example boots.local 192.168.1.20",
        {"metavar": "NAME", "nargs": "*"},
    ),
    Argument("--shop", "the shop's name, as phones will show it", {"default": ""}),
    Argument(
        "--hand-out",
        "give the authority's file to phones on this port until stopped",
        {"metavar": "PORT"},
    ),
)
COPIES = (
    DATA,
    _folder(
        "--to", "the folder of the copies, best on another disk (default: copies, beside the data)"
    ),
)
COPY = (
    *COPIES,
    Argument("file", "the copy (default: the newest)", {"metavar": "COPY", "nargs": "?"}),
)
RESTORE = (
    *COPY,
    _folder(
        "--off-site",
        "restore from this off-site copy of `fitcounter replicate`",
    ),
)
REPLICATE = (
    DATA,
    Argument(
        "--to",
        "where the off-site copy goes: another disk, or a folder of another computer",
        {"metavar": "FOLDER", "required": True},
    ),
)
EXPORT = (
    DATA,
    Argument(
        "file",
        "NAME.json, with pictures, for import; export also writes NAME.zip, one CSV for each table",
        {"metavar": "FILE"},
    ),
)
SLIPS = (
    DATA,
    Argument(
        "--put-in",
        "add the jobs; without it they are only shown as they are read",
        {"action": "store_true"},
    ),
    Argument(
        "file",
        "lines of number,name,phone,what,where,promised; the first names the columns",
        {"metavar": "FILE.csv"},
    ),
)
WHAT = Argument(
    "what",
    "files or folders of tests (default: all of them, and style and types before); after --"
    " anything that pytest takes",
    {"metavar": "WHAT", "nargs": "*"},
)

COMMANDS = {
    "demo": Command("Open an invented shop to try the program", RUN, "serve", "demo", DEMO),
    "serve": Command("Open your own shop", RUN, "serve", "serve", SERVE),
    "assess": Command(
        "Say whether boots can be stretched, from a job file", "", "assess", "assess", (JOB,)
    ),
    "handbook": Command(
        "Print every figure of the handbook, with its source", "", "assess", "handbook"
    ),
    "certificate": Command(
        "Make the shop's own certificate, for phones in the shop",
        RUN,
        "certificate",
        "certificate",
        CERTIFICATE,
    ),
    "backup": Command("Make a copy of the shop and check it", RUN, "shop_data", "backup", COPIES),
    "verify": Command("Check a copy to its end", RUN, "shop_data", "verify", COPY),
    "restore": Command("Restore the shop from a copy", RUN, "shop_data", "restore", RESTORE),
    "replicate": Command(
        "Keep an off-site copy of the shop, seconds behind",
        RUN,
        "shop_data",
        "replicate",
        REPLICATE,
    ),
    "export": Command("Write the whole shop to one file", RUN, "shop_data", "export", EXPORT),
    "import": Command(
        "Fill an empty shop from such a JSON file", RUN, "shop_data", "bring_in", EXPORT
    ),
    "slips": Command(
        "Add a list of paper jobs, or only show how it is read",
        RUN,
        "shop_data",
        "paper_jobs",
        SLIPS,
    ),
    "check": Command("Check the health of the shop's data", RUN, "shop_data", "check", COPIES),
    "test": Command("Run the tests", TEST, "testing", "test", (WHAT,)),
}
