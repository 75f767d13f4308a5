"""How many small faults, put in by chance, the tests of six modules find.

`python tests/bench/mutants.py [a module, or several with commas] [faults a module] [seed]`

Each fault is one changed sign, comparison, number, `and`/`or` or min/max of the module, drawn with
a fixed seed; a copy of the program has it, and the module's own tests run on the copy, in a process
of their own, until one fails. A fault that changes nothing anybody can see counts as not found, but
where EQUIVALENT says why: those are counted apart.
"""

from __future__ import annotations

import ast
import os
import random
import shutil
import signal
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

# What the tests load anyway, loaded once for all faults; nothing of the program's own.
import flask
import hypothesis
import numpy
import playwright.sync_api
import pytest
import scipy.stats
import sqlite_utils
from checkout_path import TESTS

LOADED = (flask, hypothesis, numpy, playwright, scipy, sqlite_utils)
SECONDS = 300

MODULES = {
    "tape": (["fit/tape.py"], ["fit/test_tape.py", "fit/test_length_said.py"]),
    "forecast": (
        [
            "fit/assessment/opening_ahead.py",
            "fit/assessment/rounds_ahead.py",
            "fit/assessment/kept_fraction.py",
        ],
        [
            "fit/assessment/test_opening_ahead.py",
            "fit/assessment/test_kept_fraction.py",
            "fit/assessment/test_rounds_ahead.py",
            "fit/assessment/test_assess.py",
            "fit/assessment/test_need_and_doubt.py",
            "fit/assessment/test_rounds_so_far.py",
        ],
    ),
    "breakin": (["fit/wear/wear_calendar.py", "fit/wear/schedule.py"], ["fit/wear"]),
    "progress": (
        ["fit/assessment/no_further_round.py", "fit/assessment/girth_now.py"],
        [
            "fit/assessment/test_no_further_round.py",
            "fit/assessment/test_girth_now.py",
            "fit/assessment/test_assess.py",
            "fit/assessment/test_need_and_doubt.py",
            "fit/assessment/test_rounds_so_far.py",
        ],
    ),
    "trees": (
        ["fit/trees/calibration.py", "fit/trees/choice.py", "fit/trees/limits.py"],
        ["fit/trees"],
    ),
    "book": (
        ["desk/assessment/learnt_from_own_boots.py", "fit/assessment/learnt_figures.py"],
        [
            "desk/assessment/test_learnt_from_own_boots.py",
            "desk/book/test_estimate_and_result.py",
            "fit/assessment/test_learnt_figures.py",
        ],
    ),
}
_TIE = "at a difference of a millionth of a millimetre exactly, which no reading has"
_SAME = "both give the same there: "
# By file and what stood there: why the fault changes nothing anybody can see.
EQUIVALENT = {
    ("fit/assessment/girth_now.py", "place.need_mm <= 0"): _SAME + "a share of no need is 0",
    ("fit/assessment/girth_now.py", "first.need_mm <= 0"): _SAME
    + "where the tightest place needs nothing, none needs anything",
    ("fit/trees/calibration.py", "point.girth_mm - mean_girth"): _SAME
    + "what is taken from each girth alike leaves the slope",
    ("fit/trees/choice.py", "tree.open_mm < wanted.girth_mm - TIE"): _TIE,
    ("fit/trees/choice.py", "excess <= TIE"): _TIE,
    ("fit/trees/choice.py", "missing <= TIE"): _TIE,
    ("fit/trees/choice.py", "round(mm / TIE) * TIE"): _SAME + "only the order counts",
    ("fit/trees/choice.py", "shift < 0"): _SAME + "of two shifts as far, one is up and one down",
    ("fit/trees/limits.py", "excess > TIE"): _TIE,
    ("fit/trees/limits.py", "looseness > LOOSER_MM + TIE"): _TIE,
    ("fit/trees/limits.py", "hold.from_mm - TIE <= height <= hold.to_mm + TIE"): _TIE,
    ("fit/trees/limits.py", "effect.opening_mm <= TIE"): _TIE,
}
SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}


