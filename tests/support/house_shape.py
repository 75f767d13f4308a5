"""What the files of the house look like: functions that take too much, names that stand twice,
lines and files too long, modules that no test is named after. Each check gives the offenders'
names.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path

from support.source_files import Function, SourceFile

# Every desk call has them: they are the place and the hour, not what it is asked.
CONTEXT = {"self", "cls", "store", "act", "shop", "desk"}
MOST_PARAMETERS = 5
LONGEST_LINE, LONGEST_FILE = 100, 300
# A module whose functions hold fewer statements is a table or a record with a helper or two, and
# is tested where it is used.
BEHAVIOUR_STATEMENTS = 10
TEXTS = (".py", ".html", ".js", ".css")


def parameters(function: Function) -> list[str]:
    """The names that a function takes beyond its context; *names and **names are not counted."""
    taken = function.args.posonlyargs + function.args.args + function.args.kwonlyargs
    return [name.arg for name in taken if name.arg not in CONTEXT]


def takes_too_much(files: Iterable[SourceFile]) -> set[str]:
    """ "place: function" of each that takes more than five parameters beyond its context."""
    return {
        f"{file.place}: {function.name}"
        for file in files
        for function in file.functions()
        if len(parameters(function)) > MOST_PARAMETERS
    }


def names_twice(files: Iterable[SourceFile]) -> set[str]:
    """ "Class: place, place" of each class name that two or more modules define."""
    places: dict[str, list[str]] = defaultdict(list)
    for file in files:
        for defined in file.classes():
            places[defined.name].append(file.place)
    return {f"{name}: {', '.join(where)}" for name, where in places.items() if len(where) > 1}


def own_texts(folder: Path, suffixes: tuple[str, ...]) -> Iterator[tuple[str, list[str]]]:
    """Path below the folder, and lines, of each file with such a name that is not vendored."""
    for path in sorted(folder.rglob("*")):
        if path.suffix in suffixes and "vendor" not in path.parts:
            lines = path.read_text(encoding="utf-8").splitlines()
            yield path.relative_to(folder).as_posix(), lines


def long_lines(folder: Path) -> dict[str, int]:
    """Path below the folder, and how many of its lines are over 100 columns, for each with any."""
    counts = {
        place: sum(len(line) > LONGEST_LINE for line in lines)
        for place, lines in own_texts(folder, (*TEXTS, ".svg"))
    }
    return {place: over for place, over in counts.items() if over}


def long_files(folder: Path) -> dict[str, int]:
    """Path below the folder, and how many lines it has, for each file of more than 300."""
    return {
        place: len(lines) for place, lines in own_texts(folder, TEXTS) if len(lines) > LONGEST_FILE
    }


def statements(file: SourceFile) -> int:
    """How many statements stand directly in the functions of a module, docstrings not counted."""
    return sum(
        len(function.body) - (ast.get_docstring(function) is not None)
        for function in file.functions()
    )


def without_namesake(files: Iterable[SourceFile], tests: Path) -> set[str]:
    """The places of modules with behaviour, desk/bench/board.py, for which there is no
    tests/desk/bench/test_board.py.
    """
    return {
        file.place
        for file in files
        if statements(file) >= BEHAVIOUR_STATEMENTS
        and not tests.joinpath(*file.parts[:-1], f"test_{file.parts[-1]}").exists()
    }
