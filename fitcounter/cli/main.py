"""The command line: reads one command, runs it, and says in one sentence what was wrong.

A command exits 0, or 2 after one sentence on standard error that says what to write; what else it
may exit with stands at its function. `commands.COMMANDS` is the table.
"""

from __future__ import annotations

import argparse
import errno
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib.util import find_spec

from fitcounter.cli.commands import COMMANDS
from fitcounter.errors import FitCounterError, NoRoom, message

BAD_INPUT = 2
ABOUT = message("The counter, the bench and the calendar of a shop that stretches tall boots.")


def main(arguments: Sequence[str] | None = None) -> int:
    """The exit code of one command, run with these arguments (None: those of the process).

    argparse itself exits with 2 on a command line that it cannot read.
    """
    with spoken_here() as told:
        given = parser(told).parse_args(arguments, argparse.Namespace(told=told))
        open_closed_streams()
        code = 0
        try:
            with output():
                code = COMMANDS[given.command].run(given)
        except FitCounterError as error:
            print(told(error.sentence), file=sys.stderr)
            return BAD_INPUT
    return code


@contextmanager
def spoken_here() -> Iterator[Callable[[str], str]]:
    """Say what is said inside in the terminal's language (POSIX.1-2017, 8.2); gives what says a
    message in it. English needs no package, and what is not there yet speaks none other.
    """
    names = ("LC_ALL", "LC_MESSAGES", "LANG")
    locale = next((os.environ[name] for name in names if os.environ.get(name)), "")
    code = locale.partition(".")[0]
    if code.partition("_")[0] in ("", "C", "POSIX", "en") or find_spec("babel") is None:
        yield str
        return
    from fitcounter.desk.common import translation

    with translation.speaking(code):
        yield translation.told


def open_closed_streams() -> None:
    """Put an empty stream in the place of standard input or output where it was closed before the
    start, as a scheduler may do it.
    """
    # they stay open to the end
    sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: SIM115
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115


@contextmanager
def output() -> Iterator[None]:
    """Write what is printed in the block to its end; a reader that has seen enough, such as head,
    is no error.

    Raises NoRoom where the disk it goes to is full.
    """
    try:
        yield
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_output()
    except OSError as error:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        _drop_output()
        raise NoRoom(
            message(
                "What was asked for cannot be written: {strerror}. Make room there, and ask again.",
                strerror=error.strerror,
            )
        ) from error


def _drop_output() -> None:
    """Send what is still in the buffer of standard output nowhere."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def needs(arguments: Sequence[str]) -> str:
    """What has to be set up before these arguments can be run ("", RUN or TEST); nothing for a plea
    for help or a command that is not there.
    """
    if not arguments or arguments[0] not in COMMANDS or {"-h", "--help"} & set(arguments):
        return ""
    return COMMANDS[arguments[0]].needs


def parser(told: Callable[[str], str] = str) -> argparse.ArgumentParser:
    """The parser of every command in the table. told: gives a sentence in the terminal's
    language.
    """
    whole = argparse.ArgumentParser(prog="fitcounter", description=told(ABOUT))
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, command in COMMANDS.items():
        summary = told(command.summary)
        of_command = commands.add_parser(name, help=summary, description=summary)
        for argument in command.arguments:
            argument.add_to(of_command, told)
    return whole
