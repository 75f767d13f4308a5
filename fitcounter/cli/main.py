"""The command line: one table of commands, each a small function that reads arguments, makes one
call and prints.

Rooms are imported inside the functions, so that --help, `assess` and `handbook` start at once and
need no package at all. A command exits 0, or 2 after one sentence on standard error that says what
to write.
"""

from __future__ import annotations

import argparse
import errno
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import partial

from fitcounter.cli import shop_data
from fitcounter.errors import FitCounterError, NoRoom
from fitcounter.settings import CHECKOUT, Settings, prepare_data_dir

BAD_INPUT = 2
RUN, TEST = "run", "test"  # what a command needs set up, as first_run names it


@dataclass(frozen=True, slots=True)
class Command:
    """One command. needs: "" for the standard library alone, RUN for the program's packages, TEST
    for those of the tests.

    arguments: adds the command's own arguments to its parser. run: does it and returns the exit
    code.
    """

    summary: str
    needs: str
    arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Returns its exit code; argparse itself exits with 2 on a command it cannot read.
    """
    given = parser().parse_args(arguments)
    open_what_is_closed()
    code = 0
    try:
        with output():
            code = COMMANDS[given.command].run(given)
    except FitCounterError as error:
        print(error.sentence, file=sys.stderr)
        return BAD_INPUT
    return code


def open_what_is_closed() -> None:
    """Nothing is read from, and nowhere is written to, a stream that was closed before the start (a
    job of a scheduler).
    """
    sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: SIM115 - they stay open to the end
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115


@contextmanager
def output() -> Iterator[None]:
    """What is printed is written to its end; a reader that has seen enough, such as head, is no
    error.

    Raises NoRoom where the disk it goes to is full.
    """
    try:
        yield
        sys.stdout.flush()
    except BrokenPipeError:
        _let_go()
    except OSError as error:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        _let_go()
        raise NoRoom(
            f"What was asked for cannot be written: {error.strerror}. Make room there, and ask"
            " again."
        ) from error


def _let_go() -> None:
    """What is still held back goes nowhere."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def needs(arguments: Sequence[str]) -> str:
    """What has to be set up before these arguments can be run; nothing for a plea for help or a
    command that is not there.
    """
    if not arguments or arguments[0] not in COMMANDS or {"-h", "--help"} & set(arguments):
        return ""
    return COMMANDS[arguments[0]].needs


def parser() -> argparse.ArgumentParser:
    """The parser of every command in the table."""
    about = "The counter, the bench and the calendar of a shop that stretches tall boots."
    whole = argparse.ArgumentParser(prog="fitcounter", description=about)
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, command in COMMANDS.items():
        command.arguments(
            commands.add_parser(name, help=command.summary, description=command.summary)
        )
    return whole


def data_argument(to: argparse.ArgumentParser) -> None:
    """--data, for every command that reads or writes the shop's data."""
    to.add_argument(
        "--data",
        metavar="FOLDER",
        help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)",
    )


def address_arguments(to: argparse.ArgumentParser) -> None:
    data_argument(to)
    to.add_argument(
        "--host",
        help=(
            "the network address to listen on: 0.0.0.0 lets phones in (default: this machine alone)"
        ),
    )
    to.add_argument("--port", help="the port to listen on (default: 8000)")
    to.add_argument(
        "--address",
        metavar="URL",
        help="how phones reach the shop, for example https://boots.example",
    )


def demo_arguments(to: argparse.ArgumentParser) -> None:
    address_arguments(to)
    to.add_argument(
        "--keep",
        action="store_true",
        help="go on with the invented shop of last time, with what was changed in it",
    )
    to.add_argument("--no-serve", action="store_true", help="load the invented shop and stop")


