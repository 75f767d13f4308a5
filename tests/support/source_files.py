"""Python files as the tests of the house read them: their place in the package, what they import,
and the functions and classes they define.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from support.paths import CHECKOUT

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Import:
    """One name that a file imports. lazy: inside a function."""

    line: int
    name: str
    lazy: bool


@dataclass(frozen=True)
class SourceFile:
    """A file of a package. parts: its place below the package, ("desk", "bench", "plan.py")."""

    path: Path
    parts: tuple[str, ...]

    @property
    def place(self) -> str:
        """Its path below the package, "desk/plan/plan.py"."""
        return "/".join(self.parts)

    @property
    def room(self) -> str:
        """The folder or the single module that it stands in directly below the package."""
        return self.parts[0].removesuffix(".py")

    @property
    def module(self) -> str:
        """Its dotted name, "fitcounter.desk.plan.plan"; a folder's for its __init__."""
        names = ("fitcounter", *self.parts[:-1], self.parts[-1].removesuffix(".py"))
        return ".".join(names[:-1] if names[-1] == "__init__" else names)

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.path.read_text(encoding="utf-8"))

    def functions(self) -> Iterator[Function]:
        """Every function and method, nested ones too."""
        for node in ast.walk(self.tree):
            if isinstance(node, Function):
                yield node

    def classes(self) -> Iterator[ast.ClassDef]:
        """The classes at the top of the file."""
        return (node for node in self.tree.body if isinstance(node, ast.ClassDef))

    def imports(self, modules: set[str]) -> Iterator[Import]:
        """All that it imports, wherever the line stands: at the top, in a function, under
        TYPE_CHECKING, or by a name in a string.

        modules: the dotted names of the package, to tell `from room import module` from
        `from module import name`.
        """
        for line, base, name, lazy in self._import_lines:
            full = f"{base}.{name}" if base and name else base or name
            yield Import(line, full if base == "fitcounter" or full in modules else base, lazy)

    @cached_property
    def _import_lines(self) -> list[tuple[int, str, str, bool]]:
        """(line, module, name or "", in a function) of each name that is imported."""
        return list(self._import_lines_below(self.tree, lazy=False))

    def _import_lines_below(
        self, above: ast.AST, *, lazy: bool
    ) -> Iterator[tuple[int, str, str, bool]]:
        for node in ast.iter_child_nodes(above):
            if isinstance(node, ast.Import):
                yield from ((node.lineno, alias.name, "", lazy) for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                base = self._base(node)
                yield from ((node.lineno, base, alias.name, lazy) for alias in node.names)
            elif isinstance(node, ast.Call) and _imports_by_name(node.func) and node.args:
                yield node.lineno, _text_of(node.args[0]), "", lazy
            yield from self._import_lines_below(node, lazy=lazy or isinstance(node, Function))

    def _base(self, node: ast.ImportFrom) -> str:
        """The dotted name behind `from`, dots at its beginning resolved."""
        here = ("fitcounter", *self.parts[:-1])
        start = here[: len(here) - node.level + 1] if node.level else ()
        return ".".join(part for part in (*start, node.module or "") if part)


def _imports_by_name(called: ast.expr) -> bool:
    name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
    return name in ("import_module", "__import__")


def _text_of(argument: ast.expr) -> str:
    known = isinstance(argument, ast.Constant) and isinstance(argument.value, str)
    return str(argument.value) if known else "a name made at run time"  # type: ignore[attr-defined]


def source_files(package: Path) -> list[SourceFile]:
    """Every Python file of a package, in the order of their paths."""
    return [
        SourceFile(path, path.relative_to(package).parts) for path in sorted(package.rglob("*.py"))
    ]


@cache
def house_files() -> tuple[SourceFile, ...]:
    """The files of fitcounter/, read and parsed once for all that ask."""
    return tuple(source_files(CHECKOUT / "fitcounter"))
