"""What the house does not hold to yet, each named in house_debts.json: the list may only shrink.

`python tests/house_debts.py` says by room what is left; --trim takes out of the list what is in
order by now, and adds nothing.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping

from package_graph import cycles, forbidden_arrows, lazy_imports, module_graph, package_graph
from support.catalogue import outside_in_code, outside_in_pages
from support.house_shape import long_lines, names_twice, takes_too_much, without_namesake
from support.paths import CHECKOUT, TESTS
from support.source_files import house_files

LIST = TESTS / "house_debts.json"
# Modules with behaviour that need no test of their own name, and why.
NO_NAMESAKE = {
    "__main__.py": "two lines that every command of test_readme.py and test_first_run.py goes by",
    "web/__init__.py": "create_app only wires: every test of the web room begins with it",
}
# Offenders of one check: their names, each with a count (1 where there is nothing to count).
Offenders = dict[str, int]


def offenders() -> dict[str, Offenders]:
    """Every offender of today under the name of the check that finds it."""
    files = house_files()
    modules = module_graph(files)
    rings = cycles(package_graph(modules)) + cycles(modules)
    lines = {
        f"{name}/{place}": count
        for name in ("fitcounter", "static", "templates", "tests")
        for place, count in long_lines(CHECKOUT / name).items()
    }
    return {
        "cycle of imports": dict.fromkeys((" ↔ ".join(ring) for ring in rings), 1),
        "forbidden arrow": dict.fromkeys(forbidden_arrows(files), 1),
        "import in a function": dict.fromkeys(lazy_imports(files), 1),
        "more than five parameters": dict.fromkeys(takes_too_much(files), 1),
        "class name that stands twice": dict.fromkeys(names_twice(files), 1),
        "lines over 100 columns": lines,
        "text outside the catalogue": outside_in_pages() | outside_in_code(),
        "no namesake test": dict.fromkeys(without_namesake(files, TESTS) - set(NO_NAMESAKE), 1),
    }


def listed() -> dict[str, Offenders]:
    """What the list forgives."""
    return json.loads(LIST.read_text(encoding="utf-8"))


def new(today: Offenders, forgiven: Mapping[str, int]) -> Offenders:
    """The offenders that the list does not forgive, or not in this number."""
    return {name: count for name, count in today.items() if count > forgiven.get(name, 0)}


def settled(today: Offenders, forgiven: Mapping[str, int]) -> list[str]:
    """What the list forgives without need."""
    return sorted(name for name in forgiven if name not in today)


def trim() -> None:
    """Takes out of the list what is settled, and lowers counts to today's."""
    today = offenders()
    left = {
        check: {
            name: min(count, today[check][name])
            for name, count in sorted(forgiven.items())
            if name in today[check]
        }
        for check, forgiven in listed().items()
        if check in today
    }
    LIST.write_text(json.dumps(left, ensure_ascii=False, indent=2) + "\n", encoding="utf-8")


def main(arguments: list[str]) -> int:
    if "--trim" in arguments:
        trim()
        return 0
    forgiven = listed()
    for check, today in offenders().items():
        print(f"{check}: {len(today)}")
        for name, count in sorted(today.items()):
            mark = "NEW " if name in new(today, forgiven.get(check, {})) else ""
            print(f"  {mark}{name}" + (f": {count}" if count > 1 else ""))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
