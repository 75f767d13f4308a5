"""What the commands take on their line: one tuple of arguments for each command or family.

As the table of commands: nothing but the standard library, and of that little.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from fitcounter.errors import message


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
STAND_BY = (
    *SERVE[:-1],
    TAKE_OVER[-1],
    Argument(
        "--every",
        message("minutes between two looks at the off-site copy (default: 5)"),
        {"metavar": "MINUTES"},
    ),
    Argument("--once", message("bring the newest data here and stop"), {"action": "store_true"}),
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
