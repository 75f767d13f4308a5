"""The table of commands: each names a function that is there."""

from __future__ import annotations

import argparse
import inspect
import re

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


def test_every_family_has_a_command_and_every_module_is_in_the_table() -> None:
    assert {command.family for command in COMMANDS.values()} == set(FAMILIES)
    modules = {path.stem for path in (CHECKOUT / "fitcounter" / "cli").glob("*.py")}
    assert modules == set(FAMILIES) | {
        "__init__",
        "main",
        "commands",
        "arguments",
        "damage",
        "how_far",
        "job_file",
    }
