"""The invented shop of a whole run: its story is played once for all workers, its papers are set
once, and each test has a copy that it may do anything with.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import pickle
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from support.one_application import shut
from support.whole_shop import NOW, WholeShop, add_what_it_lacks, open_copy

from fitcounter.desk.demo import scenario
from fitcounter.desk.shop import KeptOpen
from fitcounter.papers import pdf


@pytest.fixture(scope="session")
def for_all_workers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that every worker of this run has."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session")
def story(for_all_workers: Path) -> Path:
    """The invented shop up to NOW, played once for all workers; nobody writes to it."""
    shared = for_all_workers
    with (shared / "story.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (shared / "story").exists():
            (shared / "story-begun").mkdir()
            scenario.load(shared / "story-begun", NOW)
            (shared / "story-begun").rename(shared / "story")
    return shared / "story"


@pytest.fixture(scope="session")
def played(story: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with what the story lacks."""
    folder = tmp_path_factory.mktemp("played")
    shutil.copytree(story, folder, dirs_exist_ok=True)
    add_what_it_lacks(folder)
    return folder


@pytest.fixture(scope="session")
def papers_set() -> dict[str, bytes]:
    return {}


@pytest.fixture
def papers_once(
    papers_set: dict[str, bytes], for_all_workers: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[None]:
    """A paper with the same words is set once for all workers: each walk through every address
    asked for the same dozen, which took most of it. That the same page gives the same bytes is
    tested with the papers. Nothing is read or written while the test runs: its disk may fail.
    """
    press, shelf = pdf.PRESS, for_all_workers / "papers"
    shelf.mkdir(exist_ok=True)
    for kept in shelf.glob("*.paper"):
        if kept.stem not in papers_set:
            papers_set[kept.stem] = kept.read_bytes()
    known = set(papers_set)

    class Remembering:
        def do(self, work: Callable[..., object], *given: object) -> object:
            name = hashlib.sha256(pickle.dumps((work, given))).hexdigest()
            if name not in papers_set:
                papers_set[name] = pickle.dumps(press.do(work, *given))
            return pickle.loads(papers_set[name])

    monkeypatch.setattr(pdf, "PRESS", Remembering())
    yield
    for name in set(papers_set) - known:
        begun = shelf / f"{name}.{os.getpid()}"
        begun.write_bytes(papers_set[name])
        begun.rename(shelf / f"{name}.paper")


@pytest.fixture
def whole(played: Path, tmp_path: Path, papers_once: None) -> Iterator[WholeShop]:
    """A copy of it that the test may do anything with."""
    shop = open_copy(played, tmp_path / "whole", connections=KeptOpen)
    yield shop
    shut(shop.app)
    shop.store.close()


@pytest.fixture
def whole_https(played: Path, tmp_path: Path, papers_once: None) -> Iterator[WholeShop]:
    """The same, as it is behind HTTPS."""
    shop = open_copy(played, tmp_path / "whole", https=True, connections=KeptOpen)
    yield shop
    shut(shop.app)
    shop.store.close()
