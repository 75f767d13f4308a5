"""How long a file, a function and a line may be, how much a function may take, one name for one
class, a test named after each module, and the fixed names of the top level.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from house_rules import FOLDERS, NO_NAMESAKE, RULES, broken
from support.house_shape import (
    TEXTS,
    long_files,
    long_lines,
    names_twice,
    own_texts,
    takes_too_much,
    without_namesake,
)
from support.paths import CHECKOUT
from support.source_files import source_files

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

LONGEST_BODY, LONGEST_VIEW = 40, 25


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


@pytest.fixture(scope="module")
def today() -> dict[str, list[str]]:
    return broken()


@pytest.mark.parametrize("rule", RULES)
def test_the_house_holds_to(today: dict[str, list[str]], rule: str) -> None:
    """`python tests/house_rules.py` names what does not."""
    assert today[rule] == []


def test_a_module_that_needs_no_test_of_its_name_is_there_and_has_none() -> None:
    for place in NO_NAMESAKE:
        source = CHECKOUT / "fitcounter" / place
        assert source.exists(), place
        assert not (CHECKOUT / "tests" / place).with_name(f"test_{source.name}").exists(), place


@pytest.mark.parametrize(
    ("head", "wrong"),
    [
        ("def f(a, b, c, d, e)", False),
        ("def f(store, act, shop, a, b, c, d, e)", False),
        ("def f(self, a, /, b, *c, d, e, **f)", False),
        ("def f(a, b, c, d, e, f)", True),
        ("def f(a, b, *, c, d, e, f)", True),
        ("async def f(store, a, b, c, d, e, f)", True),
    ],
)
def test_a_sixth_parameter_beyond_the_context_is_found(
    tmp_path: Path, head: str, wrong: bool
) -> None:
    (tmp_path / "f.py").write_text(f"{head}:\n    pass\n", encoding="utf-8")

    assert takes_too_much(source_files(tmp_path)) == ({"f.py: f"} if wrong else set())


def test_a_class_name_that_stands_twice_is_found_with_its_places(tmp_path: Path) -> None:
    for name, text in {"a.py": "class Row: ...", "b.py": "class Row: ...\nclass Cell: ..."}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")

    assert names_twice(source_files(tmp_path)) == {"Row: a.py, b.py"}


def test_lines_are_counted_by_their_characters(tmp_path: Path) -> None:
    """A hundred are allowed; vendored files and pictures are not ours to break."""
    (tmp_path / "vendor").mkdir()
    for name, line in {"a.css": "é" * 100, "b.js": "x" * 101, "vendor/c.js": "x" * 101}.items():
        (tmp_path / name).write_text(f"{line}\n{line}\n", encoding="utf-8")

    assert long_lines(tmp_path) == {"b.js": 2}


@pytest.mark.parametrize("name", FOLDERS)
def test_each_folder_of_ours_has_files_to_look_at(name: str) -> None:
    assert any(own_texts(CHECKOUT / name, TEXTS))


def test_a_file_of_more_than_three_hundred_lines_is_found(tmp_path: Path) -> None:
    """Three hundred are allowed; vendored files, pictures and tables are not ours to cut."""
    (tmp_path / "vendor").mkdir()
    (tmp_path / "desk").mkdir()
    names = ("desk/a.py", "b.js", "c.css", "d.html", "e.svg", "f.csv", "vendor/g.js")
    for name in names:
        (tmp_path / name).write_text("x\n" * 301, encoding="utf-8")
    (tmp_path / "h.py").write_text("x\n" * 300, encoding="utf-8")

    assert long_files(tmp_path) == dict.fromkeys(("b.js", "c.css", "d.html", "desk/a.py"), 301)


def test_a_module_with_behaviour_that_no_test_is_named_after_is_found(tmp_path: Path) -> None:
    """Ten statements in functions are behaviour; nine are a record with a helper or two."""
    package, tests = tmp_path / "package", tmp_path / "tests"
    for folder in (package / "desk", tests / "desk"):
        folder.mkdir(parents=True)
    for name, count in {"a.py": 10, "b.py": 9, "c.py": 10}.items():
        text = "def f():\n    'Said.'\n" + "    x = 1\n" * count
        (package / "desk" / name).write_text(text, encoding="utf-8")
    (tests / "desk" / "test_c.py").write_text("", encoding="utf-8")

    assert without_namesake(source_files(package), tests) == {"desk/a.py"}
