"""A start reads what an earlier one compiled of the templates, and never what has become untrue."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask
from jinja2 import DictLoader, Environment
from jinja2.filters import FILTERS

from fitcounter.web.responses import compiled_pages
from fitcounter.web.responses.compiled_pages import CompiledPages
from fitcounter.web.responses.unindented import Unindented

Started = Callable[..., Environment]


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder where Python keeps what it compiled, for this test alone."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "compiled"))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path / "compiled"


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The name of each template that was compiled, in turn."""
    names: list[str] = []
    real = Environment._generate

    def generate(env: Environment, source: object, name: str, *more: object, **so: object) -> str:
        names.append(name)
        return real(env, source, name, *more, **so)

    monkeypatch.setattr(Environment, "_generate", generate)
    return names


def started(page: str, *extensions: type) -> Environment:
    return Environment(
        loader=DictLoader({"page": page}),
        extensions=extensions,
        bytecode_cache=CompiledPages(),
        autoescape=True,
    )


def said(env: Environment) -> str:
    return env.get_template("page").render(word="a")


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


@pytest.mark.usefixtures("kept")
def test_a_later_start_compiles_only_what_has_changed(compiled: list[str]) -> None:
    assert [said(started("{{ word }}")) for _ in range(3)] == ["a", "a", "a"]
    assert compiled == ["page"]
    assert said(started("{{ word }}!")) == "a!"
    assert said(started("{{ word }}!")) == "a!"
    assert compiled == ["page", "page"]


@pytest.mark.usefixtures("kept")
def test_what_our_extension_makes_of_it_counts_too() -> None:
    page = "<p>\n    {{ word }}"
    assert said(started(page)) == "<p>\n    a"
    assert said(started(page, Unindented)) == "<p>\na"


@pytest.mark.usefixtures("kept")
def test_another_version_of_the_compiler_compiles_anew(
    compiled: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    said(started("{{ word }}"))
    monkeypatch.setattr(compiled_pages, "version", lambda _: "another")
    assert said(started("{{ word }}")) == "a"
    assert compiled == ["page", "page"]


def test_nobody_else_reads_it_and_half_of_it_is_compiled_anew(
    kept: Path, compiled: list[str]
) -> None:
    said(started("{{ word }}"))
    (file,) = files(kept)
    assert file.stat().st_mode & 0o077 == 0
    whole = file.read_bytes()
    cuts = [*range(100), len(whole) // 2, len(whole) - 1]
    for cut in cuts:
        file.write_bytes(whole[:cut])
        assert said(started("{{ word }}")) == "a"
    assert compiled == ["page"] * (1 + len(cuts))
    assert file.read_bytes() == whole


def test_where_nothing_can_be_kept_the_page_comes_all_the_same(kept: Path) -> None:
    kept.write_text("a file where the folder would be")
    assert said(started("{{ word }}")) == "a"


def test_a_full_disk_keeps_nobody_from_the_page(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    env = started("{{ word }}")
    monkeypatch.setattr("jinja2.bccache.tempfile.NamedTemporaryFile", full)
    assert said(env) == "a"
    assert files(kept) == []


def test_a_python_that_keeps_nothing_keeps_no_pages(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert said(started("{{ word }}")) == "a"
    assert not kept.exists()


def test_nothing_of_ours_is_said_while_a_template_is_compiled(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else a sentence would be kept in the language of whoever came first."""
    env, too_early = app.jinja_env, []
    for name in env.filters.keys() - FILTERS.keys() | {"length"}:

        def early(*given: object, name: str = name) -> str:
            too_early.append((name, given))
            return ""

        monkeypatch.setitem(env.filters, name, early)
    pages = [one for one in env.list_templates() if not one.startswith("papers/")]
    assert len(pages) > 100
    for page in pages:
        assert env.loader is not None
        env.compile(env.loader.get_source(env, page)[0], page)
    assert too_early == []
