"""The arrows between packages: which may use which inside a room, cycles, imports in a function,
the drawing, and the table for developers.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from package_graph import (
    ORDER,
    arrow_objection,
    cycles,
    drawing,
    inner,
    lazy_imports,
    lazy_objection,
    main,
    module_graph,
    package_graph,
    table,
    table_in,
)
from support.paths import CHECKOUT
from support.source_files import SourceFile, house_files, source_files


def tree_of(folder: Path, files: dict[str, str]) -> list[SourceFile]:
    """A package in a folder, made of these files."""
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return source_files(folder)


@pytest.mark.parametrize(
    ("file", "name", "why"),
    [
        ("desk/bench/damage_seen_at_bench.py", "fitcounter.desk.common.money", ""),
        ("desk/bench/damage_seen_at_bench.py", "fitcounter.desk.shop", ""),
        ("desk/bench/damage_seen_at_bench.py", "fitcounter.desk.bench.board", ""),
        (
            "desk/bench/damage_seen_at_bench.py",
            "fitcounter.desk.quote.offer",
            "desk/bench stands below desk/quote and may not import it",
        ),
        (
            "desk/shop.py",
            "fitcounter.desk.common.money",
            "desk/shop stands below desk/common and may not import it",
        ),
        (
            "desk/parlour/x.py",
            "fitcounter.desk.common.money",
            "desk/parlour has no place in the order of desk/",
        ),
        ("web/__init__.py", "fitcounter.web.blueprints", ""),
        (
            "web/guards/access.py",
            "fitcounter.web.auth.me",
            "web/guards stands below web/auth and may not import it",
        ),
        (
            "fit/trees/choice.py",
            "fitcounter.fit.drawings.pair",
            "fit/trees stands below fit/drawings and may not import it",
        ),
        ("store/items.py", "fitcounter.store.tickets", ""),
    ],
)
def test_inside_a_room_a_package_uses_only_those_below_it(file: str, name: str, why: str) -> None:
    source = SourceFile(Path(file), tuple(file.split("/")))

    assert arrow_objection(source.room, inner(source), name) == why


def test_the_package_is_named_also_when_a_module_is_taken_out_of_it(tmp_path: Path) -> None:
    """`from fitcounter.desk import quote` is an arrow to desk/quote, not to the room."""
    files = tree_of(
        tmp_path,
        {
            "desk/__init__.py": "",
            "desk/quote/__init__.py": "",
            "desk/quote/offer.py": "",
            "desk/bench/damage_seen_at_bench.py": "from fitcounter.desk.quote import offer",
            "desk/tags/attach.py": "from .. import quote",
        },
    )

    graph = package_graph(module_graph(files))
    assert graph["desk/bench"] == {"desk/quote"}
    assert graph["desk/tags"] == {"desk/quote"}


@pytest.mark.parametrize(
    ("graph", "rings"),
    [
        ({"a": {"b"}, "b": {"c"}, "c": set()}, []),
        ({"a": {"b"}, "b": {"a"}, "c": {"a"}}, [["a", "b"]]),
        (
            {"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"e"}, "e": {"d"}},
            [["a", "b", "c"], ["d", "e"]],
        ),
    ],
)
def test_a_cycle_is_found_whole(graph: dict[str, set[str]], rings: list[list[str]]) -> None:
    assert cycles(graph) == rings


@pytest.mark.parametrize(
    ("place", "name", "why"),
    [
        ("desk/documents/claim_check_and_tags.py", "fitcounter.papers.tag", ""),
        ("cli/main.py", "fitcounter.desk.data.export_and_import", ""),
        ("__main__.py", "fitcounter.first_run", ""),
        ("desk/quote/offer.py", "json", ""),
        (
            "desk/documents/claim_check_and_tags.py",
            "fitcounter.store.items",
            "a function imports fitcounter.store.items",
        ),
        (
            "desk/quote/offer.py",
            "fitcounter.papers.tag",
            "a function imports fitcounter.papers.tag",
        ),
    ],
)
def test_only_the_lazy_doors_import_in_a_function(place: str, name: str, why: str) -> None:
    assert lazy_objection(place, name) == why


def test_an_import_in_a_method_is_found_and_one_in_an_if_is_not(tmp_path: Path) -> None:
    files = tree_of(
        tmp_path,
        {
            "errors.py": "",
            "desk/a.py": "class A:\n    def f(self):\n        from fitcounter import errors",
            "desk/b.py": "if TYPE_CHECKING:\n    from fitcounter import errors",
        },
    )

    assert lazy_imports(files) == {"desk/a.py: a function imports fitcounter.errors"}


def test_the_drawing_names_every_room_and_every_package_of_a_room_that_has_an_order() -> None:
    files = house_files()
    drawn = drawing(files)

    for package in package_graph(module_graph(files)):
        room, name = package.split("/")[0], package.split("/")[-1]
        assert f"{room}  →  " in drawn
        assert room not in ORDER or f"{name}  →  " in drawn


def test_the_drawing_says_that_nothing_is_wrong(capsys) -> None:
    """And ends with 0."""
    assert main([]) == 0
    assert "No cycle, no forbidden arrow." in capsys.readouterr().out


def test_the_table_for_developers_is_the_one_that_is_held_to() -> None:
    """DEVELOPERS.md has it between its marks; `python tests/package_graph.py --write` renews it."""
    assert table_in((CHECKOUT / "DEVELOPERS.md").read_text(encoding="utf-8")) == table()