def demo(given: argparse.Namespace) -> int:
    """Load the invented shop into a folder of its own, say how to get in, and serve it."""
    from fitcounter.desk.demo import scenario
    from fitcounter.desk.shop import KeptOpen
    from fitcounter.serving import server, upkeep
    from fitcounter.web import create_app

    given.port = given.port or server.free_port(given.host or "127.0.0.1", 8000)
    shop = Settings.from_environment(os.environ, vars(given))
    data_dir = shop.data_dir / "demo"
    settings = Settings.from_environment(os.environ, vars(given) | {"data": data_dir})
    if data_dir.exists() and not given.keep:
        shutil.rmtree(data_dir)
    fresh = not data_dir.exists()
    prepare_data_dir(data_dir)
    if fresh:
        scenario.load(data_dir, datetime.now(UTC))
    settings = replace(settings, copies=None)  # never among the copies of the real shop
    application = create_app(settings, connections=KeptOpen)
    welcome = scenario.welcome(settings.base_url)
    if given.no_serve:
        print(welcome)
    else:
        with upkeep.keeping(settings):
            server.serve(application, settings, welcome)
    return 0


def serve_arguments(to: argparse.ArgumentParser) -> None:
    address_arguments(to)
    to.add_argument(
        "--proxies",
        help=(
            "1 if a proxy of your own stands before the server and passes the visitor's address on"
            " (default: 0)"
        ),
    )
    to.add_argument(
        "--certificate",
        metavar="FILE",
        help="a certificate for HTTPS, in PEM (default: the one of `fitcounter certificate`)",
    )
    to.add_argument("--key", metavar="FILE", help="the certificate's key, in PEM")
    to.add_argument(
        "--copies",
        metavar="FOLDER",
        help="where it makes its copies, best on another disk (default: beside the data)",
    )


def serve(given: argparse.Namespace) -> int:
    """Serve the shop until it is told to stop."""
    from fitcounter.desk.data import backups
    from fitcounter.desk.shop import KeptOpen
    from fitcounter.serving import certificate as room
    from fitcounter.serving import server
    from fitcounter.serving import upkeep as serving_upkeep
    from fitcounter.web import create_app

    settings = server.with_own_certificate(given, os.environ, datetime.now(UTC))
    prepare_data_dir(settings.data_dir)
    renewed = backups.copy_before_renewal(settings.data_dir, settings.copies, datetime.now(UTC))
    greeting = (
        f"The shop is open at {settings.base_url} (its data: {settings.data_dir}). Stop with"
        " Ctrl-C."
    )
    days_left = partial(room.days_left_if_any, settings.data_dir / "certificate")
    application = create_app(settings, connections=KeptOpen, certificate_days=days_left)
    words = "\n".join([*([renewed] if renewed else []), greeting, *first_run_words(settings)])
    with serving_upkeep.keeping(settings):
        server.serve(application, settings, words)
    return 0


def first_run_words(settings: Settings) -> list[str]:
    """Where a shop without people is set up, good for an hour; nothing for one that has its
    people.
    """
    from fitcounter.desk.shop import open_store
    from fitcounter.desk.staff import first_run as staff_first_run

    store = open_store(settings.data_dir / "shop.db")
    try:
        word = staff_first_run.new_setup_token(store, datetime.now(UTC))
    finally:
        store.close()
    return (
        [f"Set the shop up within an hour, once: {settings.base_url}/first-run?setup_token={word}"]
        if word
        else []
    )


def assess_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "job",
        metavar="JOB.json",
        help="the job, as one JSON object; - reads it from standard input",
    )


def assess(given: argparse.Namespace) -> int:
    """Say whether it can be done, as one JSON object."""
    from fitcounter.cli.job_file import read_json
    from fitcounter.fit.assessment.assess import assess as answer
    from fitcounter.fit.assessment.assess import read_job

    found = answer(read_job(read_json(given.job))).as_json()
    text = json.dumps(found, ensure_ascii=False, indent=2, allow_nan=False)
    try:
        text.encode(sys.stdout.encoding)
    except UnicodeEncodeError:  # a terminal without our signs: escapes say the same (RFC 8259 §7)
        text = json.dumps(found, indent=2, allow_nan=False)
    print(text)
    return 0


def handbook(given: argparse.Namespace) -> int:
    """Print every figure the computation uses, with its unit, its source and how far to trust it,
    and what to hold them against.
    """
    from fitcounter.fit.assessment.handbook_notes import beside_the_ceiling, the_saying
    from fitcounter.fit.handbook.all_figures import entries

    for entry in entries():
        print(entry)
    for note in beside_the_ceiling():
        print(f"Beside the ceiling · {note}")
    print(f"A saying · {the_saying()}")
    return 0


