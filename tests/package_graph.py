"""The arrows of the house: which room may use which, and in which order the packages inside a room
stand. `python tests/package_graph.py` draws what is, and fails on a cycle or a forbidden arrow.

With --table it prints the table of DEVELOPERS.md, with --write it writes it there.
"""

from __future__ import annotations

import re
import sys
from collections import defaultdict
from collections.abc import Iterable, Mapping
from pathlib import Path

from support.paths import CHECKOUT
from support.source_files import SourceFile, house_files

# Room → the rooms it may import. A room is a folder of fitcounter/ or a module that lies directly
# in it.
ARROWS: dict[str, tuple[str, ...]] = {
    "errors": (),
    "settings": ("errors",),
    "first_run": (),
    "how_far": (),
    "fit": ("errors",),
    "store": ("fit", "how_far", "errors"),
    "papers": ("fit", "how_far", "settings", "errors"),
    "desk": ("store", "papers", "fit", "how_far", "settings", "errors"),
    "web": ("desk", "fit", "settings", "errors"),
    "serving": ("desk", "settings", "errors"),
    "cli": ("serving", "web", "desk", "fit", "settings", "errors"),
    "__main__": ("cli", "first_run"),
    "__init__": (),
}
# Room → its packages and single modules, lowest first: each may import only those before it.
ORDER: dict[str, tuple[str, ...]] = {
    "fit": (
        *("handbook", "tape", "repeats", "tagcode", "item_names", "item_states"),
        "work_timing",
        *("assessment", "trees", "plan", "wear", "drawings"),
    ),
    "desk": (
        *("shop", "common", "assessment", "measuring", "trees", "rounds", "plan", "bench"),
        *("tags", "quote", "tickets", "aftercare", "customer", "front_desk", "documents"),
        *("messages", "intake", "staff", "settings", "book", "data", "health", "demo"),
    ),
    "web": (
        *("guards", "offline", "forms", "pages", "responses"),
        *("auth", "bench", "items", "counter", "pickup", "customer", "shop", "book"),
        *("documents", "blueprints"),
    ),
    "serving": (
        *("certificate_files", "certificate", "systemd_unit", "systemd_service"),
        *("off_site_place", "off_site_copy_follows_shop"),
        *("off_site_process", "stand_by_timer", "background_thread"),
        *("inbox", "connection", "server"),
        "certificate_hand_out",
    ),
}
# Room, or one file of it → the libraries it may import.
LIBRARIES: dict[str, tuple[str, ...]] = {
    "store": ("sqlite_utils", "pysqlite3", "sqlite3"),
    "papers": ("icalendar", "jinja2", "markupsafe", "babel"),
    # what the server never loads: these are imported in the processes of papers/own_process.py,
    # and of `fitcounter replicate`
    "store/s3_files.py": ("obstore",),
    "store/sftp_files.py": ("asyncssh",),
    "papers/pdf_writer.py": ("weasyprint",),
    "papers/photo_writer.py": ("PIL",),
    "papers/holiday_library.py": ("holidays",),
    "papers/qr_modules.py": ("qrcode",),
    "desk": ("babel", "phonenumbers"),
    # loaded when a first message is to be sealed
    "desk/messages/push_seal.py": ("cryptography",),
    "web": (
        *("flask", "flask_wtf", "wtforms", "werkzeug", "itsdangerous", "markupsafe", "babel"),
        "phonenumbers",
    ),
    "web/responses/compiled_pages.py": ("jinja2",),
    "web/responses/unindented.py": ("jinja2",),
    "serving/certificate.py": ("cryptography",),
    "serving/certificate_files.py": ("cryptography",),
    "serving/connection.py": ("cheroot",),
    "serving/server.py": ("cheroot",),
}
# Where a function may import a module of ours when it is called, and from which room ("" any): the
# libraries behind the papers take seconds to load, what seals messages to phones is loaded when
# somebody gets them, the command line loads only what the command needs, the first run begins
# before any library is there, and what sets pages, reads photos, makes codes and reaches other
# computers is imported in a process of its own.
LAZY_DOORS = {
    "desk/documents/": "papers",
    "desk/messages/push_": "desk",
    "papers/pdf.py": "papers",
    "papers/photo.py": "papers",
    "papers/public_holidays.py": "papers",
    "papers/qr_code.py": "papers",
    "store/remote_files.py": "store",
    "cli/": "",
    "__main__.py": "first_run",
}
PURE_ROOM = "none; of the standard library nothing that knows clock, files, network or chance"
BEGIN, END = "<!-- arrows: python tests/package_graph.py --write -->", "<!-- /arrows -->"

