"""What every command has in common: help, streams, exit codes, and no wait at the start."""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from support.command import JOB, run
from support.paths import CHECKOUT

from fitcounter.cli import main as cli_main
from fitcounter.cli.commands import COMMANDS


def test_help_names_every_command() -> None:
    """--help lists the table of commands, in its order."""
    shown = run("--help")

    assert shown.returncode == 0
    named = [
        line.split()[0]
        for line in shown.stdout.splitlines()
        if line.startswith("    ") and line[4] != " "
    ]
    assert named == list(COMMANDS)


def processor_s(line: list[str]) -> float:
    """The least processor time of five runs, in seconds: a busy machine makes it no longer."""
    took = []
    for _ in range(5):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(line, cwd=CHECKOUT, stdout=subprocess.DEVNULL, check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        took.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(took)


def test_help_comes_at_once() -> None:
    """--help costs at most six times what this Python costs to start with argparse alone: under 0.3
    s on a small machine.
    """
    bare = processor_s(
        [sys.executable, "-c", "import argparse; argparse.ArgumentParser().format_help()"]
    )

    assert processor_s([sys.executable, "-m", "fitcounter", "--help"]) <= 6 * bare


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_explains_itself(name: str) -> None:
    """COMMAND --help says in a sentence what it is for, and needs no set-up."""
    shown = run(name, "--help")

    assert shown.returncode == 0
    assert COMMANDS[name].summary in shown.stdout.replace("\n", " ")
    assert cli_main.needs([name, "--help"]) == ""


def test_starting_up_loads_no_package() -> None:
    """Neither the command line nor `assess` imports anything that has to be installed."""
    line = (
        "import sys; import fitcounter.cli.main; import fitcounter.fit.assessment.assess;"
        " print(*sys.modules)"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", line], cwd=CHECKOUT, capture_output=True, text=True, check=True
    ).stdout.split()

    assert {
        "flask",
        "sqlite_utils",
        "weasyprint",
        "PIL",
        "cheroot",
        "cryptography",
        "qrcode",
    } & set(loaded) == set()


def test_a_reader_that_has_seen_enough_ends_it_quietly() -> None:
    """`fitcounter handbook | head -1` prints one line and no complaint."""
    line = f"{sys.executable} -m fitcounter handbook | head -1"
    done = subprocess.run(
        ["bash", "-o", "pipefail", "-c", line], cwd=CHECKOUT, capture_output=True, text=True
    )

    assert (done.returncode, done.stderr, len(done.stdout.splitlines())) == (0, "", 1)


@pytest.mark.parametrize(
    ("streams", "code", "words"),
    [
        (">&-", 0, ""),
        ("<&-", 2, "Standard input is not JSON"),
        (">/dev/full", 2, "What was asked for cannot be written: No space left"),
    ],
)
def test_a_closed_stream_or_a_full_disk_ends_it_with_a_sentence_at_most(
    tmp_path: Path, streams: str, code: int, words: str
) -> None:
    """Closed before the start, as a scheduler may do it, or a file that takes no more: no
    traceback.
    """
    (tmp_path / "job.json").write_text(json.dumps(JOB), encoding="utf-8")
    job = "-" if streams == "<&-" else str(tmp_path / "job.json")
    line = ["bash", "-c", f"{sys.executable} -m fitcounter assess {job} {streams}"]
    done = subprocess.run(line, cwd=CHECKOUT, capture_output=True, text=True)

    assert (done.returncode, len(done.stderr.splitlines())) == (code, code // 2)
    assert done.stderr.startswith(words)


@pytest.mark.parametrize("arguments", [[], ["fly"], ["assess"], ["demo", "--wings"]])
def test_a_command_line_that_cannot_be_read_gets_exit_2_and_how_to_write_it(
    arguments: list[str],
) -> None:
    """argparse says the usage; nothing is set up for it."""
    answer = run(*arguments)

    assert answer.returncode == 2
    assert answer.stderr.startswith("usage: fitcounter")
