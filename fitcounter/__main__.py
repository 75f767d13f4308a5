"""`python3 -m fitcounter COMMAND`, and the `fitcounter` that pip installs: set up what the command
needs, then run it.

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


def start() -> int:
    """The exit code of the command that this process was given, set up for before, unless that is
    done or not needed.
    """
    arguments = sys.argv[1:]
    needs = cli_main.needs(arguments)
    if needs:
        from fitcounter.first_run import environment  # a plea for help needs nothing of it

        environment.enter(needs, arguments)
    return cli_main.main(arguments)


if __name__ == "__main__":
    sys.exit(start())