Graph = Mapping[str, set[str]]


def room_of(module: str) -> str:
    """The room of a dotted name under fitcounter: "fitcounter.store.items" is in "store"."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


def package_of(module: str) -> str:
    """Room and package of a dotted name: "fitcounter.desk.plan.plan" is in "desk/bench"."""
    return "/".join(module.split(".")[1:3]) or "__init__"


def module_graph(files: Iterable[SourceFile]) -> dict[str, set[str]]:
    """Each module's dotted name and those of the modules of ours that it imports."""
    files = list(files)
    modules = {file.module for file in files}
    return {
        file.module: {
            imported.name for imported in file.imports(modules) if imported.name in modules
        }
        - {file.module}
        for file in files
    }


def grouped(graph: Graph, group_of: Mapping[str, str]) -> dict[str, set[str]]:
    """The graph of the groups that the nodes are in, without arrows inside a group."""
    groups: dict[str, set[str]] = defaultdict(set)
    for node, targets in graph.items():
        here = group_of[node]
        groups[here] |= {group_of[target] for target in targets} - {here}
    return dict(groups)


def package_graph(modules: Graph) -> dict[str, set[str]]:
    """The graph of the packages, "desk/bench" → {"desk/common", "fit/trees", …}."""
    return grouped(modules, {module: package_of(module) for module in modules})


def cycles(graph: Graph) -> list[list[str]]:
    """The groups of nodes that reach each other, each sorted; empty if all arrows lead down."""
    reach = {node: _reached(graph, node) for node in graph}
    rings = {
        tuple(sorted(other for other in reach[node] if node in reach.get(other, ())))
        for node in graph
        if node in reach[node]
    }
    return [list(ring) for ring in sorted(rings)]


def _reached(graph: Graph, start: str) -> set[str]:
    seen: set[str] = set()
    waiting = list(graph[start])
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            waiting += graph.get(node, ())
    return seen


def arrow_objection(room: str, package: str, name: str) -> str:
    """Why a file in this package of this room may not import the module `name`; "" if it may."""
    target = room_of(name)
    if room not in ARROWS or target not in (room, "__init__", *ARROWS[room]):
        return f"{room} may not import {target}"
    order, upper, lower = ORDER.get(room, ()), package, package_of(name).split("/")[-1]
    if target != room or not order or upper in (lower, "__init__") or lower == room:
        return ""
    for one in (upper, lower):
        if one not in order:
            return f"{room}/{one} has no place in the order of {room}/"
    right = order.index(lower) < order.index(upper)
    return "" if right else f"{room}/{upper} stands below {room}/{lower} and may not import it"


def lazy_objection(place: str, name: str) -> str:
    """Why a function in the file at this place may not import `name`; "" if it may."""
    target = room_of(name)
    doors = (room for start, room in LAZY_DOORS.items() if place.startswith(start))
    allowed = not name.startswith("fitcounter") or any(door in ("", target) for door in doors)
    return "" if allowed else f"a function imports {name}"


def forbidden_arrows(files: Iterable[SourceFile]) -> set[str]:
    """Every import of a module of ours that the house does not allow, as "place: why"."""
    files = list(files)
    modules = {file.module for file in files}
    return {
        f"{file.place}: {why}"
        for file in files
        for imported in file.imports(modules)
        if imported.name.split(".")[0] == "fitcounter"
        if (why := arrow_objection(file.room, inner(file), imported.name))
    }