def places(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node that a fault can be put into, in order."""
    return (node for node in ast.walk(tree) if _can_be_spoilt(node))


def _can_be_spoilt(node: ast.AST) -> bool:
    match node:
        case ast.BinOp() | ast.BoolOp():
            return type(node.op) in SWAPS
        case ast.Compare():
            return type(node.ops[0]) in SWAPS
        case ast.Call(func=ast.Name(id=name)):
            return name in NAMES
        case ast.Constant(value=value):
            return type(value) in (int, float)
    return False


def spoil(node: ast.AST) -> None:
    """Puts the fault in."""
    if isinstance(node, ast.BinOp | ast.BoolOp):
        node.op = SWAPS[type(node.op)]()  # type: ignore[assignment]  # of the same kind
    elif isinstance(node, ast.Compare):
        node.ops[0] = SWAPS[type(node.ops[0])]()  # type: ignore[assignment]
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        node.func.id = NAMES[node.func.id]
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        node.value += 1


def found(copy: Path, file: str, number: int, tests: list[str]) -> bool:
    """Whether a test fails with the fault of that number in the file."""
    place = copy / "fitcounter" / file
    sound = place.read_text(encoding="utf-8")
    tree = ast.parse(sound)
    spoil(list(places(tree))[number])
    place.write_text(ast.unparse(tree), encoding="utf-8")
    try:
        return not passes(tests)
    finally:
        place.write_text(sound, encoding="utf-8")


def passes(tests: list[str]) -> bool:
    """Whether the tests pass on the copy that is the current folder; not after five minutes."""
    child = os.fork()
    if not child:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        signal.alarm(SECONDS)
        os._exit(_run(tests))
    return os.waitpid(child, 0)[1] == 0


def _run(tests: list[str]) -> int:
    options = ["-q", "-x", "-m", "not slow", "-p", "no:cacheprovider"]
    loaded_before = ["-W", "ignore:Module already imported"]
    try:
        return int(pytest.main([*options, *loaded_before, *(f"tests/{test}" for test in tests)]))
    except BaseException:
        return 1


def main() -> int:
    asked = sys.argv[1].split(",") if len(sys.argv) > 1 else list(MODULES)
    faults = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else 21
    with tempfile.TemporaryDirectory() as folder:
        copy, skip = Path(folder), shutil.ignore_patterns("__pycache__", "browser")
        for name in ("fitcounter", "tests", "static", "templates"):
            shutil.copytree(TESTS.parent / name, copy / name, ignore=skip)
        shutil.copy(TESTS.parent / "pyproject.toml", copy)
        sys.path[:] = [str(copy), *(path for path in sys.path if not path.startswith(str(TESTS)))]
        sys.dont_write_bytecode = True
        os.chdir(copy)
        for module in asked:
            _measure(copy, module, faults, seed)
        os.chdir(TESTS.parent)
    return 0


def _measure(copy: Path, module: str, faults: int, seed: int) -> None:
    files, tests = MODULES[module]
    if not passes(tests):
        raise SystemExit(f"{module}: its tests fail without any fault")
    nodes = {
        file: list(places(ast.parse((copy / "fitcounter" / file).read_text()))) for file in files
    }
    every = [(file, number) for file in files for number in range(len(nodes[file]))]
    drawn = random.Random(seed).sample(every, min(faults, len(every)))
    missed = [(file, number) for file, number in drawn if not found(copy, file, number, tests)]
    texts = [(file, ast.unparse(nodes[file][number])) for file, number in missed]
    same = sum(text in EQUIVALENT for text in texts)
    hits, seen = len(drawn) - len(missed), len(drawn) - same
    print(f"{module}: {hits} of {len(drawn)} found, {same} of the others change nothing", end="")
    print(f" that can be seen: {hits / max(1, seen):.0%}", flush=True)
    for (file, number), text in zip(missed, texts, strict=True):
        why = EQUIVALENT.get(text, "not found")
        line = getattr(nodes[file][number], "lineno", 0)
        print(f"  {file}:{line} {text[1]}: {why}", flush=True)


if __name__ == "__main__":
    raise SystemExit(main())
