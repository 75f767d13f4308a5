"""What the house holds to beside its tests: arrows, sizes, names, sentences in the catalogue.

`python tests/house_rules.py` names whatever breaks a rule, by rule.
"""

from __future__ import annotations

import sys

from package_graph import cycles, forbidden_arrows, lazy_imports, module_graph, package_graph
from support.catalogue import outside_in_code, outside_in_pages
from support.house_shape import (
    long_files,
    long_lines,
    names_twice,
    takes_too_much,
    without_namesake,
)
from support.paths import CHECKOUT, TESTS
from support.source_files import house_files

# Modules with behaviour that need no test of their own name, and why.
NO_NAMESAKE = {
    "__main__.py": "two lines that every command of test_readme.py and test_first_run.py goes by",
    "web/__init__.py": "create_app only wires: every test of the web room begins with it",
}
FOLDERS = ("fitcounter", "static", "templates", "tests")
RULES = (
    "no cycle of imports",
    "no forbidden arrow",
    "no import in a function",
    "at most five parameters beyond a context",
    "each class name once",
    "lines within 100 columns",
    "files of at most 300 lines",
    "every text in the catalogue",
    "a test of its name for each module with behaviour",
)


def broken() -> dict[str, list[str]]:
    """By rule, what breaks it today."""
    files = house_files()
    modules = module_graph(files)
    rings = cycles(package_graph(modules)) + cycles(modules)
    lines, lengths = (
        [
            f"{name}/{place}: {count}"
            for name in FOLDERS
            for place, count in counted(CHECKOUT / name).items()
        ]
        for counted in (long_lines, long_files)
    )
    found = (
        [" ↔ ".join(ring) for ring in rings],
        forbidden_arrows(files),
        lazy_imports(files),
        takes_too_much(files),
        names_twice(files),
        lines,
        lengths,
        outside_in_pages() | outside_in_code(),
        without_namesake(files, TESTS) - set(NO_NAMESAKE),
    )
    return {rule: sorted(those) for rule, those in zip(RULES, found, strict=True)}


def main() -> int:
    offenders = broken()
    for rule, those in offenders.items():
        for one in those:
            print(f"{rule}: {one}")
    return min(1, sum(len(those) for those in offenders.values()))


if __name__ == "__main__":
    sys.exit(main())
