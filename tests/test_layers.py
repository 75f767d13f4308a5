"""The house keeps its rooms: who may import whom, which library lives where, and what the pure room
may not do.

The table of arrows is in package_graph.py, what is tried of it in test_package_graph.py; how long
things may be is in test_shape.py.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from package_graph import LIBRARIES, arrow_objection, inner
from support.source_files import SourceFile, house_files, source_files

# All that the pure room may use of the standard library: nothing here knows the hour, a file,
# chance or the network.
PURE = {
    "__future__",
    "abc",
    "array",
    "bisect",
    "calendar",
    "collections",
    "contextlib",
    "copy",
    "dataclasses",
    "datetime",
    "decimal",
    "enum",
    "fractions",
    "functools",
    "heapq",
    "itertools",
    "json",
    "math",
    "numbers",
    "operator",
    "re",
    "statistics",
    "string",
    "textwrap",
    "types",
    "typing",
    "unicodedata",
    "zoneinfo",
}
IMPURE_NAMES = {"open", "input", "print", "eval", "exec", "__import__", "breakpoint"}
CLOCK = {"now", "utcnow"}
TIMELESS = {
    "fit",
    "store",
    "papers",
    "desk",
}  # the hour comes in as an argument, read once at the edge
STATEMENT = re.compile(r"\s*(SELECT|INSERT INTO|UPDATE|DELETE FROM|CREATE TABLE|ALTER TABLE)\s")


def complaints(files: Sequence[SourceFile]) -> list[str]:
    """Every import and call in the files that the house does not allow, as "file:line: why"."""
    modules = {file.module for file in files}
    answers = []
    for file in files:
        wrong = [
            (imported.line, why)
            for imported in file.imports(modules)
            if (why := objection(file, imported.name))
        ]
        wrong += impure_calls(file.room, file.tree)
        wrong += statements(file.room, file.tree)
        answers += [f"{file.place}:{line}: {why}" for line, why in sorted(set(wrong))]
    return answers


def objection(file: SourceFile, name: str) -> str:
    """Why this file may not import `name`; "" if it may."""
    top, room = name.split(".")[0], file.room
    if top == "fitcounter":
        return arrow_objection(room, inner(file), name)
    if top in (*LIBRARIES.get(room, ()), *LIBRARIES.get(file.place, ())):
        return ""
    if top not in sys.stdlib_module_names or top == "sqlite3":
        return f"{room} may not import {top}"
    return f"{room} is pure and may not import {top}" if room == "fit" and top not in PURE else ""


def impure_calls(room: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        if room == "fit" and isinstance(node.func, ast.Name) and node.func.id in IMPURE_NAMES:
            yield node.lineno, f"fit is pure and may not call {node.func.id}()"
        # shop.today(moment) asks what day a moment is; date.today() asks the clock
        asks_clock = isinstance(node.func, ast.Attribute) and (
            node.func.attr in CLOCK or (node.func.attr == "today" and not node.args)
        )
        if room in TIMELESS and asks_clock:
            yield node.lineno, f"{room} may not read the clock"


def statements(room: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Texts that are statements of the database, outside the one room that knows it."""
    for node in ast.walk(tree):
        if (
            room != "store"
            and isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and STATEMENT.match(node.value)
        ):
            yield node.lineno, f"{room} may not ask the file in SQL"


def test_no_room_imports_what_it_may_not() -> None:
    """Arrows point one way, each library lives in its room, SQL in the store, and the pure room has
    neither clock nor file.
    """
    assert list(complaints(house_files())) == []


@pytest.mark.parametrize(
    ("file", "text", "why"),
    [
        ("fit/tape.py", "import fitcounter.store.items", "fit may not import store"),
        ("fit/tape.py", "from fitcounter import settings", "fit may not import settings"),
        ("fit/tape.py", "import os", "fit is pure and may not import os"),
        ("fit/tape.py", "def f():\n    import random", "fit is pure and may not import random"),
        ("fit/tape.py", "import numpy", "fit may not import numpy"),
        ("fit/tape.py", "text = open('x').read()", "fit is pure and may not call open()"),
        (
            "fit/rest.py",
            "import datetime\nx = datetime.datetime.now()",
            "fit may not read the clock",
        ),
        (
            "desk/intake.py",
            "from datetime import date\nx = date.today()",
            "desk may not read the clock",
        ),
        ("desk/intake.py", "import sqlite3", "desk may not import sqlite3"),
        (
            "desk/intake.py",
            "x = store.value('SELECT 1 FROM staff')",
            "desk may not ask the file in SQL",
        ),
        (
            "web/items.py",
            "x = db.execute(f'DELETE FROM {name}')",
            "web may not ask the file in SQL",
        ),
        ("desk/intake.py", "from PIL import Image", "desk may not import PIL"),
        ("desk/intake.py", "from fitcounter.web import forms", "desk may not import web"),
        ("store/items.py", "from ..papers import tag", "store may not import papers"),
        ("store/items.py", "from fitcounter.desk.intake import take", "store may not import desk"),
        (
            "papers/tag.py",
            "if TYPE_CHECKING:\n    from fitcounter.store import items",
            "papers may not import store",
        ),
        (
            "papers/tag.py",
            "x = importlib.import_module('fitcounter.store')",
            "papers may not import store",
        ),
        (
            "papers/tag.py",
            "x = import_module('fit' + 'counter')",
            "papers may not import a name made at run time",
        ),
        ("web/counter.py", "from fitcounter.store.items import read", "web may not import store"),
        ("web/counter.py", "import sqlite_utils", "web may not import sqlite_utils"),
        ("web/counter.py", "from fitcounter.cli import main", "web may not import cli"),
        ("settings.py", "import cryptography.x509", "settings may not import cryptography"),
        ("first_run.py", "from fitcounter import errors", "first_run may not import errors"),
        ("parlour.py", "from fitcounter import errors", "parlour may not import errors"),
    ],
)
def test_a_wrong_arrow_is_found(tmp_path: Path, file: str, text: str, why: str) -> None:
    """A tree with one forbidden line gets exactly that complaint, with the file and the line."""
    path = tmp_path / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")

    assert [complaint.split(": ", 1)[1] for complaint in complaints(source_files(tmp_path))] == [
        why
    ]


def test_right_arrows_are_let_through(tmp_path: Path) -> None:
    """The lines the house is made of raise no complaint."""
    lines = {
        "fit/tape.py": (
            "from fractions import Fraction\nfrom fitcounter.errors import BadReading\nfrom ."
            " import legs"
        ),
        "store/items.py": (
            "import os\nfrom sqlite_utils import Database\nfrom fitcounter.fit import progress"
        ),
        "desk/front_desk/photos.py": (
            "from fitcounter.store import photos\nday = shop.today(moment)"
        ),
        "desk/tagging.py": "from fitcounter.papers import tag\nfrom fitcounter.fit import tagcode",
        "web/counter.py": (
            "from datetime import datetime\nfrom flask import Flask\nfrom fitcounter.desk import"
            " intake\nx = datetime.now()"
        ),
        "serving/certificate.py": (
            "from cryptography import x509\nfrom fitcounter.errors import BadInput"
        ),
    }
    for file, text in lines.items():
        (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file).write_text(text, encoding="utf-8")

    assert complaints(source_files(tmp_path)) == []
