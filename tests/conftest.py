"""The small cast of the tests: counter, bench, owner, a stranger; and a driver, so that tests read
as the counter talks.
"""

from __future__ import annotations

import ctypes
import gc
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from zlib import crc32

import pytest
from flask import Flask
from playwright.sync_api import sync_playwright
from support.bench_cast import Pair, pair, tree
from support.cast import CAST, PASSPHRASE, Clock, Counter
from support.compiled_once import TemplatesOnce, bind_once
from support.one_application import serving, shut
from support.one_chromium import OneChromium, browser_path
from support.paths import TESTS
from support.played_once import (
    for_all_workers,
    papers_once,
    papers_set,
    played,
    story,
    whole,
    whole_https,
)
from werkzeug.routing import Rule

from fitcounter.desk import shop
from fitcounter.desk.shop import Act, Store, open_store
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.settings import PROGRAM, Settings
from fitcounter.web.offline import app_shell

__all__ = [
    "for_all_workers",
    "papers_once",
    "papers_set",
    "played",
    "story",
    "whole",
    "whole_https",
]


def pytest_collection() -> None:
    """Next to nothing of 7,000 tests that are being found can be thrown away: looking for it took
    a fifth of the finding.
    """
    gc.disable()


def pytest_collection_finish() -> None:
    """What is there before the first test stays to the end: looked through again and again for
    what nobody uses any more, it took a third of a test of a page.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes long begins first: last, it would keep one worker busy while the others are
    done.
    """
    items.sort(key=lambda item: _turn(item.path.relative_to(TESTS)))


# What every page stands on: its tests ask the whole program.
REST = 3
UNDER_ALL_PAGES = ("web", "guards", "offline", "forms", "pages", "responses")


def _turn(file: Path) -> tuple[int, int]:
    """Its place, and among the rest a turn by its name alone: the files of one room wait for the
    same things, one after another they left a core idle.
    """
    place = _place(file)
    return place, crc32(file.as_posix().encode()) if place == REST else 0


def _place(file: Path) -> int:
    """The walk through every page, then the rooms whose single tests take long, then what starts
    programs and what walks through the whole shop, then the rest.
    """
    if file.name == "test_every_page.py":
        return 0
    if file.parts[0] in ("browser", "papers", "first_run"):
        return 1
    under_all_pages = file.parts[0] == "web" and file.parent.name in UNDER_ALL_PAGES
    return 2 if len(file.parts) == 1 or file.parts[0] == "system" or under_all_pages else REST


@pytest.fixture(scope="session")
def chromium() -> Iterator[OneChromium]:
    """One Chromium for a whole worker."""
    path = browser_path()
    if path is None:
        pytest.skip(
            "no Chromium on this machine: install the package chromium to run the browser tests"
        )
    try:
        ctypes.CDLL("libatomic.so.1")
    except OSError:
        pytest.skip(
            "what drives Chromium cannot start on this machine: install the package libatomic1 to"
            " run the browser tests"
        )
    with sync_playwright() as playwright:
        browser = OneChromium(playwright, path)
        yield browser
        browser.close()


@pytest.fixture(scope="session", autouse=True)
def light_hashes() -> Iterator[str]:
    """Passphrases and PINs are hashed in the shop's way at a thousandth of its cost: a thousand
    sign-ins took a third of the whole run.
    """
    real, passphrase_and_pin.POLICY = passphrase_and_pin.POLICY, "scrypt:16:8:1"
    yield real
    passphrase_and_pin.POLICY = real


@pytest.fixture(scope="session", autouse=True)
def environment_of_a_shop() -> Iterator[None]:
    """Programs started beside a test find what a shop has: numpy and pandas, brought by the tests'
    data sets alone, took most of each start.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYTHONPATH", str(TESTS / "support" / "shop_environment"))
        yield


@pytest.fixture(scope="session", autouse=True)
def templates_once() -> Iterator[None]:
    """A template is compiled once for a whole worker, not once for the application of each test."""
    with pytest.MonkeyPatch.context() as patch:
        once = TemplatesOnce()
        patch.setattr(Flask, "jinja_options", {"bytecode_cache": once})
        patch.setattr("fitcounter.web.CompiledPages", lambda: once)
        yield


@pytest.fixture(scope="session", autouse=True)
def addresses_once() -> Iterator[None]:
    """So is an address: compiling two hundred of them took most of the making of an application."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Rule, "bind", bind_once())
        yield


@pytest.fixture(scope="session", autouse=True)
def version_once() -> Iterator[None]:
    """So is the version of what a phone keeps: it hashed all its files for each application."""
    known, real = app_shell.version(PROGRAM), app_shell.version
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(app_shell, "version", lambda root: known if root == PROGRAM else real(root))
        yield


@pytest.fixture
def real_hashes(light_hashes: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """… but for tests that are about the hash."""
    monkeypatch.setattr(passphrase_and_pin, "POLICY", light_hashes)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def hashed(light_hashes: str) -> str:
    """One hash for the whole run."""
    return passphrase_and_pin.hash_secret(PASSPHRASE)


@pytest.fixture(scope="session")
def new_shop(tmp_path_factory: pytest.TempPathFactory, hashed: str) -> Path:
    """A folder whose file has the cast in it: made once, copied for each test."""
    folder = tmp_path_factory.mktemp("new")
    opened, now = open_store(folder / "shop.db"), Clock().now
    with opened.write_tx():
        for initials, (name, role) in CAST.items():
            opened.insert(
                "staff",
                name=name,
                initials=initials,
                role=role,
                passphrase_hash=hashed,
                created_at="2026-01-01T00:00:00Z",
            )
    shop.choose(
        opened,
        Act(now),
        name="Quillmarsh Leather Bench",
        phone="(555) 010-0199",
        zone="America/New_York",
    )
    opened.close()
    return folder


@pytest.fixture
def store(tmp_path: Path, new_shop: Path) -> Iterator[Store]:
    """A real file with the cast in it."""
    shutil.copytree(new_shop, tmp_path, dirs_exist_ok=True)
    opened = Store(tmp_path / "shop.db")
    yield opened
    opened.close()


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    """A pair that waits for the bench, and a tree for each of its boots."""
    tree(store, "4")
    tree(store, "5", "right")
    return pair(store, Act(clock.now))


@pytest.fixture
def app(store: Store, tmp_path: Path, clock: Clock) -> Iterator[Flask]:
    app = serving(Settings(data_dir=tmp_path, testing=True), clock)
    yield app
    shut(app)


@pytest.fixture
def somebody(app: Flask, clock: Clock) -> Callable[[str], Counter]:
    """Signs in one of the cast: CO, BE, OW; '' is the stranger."""

    def make(initials: str) -> Counter:
        one = Counter(app.test_client(), initials, clock=clock if initials else None)
        return one.let_in() if initials else one

    return make


@pytest.fixture
def counter(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("CO")


@pytest.fixture
def bench(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("BE")


@pytest.fixture
def owner(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("OW")


@pytest.fixture
def stranger(somebody: Callable[[str], Counter]) -> Counter:
    return somebody("")
