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

from fitcounter.errors import message

RUN, TEST = "run", "test"  # what a command needs set up, as first_run names it

FAMILIES: dict[str, Callable[[], ModuleType]] = {
    "assess": lambda: import_module("fitcounter.cli.assess"),
    "certificate": lambda: import_module("fitcounter.cli.certificate"),
    "serve": lambda: import_module("fitcounter.cli.serve"),
    "service": lambda: import_module("fitcounter.cli.service"),
    "shop_data": lambda: import_module("fitcounter.cli.shop_data"),
    "testing": lambda: import_module("fitcounter.cli.testing"),
}


class Argument(NamedTuple):
    """One argument of a command. options: further ones of argparse's add_argument."""

    name: str
    help: str
    options: Mapping[str, object] = MappingProxyType({})

    def add_to(self, parser: argparse.ArgumentParser, told: Callable[[str], str]) -> None:
        """Let a command's parser take this argument. told: gives a sentence in the terminal's
        language.
        """
        words = told(self.help)
        parser.add_argument(self.name, help=words, **self.options)  # type: ignore[arg-type]


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
    "--data",
    message("the folder of the shop's data (default: FITCOUNTER_DATA, or your own data folder)"),
)
ADDRESS = (
    DATA,
    Argument(
        "--host",
        message(
            "the network address to listen on: 0.0.0.0 lets phones in (default: this machine alone)"
        ),
    ),
    Argument("--port", message("the port to listen on (default: 8000)")),
    Argument(
        "--address",
        message("how phones reach the shop, for example https://boots.example"),
        {"metavar": "URL"},
    ),
)
DEMO = (
    *ADDRESS,
    Argument(
        "--keep",
        message("keep the invented shop of last time, with its changes"),
        {"action": "store_true"},
    ),
    Argument("--no-serve", message("load the invented shop and stop"), {"action": "store_true"}),
)
SERVE = (
    *ADDRESS,
    Argument(
        "--proxies",
        message(
            "1 if a proxy of your own stands before the server and passes the visitor's address on"
            " (default: 0)"
        ),
    ),
    Argument(
        "--proxy",
        message(
            "the address that proxy comes from; nobody else's word counts (default: this machine)"
        ),
        {"metavar": "ADDRESS"},
    ),
    Argument(
        "--certificate",
        message("a certificate for HTTPS, in PEM (default: the one of `fitcounter certificate`)"),
        {"metavar": "FILE"},
    ),
    Argument("--key", message("the certificate's key, in PEM"), {"metavar": "FILE"}),
    _folder(
        "--copies",
        message("the folder for copies, best on another disk (default: beside the data)"),
    ),
)
JOB = Argument(
    "job",
    message("the job, as one JSON object; - reads it from standard input"),
    {"metavar": "JOB.json"},
)
CERTIFICATE = (
    DATA,
    Argument(
        "names",
        message("what phones call the shop's machine, for example boots.local 192.168.1.20"),
        {"metavar": "NAME", "nargs": "*"},
    ),
    Argument("--shop", message("the shop's name, as phones will show it"), {"default": ""}),
    Argument(
        "--hand-out",
        message("give the authority's file to phones on this port until stopped"),
        {"metavar": "PORT"},
    ),
)
COPIES = (
    DATA,
    _folder(
        "--to",
        message(
            "the folder of the copies, best on another disk (default: copies, beside the data)"
        ),
    ),
)
COPY = (
    *COPIES,
    Argument("file", message("the copy (default: the newest)"), {"metavar": "COPY", "nargs": "?"}),
)
RESTORE = (
    *COPY,
    _folder(
        "--off-site",
        message(
            "restore from this off-site copy: a folder, sftp://USER@HOST/FOLDER or"
            " s3://BUCKET/FOLDER?endpoint=URL"
        ),
    ),
)
TAKE_OVER = (
    DATA,
    Argument(
        "--from",
        message("the off-site copy, written as for restore (default: what the owner set up)"),
        {"metavar": "PLACE", "dest": "off_site"},
    ),
)
REPLICATE = (
    DATA,
    Argument(
        "--to",
        message(
            "where the off-site copy goes: a folder of another disk, sftp://USER@HOST/FOLDER or"
            " s3://BUCKET/FOLDER?endpoint=URL (default: what the owner set up)"
        ),
        {"metavar": "WHERE"},
    ),
)
SERVICE = (
    *SERVE,
    _folder("--off-site", message("also keep an off-site copy in this folder, seconds behind")),
    Argument(
        "--user",
        message("a service of the user who types this (default: of the system, as root)"),
        {"action": "store_true"},
    ),
    Argument("--show", message("print the units and install nothing"), {"action": "store_true"}),
    Argument("do", message("install, status or uninstall"), {"metavar": "DO"}),
)
EXPORT = (
    DATA,
    Argument(
        "file",
        message(
            "NAME.json, with pictures, for import; export also writes NAME.zip, one CSV for each"
            " table"
        ),
        {"metavar": "FILE"},
    ),
)
SLIPS = (
    DATA,
    Argument(
        "--put-in",
        message("add the jobs; without it they are only shown as they are read"),
        {"action": "store_true"},
    ),
    Argument(
        "file",
        message("lines of number,name,phone,what,where,promised; the first names the columns"),
        {"metavar": "FILE.csv"},
    ),
)
WHAT = Argument(
    "what",
    message(
        "files or folders of tests (default: all of them, and style and types before); after --"
        " anything that pytest takes"
    ),
    {"metavar": "WHAT", "nargs": "*"},
)

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
        message("Make a copy of the shop and check it"), RUN, "shop_data", "backup", COPIES
    ),
    "verify": Command(message("Check a copy to its end"), RUN, "shop_data", "verify", COPY),
    "restore": Command(
        message("Restore the shop from a copy"), RUN, "shop_data", "restore", RESTORE
    ),
    "replicate": Command(
        message("Keep an off-site copy of the shop, seconds behind"),
        RUN,
        "shop_data",
        "replicate",
        REPLICATE,
    ),
    "take-over": Command(
        message("Bring the shop to this computer from the off-site copy, for good"),
        RUN,
        "shop_data",
        "take_over",
        TAKE_OVER,
    ),
    "service": Command(
        message("Let the computer start the shop at boot, and keep it running"),
        RUN,
        "service",
        "service",
        SERVICE,
    ),
    "export": Command(
        message("Write the whole shop to one file"), RUN, "shop_data", "export", EXPORT
    ),
    "import": Command(
        message("Fill an empty shop from such a JSON file"), RUN, "shop_data", "bring_in", EXPORT
    ),
    "slips": Command(
        message("Add a list of paper jobs, or only show how it is read"),
        RUN,
        "shop_data",
        "paper_jobs",
        SLIPS,
    ),
    "check": Command(
        message("Check the health of the shop's data"), RUN, "shop_data", "check", COPIES
    ),
    "test": Command(message("Run the tests"), TEST, "testing", "test", (WHAT,)),
}
