"""What the processes beside a served shop may suffer, and what its people then see."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.error
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from support.pictures import picture
from support.processes import comes_true, is_there
from support.served_demo import Visitor, beside, served

from fitcounter.papers.own_process import LINE
from fitcounter.serving.server import THREADS

LONG, SHORT = "guide.pdf", "papers/rulers.pdf"
FAILED = "This paper could not be made. Try again."


@dataclass(frozen=True, slots=True)
class Open:
    """A served shop. program: its server. visitor: somebody signed in."""

    program: subprocess.Popen[str]
    visitor: Visitor

    def press(self) -> int:
        """The process that sets the papers, once it is there and at work."""
        assert comes_true(lambda: bool(beside(self.program.pid)), 60)
        return next(iter(beside(self.program.pid)))

    def answer(self, path: str) -> tuple[int, str]:
        """Code, and the page where it is one."""
        try:
            return 200, self.visitor.get(path).decode("latin-1")
        except urllib.error.HTTPError as error:
            return error.code, error.read().decode()


@pytest.fixture
def folder(story: Path, tmp_path: Path) -> Path:
    """A shop of the test's own, as the demo would have loaded it."""
    shutil.copytree(story, tmp_path / "shop" / "demo")
    return tmp_path / "shop"


@contextmanager
def opened(folder: Path) -> Iterator[Open]:
    with served(folder) as (program, address):
        visitor = Visitor(address)
        visitor.sign_in()
        yield Open(program, visitor)


pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")


def test_a_paper_that_kills_its_process_harms_nobody(folder: Path) -> None:
    """A sentence for whoever asked; those who wait get theirs, photos go on, the next is made."""
    with opened(folder) as shop, ThreadPoolExecutor(3) as people:
        assert shop.answer(SHORT)[0] == 200
        press = shop.press()
        os.kill(press, signal.SIGSTOP)  # so that it is in the middle of it for sure
        begun = people.submit(shop.answer, LONG)
        time.sleep(0.5)
        waits = people.submit(shop.answer, SHORT)
        shop.visitor.send_photo(1, picture())
        os.kill(press, signal.SIGKILL)

        code, page = begun.result()
        assert code == 503
        assert FAILED in page
        assert waits.result()[0] == 200
        code, pdf = shop.answer(LONG)
        assert (code, pdf[:5]) == (200, "%PDF-")


def test_who_asks_for_papers_keeps_nobody_from_the_pages(folder: Path) -> None:
    """While one hangs and more people ask than there are threads, pages come; who is too many is
    told at once.
    """
    with opened(folder) as shop, ThreadPoolExecutor(THREADS + 2) as people:
        assert shop.answer(SHORT)[0] == 200
        press = shop.press()
        os.kill(press, signal.SIGSTOP)
        asked = [people.submit(shop.answer, SHORT) for _ in range(THREADS + 2)]
        assert comes_true(lambda: sum(one.done() for one in asked) == THREADS + 2 - LINE, 60)
        assert {one.result()[0] for one in asked if one.done()} == {503}
        assert shop.answer("bench")[0] == 200
        os.kill(press, signal.SIGCONT)
        assert sum(one.result()[0] == 200 for one in asked) == LINE


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_nothing_outlives_a_server_that_ends_in_the_middle_of_a_paper(
    folder: Path, how: signal.Signals
) -> None:
    with opened(folder) as shop, ThreadPoolExecutor(1) as people:
        shop.visitor.send_photo(1, picture())
        pictures = shop.press()
        asked = people.submit(shop.answer, LONG)
        assert comes_true(lambda: len(beside(shop.program.pid)) == 2, 60)
        children = list(beside(shop.program.pid))
        shop.program.send_signal(how)
        shop.program.wait(timeout=30)
        assert pictures in children
        assert comes_true(lambda: not any(is_there(child) for child in children), 20)
        assert ended_in_order(asked) == (how == signal.SIGTERM)


def test_a_server_told_to_close_waits_for_no_paper_that_hangs(folder: Path) -> None:
    """Also those in the line behind it read a sentence, and the server ends with code 0."""
    with opened(folder) as shop, ThreadPoolExecutor(3) as people:
        asked = [people.submit(shop.answer, LONG)]
        press = shop.press()
        os.kill(press, signal.SIGSTOP)
        asked += [people.submit(shop.answer, SHORT) for _ in range(2)]
        time.sleep(0.5)
        shop.program.terminate()
        assert shop.program.wait(timeout=30) == 0
        assert [one.result()[0] for one in asked] == [503, 503, 503]
        assert not is_there(press)


def ended_in_order(asked: Future[tuple[int, str]]) -> bool:
    """Whether an answer came, of whatever code; not where the connection ended without one."""
    try:
        return bool(asked.result()[0])
    except OSError:
        return False