def certificate_arguments(to: argparse.ArgumentParser) -> None:
    data_argument(to)
    to.add_argument(
        "names",
        metavar="NAME",
        nargs="*",
        help="what phones call the shop's machine, for example boots.local 192.168.1.20",
    )
    to.add_argument("--shop", default="", help="the shop's name, as phones will show it")
    to.add_argument(
        "--hand-out",
        metavar="PORT",
        help="give the authority's file to phones on this port until stopped",
    )


def certificate(given: argparse.Namespace) -> int:
    """Make the shop's own certificate, show it, or hand its authority out to the shop's phones."""
    from fitcounter.serving import authority_page
    from fitcounter.serving import certificate as room

    settings = Settings.from_environment(
        os.environ, {"data": given.data, "host": "0.0.0.0", "port": given.hand_out}
    )
    folder = prepare_data_dir(settings.data_dir) / "certificate"
    now = datetime.now(UTC)
    if given.names:
        room.make(folder, given.names, given.shop or "The shop", now)
    print(room.describe(folder, now))
    if given.hand_out:
        authority_page.hand_out(folder, settings)
    return 0


def test_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument("--all", action="store_true", help="also check types and style (mypy, ruff)")
    to.add_argument(
        "pytest",
        nargs="*",
        metavar="WHAT",
        help="files or folders; after -- anything that pytest takes",
    )


def test(given: argparse.Namespace) -> int:
    """Run the tests, several files at a time when it is all of them; the long forms only when asked
    for with: -- -m slow.
    """
    # one worker more than cores, because a test that drives a browser or a program waits for it;
    # files in the order of tests/conftest.py
    workers = min(4, (os.cpu_count() or 1) + 1)
    together = (
        [] if given.pytest else ["-n", str(workers), "--dist", "loadfile", "--no-loadscope-reorder"]
    )
    lines = [["pytest", *together, "-m", "not slow", *given.pytest]]
    if given.all:
        lines += [["ruff", "check", "."], ["mypy"]]
    codes = [
        subprocess.run([sys.executable, "-m", *line], cwd=CHECKOUT).returncode for line in lines
    ]
    return next((code for code in codes if code), 0)


def no_arguments(to: argparse.ArgumentParser) -> None:
    """For a command that takes none."""


COMMANDS = {
    "demo": Command("Open the invented shop, and say how to get in", RUN, demo_arguments, demo),
    "serve": Command("Open your own shop", RUN, serve_arguments, serve),
    "assess": Command(
        "Say whether boots can be stretched, from a job file", "", assess_arguments, assess
    ),
    "handbook": Command(
        "Print every figure the computation uses, with its source", "", no_arguments, handbook
    ),
    "certificate": Command(
        "Make the shop's own certificate, for phones in the shop",
        RUN,
        certificate_arguments,
        certificate,
    ),
    "backup": Command(
        "Make a copy of the shop that is known to be good",
        RUN,
        shop_data.folder_arguments,
        shop_data.backup,
    ),
    "verify": Command(
        "Read a copy to its end and hold it against its note",
        RUN,
        shop_data.file_arguments,
        shop_data.verify,
    ),
    "restore": Command(
        "Put a copy in the place of the shop's file",
        RUN,
        shop_data.restore_arguments,
        shop_data.restore,
    ),
    "replicate": Command(
        "Let a second place follow the shop within seconds",
        RUN,
        shop_data.replicate_arguments,
        shop_data.replicate,
    ),
    "export": Command(
        "Write the whole shop to one file", RUN, shop_data.export_arguments, shop_data.export
    ),
    "import": Command(
        "Put such a JSON file into a folder without a shop",
        RUN,
        shop_data.export_arguments,
        shop_data.bring_in,
    ),
    "slips": Command(
        "Put a list of paper jobs in, or show how it is understood",
        RUN,
        shop_data.paper_arguments,
        shop_data.paper_jobs,
    ),
    "check": Command(
        "Say how the shop's data stand", RUN, shop_data.folder_arguments, shop_data.check
    ),
    "test": Command("Run the tests", TEST, test_arguments, test),
}
