"""How many small faults, put in by chance, the tests of six modules find.

`python tests/bench/mutants.py [a module] [faults a module]`

Each fault is one changed sign, comparison, number, `and`/`or` or min/max of the module, drawn with
a fixed seed; a copy of the program has it, and the module's own tests run on the copy until one
fails. A fault that changes nothing anybody can see counts as not found.
"""

from __future__ import annotations

import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from checkout_path import TESTS

MODULES = {
    "tape": (["fit/tape.py"], ["fit/test_tape.py"]),
    "forecast": (
        ["fit/assessment/forecast.py", "fit/assessment/rounds_ahead.py", "fit/assessment/kept.py"],
        [
            "fit/assessment/test_forecast.py",
            "fit/assessment/test_kept.py",
            "fit/assessment/test_rounds_ahead.py",
            "fit/assessment/test_assess.py",
        ],
    ),
    "breakin": (["fit/wear/wear_calendar.py", "fit/wear/schedule.py"], ["fit/wear"]),
    "progress": (
        ["fit/assessment/course.py", "fit/assessment/girth_now.py"],
        [
            "fit/assessment/test_course.py",
            "fit/assessment/test_girth_now.py",
            "fit/assessment/test_assess.py",
        ],
    ),
    "trees": (
        ["fit/trees/calibration.py", "fit/trees/choice.py", "fit/trees/limits.py"],
        ["fit/trees"],
    ),
    "book": (
        ["desk/assessment/shop_records.py", "fit/assessment/learnt.py"],
        [
            "desk/assessment/test_shop_records.py",
            "desk/reports/test_book.py",
            "fit/assessment/test_learnt.py",
        ],
    ),
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
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-m", "not slow", "-p"]
    try:
        run = subprocess.run(
            [*command, "no:cacheprovider", *(f"tests/{test}" for test in tests)],
            cwd=copy,
            env={**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"},
            capture_output=True,
            timeout=300,
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        place.write_text(sound, encoding="utf-8")
    return run.returncode != 0


def main() -> int:
    asked = sys.argv[1] if len(sys.argv) > 1 else ""
    faults = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    with tempfile.TemporaryDirectory() as folder:
        copy, skip = Path(folder), shutil.ignore_patterns("__pycache__", "browser")
        for name in ("fitcounter", "tests", "static", "templates"):
            shutil.copytree(TESTS.parent / name, copy / name, ignore=skip)
        shutil.copy(TESTS.parent / "pyproject.toml", copy)
        for module, (files, tests) in MODULES.items():
            if asked in ("", module):
                _measure(copy, module, files, tests, faults)
    return 0


def _measure(copy: Path, module: str, files: list[str], tests: list[str], faults: int) -> None:
    every = [
        (file, number)
        for file in files
        for number, _ in enumerate(places(ast.parse((copy / "fitcounter" / file).read_text())))
    ]
    drawn = random.Random(21).sample(every, min(faults, len(every)))
    missed = [(file, number) for file, number in drawn if not found(copy, file, number, tests)]
    print(f"{module}: {len(drawn) - len(missed)} of {len(drawn)} found", flush=True)
    for file, number in missed:
        node = list(places(ast.parse((copy / "fitcounter" / file).read_text())))[number]
        print(f"  not found: {file}:{getattr(node, 'lineno', 0)} {ast.unparse(node)}", flush=True)


if __name__ == "__main__":
    raise SystemExit(main())
