"""`python3 -m fitcounter COMMAND`: set up what the command needs, then run it.

Until the set-up is done this is the only Python there is, perhaps an old one: standard library
alone.
"""

from __future__ import annotations

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - for the Python that cannot read the rest
    sys.exit(
        f"fitcounter needs Python 3.11 or newer, and this is {sys.version.split()[0]}. Start it"
        " with a newer one."
    )

from fitcounter.cli import main as cli_main


def start(arguments: list[str]) -> int:
    """Set up, unless that is done or not needed; then run the command. Returns its exit code."""
    needs = cli_main.needs(arguments)
    if needs:
        from fitcounter import first_run  # only then, so that --help comes at once

        first_run.enter(needs, arguments)
    return cli_main.main(arguments)


if __name__ == "__main__":
    sys.exit(start(sys.argv[1:]))
