"""The table of commands: each names a function that is there."""

from __future__ import annotations

import argparse
import inspect
import re
import subprocess
import sys

import pytest
from support.paths import CHECKOUT

from fitcounter.cli.commands import COMMANDS, FAMILIES, RUN, TEST
from fitcounter.cli.main import parser


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_function_which_takes_the_parsed_arguments(name: str) -> None:
    command = COMMANDS[name]
    function = getattr(FAMILIES[command.family](), command.function)

    assert [
        of.annotation for of in inspect.signature(function, eval_str=True).parameters.values()
    ] == [argparse.Namespace]
    assert function.__doc__
    assert command.needs in ("", RUN, TEST)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_reads_nothing_that_its_parser_does_not_give(name: str) -> None:
    """Every `given.x` in the function is an argument of the table, or the language it speaks."""
    command = COMMANDS[name]
    function = getattr(FAMILIES[command.family](), command.function)
    least = ["x" for argument in command.arguments if not argument.name.startswith("-")]
    least += ["--to", "x"] if name == "replicate" else []
    given = vars(parser().parse_args([name, *least], argparse.Namespace(told=None)))

    assert set(re.findall(r"\bgiven\.(\w+)", inspect.getsource(function))) <= set(given)


def test_what_a_command_loads_is_not_searched_for_garbage_meanwhile() -> None:
    """In a Python of its own: here most of it is loaded by now."""
    script = (
        "import gc\n"
        "from fitcounter.cli import commands\n"
        "gc.callbacks.append(lambda phase, told: print(phase))\n"
        "commands.family('copies_and_export')\n"
        "gc.callbacks.clear()\n"
        "from sys import modules\n"
        "print(gc.isenabled(), 'fitcounter.desk.data.export_and_import' in modules)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", script], cwd=CHECKOUT, capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["True", "True"]


def test_every_family_has_a_command_and_every_module_is_in_the_table() -> None:
    assert {command.family for command in COMMANDS.values()} == set(FAMILIES)
    modules = {path.stem for path in (CHECKOUT / "fitcounter" / "cli").glob("*.py")}
    assert modules == set(FAMILIES) | {
        "__init__",
        "main",
        "commands",
        "arguments",
        "damaged_file",
        "how_far",
        "job_file",
    }
