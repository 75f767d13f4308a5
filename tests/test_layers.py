"""The house keeps its rooms: who may import whom, which library lives where, how long a file and a
function may be.

The imports are read with ast, wherever they stand: at the top, inside a function, under
TYPE_CHECKING, or by name.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.paths import CHECKOUT

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "fitcounter",
    "static",
    "templates",
    "tests",
    "seed_scenario",
}

# Room → the rooms it may import. A room is a folder of fitcounter/ or a module that lies directly
# in it.
ARROWS = {
    "errors": set(),
    "settings": {"errors"},
    "first_run": set(),
    "fit": {"errors"},
    "store": {"errors", "settings", "fit"},
    "papers": {"errors", "settings", "fit"},
    "desk": {"errors", "settings", "fit", "store", "papers"},
    "web": {"errors", "settings", "fit", "desk"},
    "serving": {"errors", "settings", "desk"},
    "cli": {"errors", "settings", "fit", "desk", "web", "serving", "first_run"},
    "__main__": {"cli", "first_run"},
    "__init__": set(),
}
# Room, or one file of it → the libraries it may import.
LIBRARIES = {
    "store": {"sqlite_utils", "pysqlite3", "sqlite3"},
    "papers": {"qrcode", "weasyprint", "icalendar", "PIL", "jinja2", "markupsafe", "babel"},
    "desk": {"babel", "phonenumbers"},
    "desk/front_desk/photos.py": {"PIL"},
    "web": {"flask", "flask_wtf", "wtforms", "werkzeug", "markupsafe", "babel", "phonenumbers"},
    "serving/certificate.py": {"cryptography"},
    "serving/certificate_files.py": {"cryptography"},
    "serving/server.py": {"cheroot"},
}
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
LONGEST_FILE = {
    ".py": 300,
    ".html": 300,
    ".js": 300,
    ".css": 500,
}  # one style sheet, so that a phone fetches one
LONGEST_BODY, LONGEST_VIEW = 40, 25
STATEMENT = re.compile(r"\s*(SELECT|INSERT INTO|UPDATE|DELETE FROM|CREATE TABLE|ALTER TABLE)\s")


def room_of(module: str) -> str:
    """The room of a dotted module name under fitcounter: "fitcounter.store.items" is in "store"."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


def imported(tree: ast.Module, package: str) -> Iterator[tuple[int, str]]:
    """(line, dotted name) of everything a file imports; `from fitcounter import x` counts as
    fitcounter.x.
    """
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = (
                ".".join(package.split(".")[: len(package.split(".")) - node.level + 1])
                if node.level
                else ""
            )
            base = ".".join(part for part in (start, node.module) if part)
            yield from (
                (node.lineno, f"{base}.{alias.name}" if base == "fitcounter" else base)
                for alias in node.names
            )
        elif (
            isinstance(node, ast.Call)
            and ast.unparse(node.func).endswith(("import_module", "__import__"))
            and node.args
        ):
            name = node.args[0]
            yield (
                node.lineno,
                (
                    name.value
                    if isinstance(name, ast.Constant) and isinstance(name.value, str)
                    else "a name made at run time"
                ),
            )


def complaints(package: Path) -> list[str]:
    """Every import and call in the package that the house does not allow, as "file:line: why"."""
    found = []
    for path in sorted(package.rglob("*.py")):
        relative = path.relative_to(package)
        room = relative.parts[0] if len(relative.parts) > 1 else relative.stem
        tree = ast.parse(path.read_text(encoding="utf-8"))
        dotted = ".".join(("fitcounter", *relative.parts[:-1]))
        wrong = [
            (line, why)
            for line, name in imported(tree, dotted)
            if (why := objection(room, str(relative), name))
        ]
        wrong += impure_calls(room, tree)
        wrong += statements(room, tree)
        found += [f"{relative}:{line}: {why}" for line, why in sorted(set(wrong))]
    return found


def objection(room: str, file: str, name: str) -> str:
    """Why this file may not import `name`; "" if it may."""
    top = name.split(".")[0]
    if top == "fitcounter":
        target = room_of(name)
        here_or_allowed = target in (room, "__init__") or target in ARROWS.get(room, set())
        return "" if here_or_allowed and room in ARROWS else f"{room} may not import {target}"
    libraries = LIBRARIES.get(room, set()) | LIBRARIES.get(file, set())
    if top in libraries:
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
    assert complaints(CHECKOUT / "fitcounter") == []


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

    assert [complaint.split(": ", 1)[1] for complaint in complaints(tmp_path)] == [why]


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
            "from PIL import Image\nfrom fitcounter.store import photos\nday = shop.today(moment)"
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

    assert complaints(tmp_path) == []


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function's body, its docstring not counted."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def is_view(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """True if a decorator such as @bp.post("/…") makes it answer requests."""
    calls = [
        decorator.func for decorator in function.decorator_list if isinstance(decorator, ast.Call)
    ]
    return any(
        isinstance(call, ast.Attribute)
        and call.attr in ("route", "get", "post", "put", "delete", "patch")
        for call in calls
    )


def too_long(package: Path) -> list[str]:
    """Functions whose body is longer than the house allows."""
    found = []
    for path in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                limit = LONGEST_VIEW if is_view(node) else LONGEST_BODY - 1
                if body_lines(node) > limit:
                    found.append(
                        f"{path.relative_to(package)}: {node.name} has {body_lines(node)} lines,"
                        f" {limit} are allowed"
                    )
    return found


def test_functions_are_short() -> None:
    """A function's body stays under 40 lines, a view's within 25."""
    assert too_long(CHECKOUT / "fitcounter") == []


@pytest.mark.parametrize(
    ("decorator", "lines", "found"),
    [("", 39, 0), ("", 40, 1), ("@bp.post('/x')\n", 25, 0), ("@bp.post('/x')\n", 26, 1)],
)
def test_a_long_function_is_found(tmp_path: Path, decorator: str, lines: int, found: int) -> None:
    """One line too many is a complaint; the docstring does not count."""
    text = f"{decorator}def f():\n    '''Two\n    lines.'''\n" + "    x = 1\n" * lines
    (tmp_path / "f.py").write_text(text, encoding="utf-8")

    assert len(too_long(tmp_path)) == found


def own_files() -> list[Path]:
    """Every text file of ours that somebody has to read."""
    folders = [CHECKOUT / name for name in ("fitcounter", "templates", "static")]
    files = [
        path for folder in folders for path in folder.rglob("*") if path.suffix in LONGEST_FILE
    ]
    return [path for path in files if "vendor" not in path.parts]


def test_files_are_short() -> None:
    """No module, template or script is longer than 300 lines, the style sheet not longer than
    500.
    """
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in own_files()}

    assert lengths
    assert {
        str(path.relative_to(CHECKOUT)): lines
        for path, lines in lengths.items()
        if lines > LONGEST_FILE[path.suffix]
    } == {}


def test_the_top_level_has_the_fixed_names_and_no_other() -> None:
    """README.md, DEVELOPERS.md, LICENSE, pyproject.toml and the five folders; hidden files
    aside.
    """
    names = {
        path.name
        for path in CHECKOUT.iterdir()
        if not path.name.startswith(".") and path.name != "__pycache__"
    }

    assert names == TOP_LEVEL