def lazy_imports(files: Iterable[SourceFile]) -> set[str]:
    """Every import of a module of ours inside a function that is no lazy door, as "place: why"."""
    files = list(files)
    modules = {file.module for file in files}
    return {
        f"{file.place}: {why}"
        for file in files
        for imported in file.imports(modules)
        if imported.lazy and (why := lazy_objection(file.place, imported.name))
    }


def inner(file: SourceFile) -> str:
    """The package that a file is in below its room, its own name if it lies there directly."""
    return file.parts[min(1, len(file.parts) - 1)].removesuffix(".py")


def drawing(files: Iterable[SourceFile]) -> str:
    """The graph as text: each room with the rooms it uses, and each of its packages with the
    packages of the same room.
    """
    modules = module_graph(files)
    rooms = grouped(modules, {module: room_of(module) for module in modules})
    packages = package_graph(modules)
    lines = []
    for room in reversed(ARROWS):
        lines.append(f"{room}  →  {', '.join(sorted(rooms.get(room, ()))) or 'nothing of ours'}")
        inside = [name for name in reversed(ORDER.get(room, ())) if f"{room}/{name}" in packages]
        for name in inside:
            below = {
                target for target in packages[f"{room}/{name}"] if room_of_package(target) == room
            }
            names = sorted(target.split("/")[-1] for target in below)
            lines.append(f"    {name}  →  {', '.join(names) or '–'}")
    return "\n".join(lines)


def room_of_package(package: str) -> str:
    return package.split("/")[0]


def table() -> str:
    """The table of DEVELOPERS.md, and the orders under it."""
    rows = ["| room | may use | libraries |", "|---|---|---|"]
    for room, targets in ARROWS.items():
        if not room.startswith("__"):
            libraries = sorted({name for place in LIBRARIES for name in _libraries(place, room)})
            brings = PURE_ROOM if room == "fit" else _named(libraries)
            rows.append(f"| `{room}` | {_named(targets)} | {brings} |")
    orders = [f"Inside `{room}/`, lowest first: {_named(order)}." for room, order in ORDER.items()]
    return "\n".join([*rows, "", *("\n\n".join(orders)).split("\n")])


def _libraries(place: str, room: str) -> tuple[str, ...]:
    return LIBRARIES[place] if place.split("/")[0] == room else ()


def _named(names: Iterable[str]) -> str:
    return ", ".join(f"`{name}`" for name in names) or "–"


def table_in(text: str) -> str | None:
    """What stands between the two marks in a document; None if it has no marks."""
    match = re.search(f"{re.escape(BEGIN)}\n(.*?)\n{re.escape(END)}", text, re.DOTALL)
    return match and match[1]


def write_table(document: Path) -> None:
    """Puts the table between the document's marks."""
    begin, end = BEGIN, END
    before, rest = document.read_text(encoding="utf-8").split(begin)
    text = f"{before}{begin}\n{table()}\n{end}{rest.split(end)[1]}"
    document.write_text(text, encoding="utf-8")


def main(arguments: list[str]) -> int:
    """What the script answers with: 0, or 1 with a cycle or a forbidden arrow."""
    if "--table" in arguments:
        print(table())
        return 0
    if "--write" in arguments:
        write_table(CHECKOUT / "DEVELOPERS.md")
        return 0
    files = house_files()
    print(drawing(files))
    modules = module_graph(files)
    rings = cycles(package_graph(modules)) + cycles(modules)
    wrong = [f"a cycle: {' ↔ '.join(ring)}" for ring in rings]
    wrong += sorted(forbidden_arrows(files) | lazy_imports(files))
    print(*["", *wrong] if wrong else ["", "No cycle, no forbidden arrow."], sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
