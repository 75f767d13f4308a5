"""A process beside the server ends, dies and is limited without harm to anybody."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from support.bad_work import count, die, eat, refuse, slowly, toil
from support.paths import CHECKOUT, TESTS
from support.processes import comes_true, is_there

from fitcounter import how_far
from fitcounter.errors import BadInput, Unavailable
from fitcounter.papers.own_process import LINE, OwnProcess

FAILED = "It failed here."


@pytest.fixture
def own() -> Iterator[OwnProcess]:
    process = OwnProcess("Others wait.", FAILED, most_mb=512, longest_s=30)
    yield process
    process.end()


def test_it_starts_at_the_first_need_and_stays_for_the_next(own: OwnProcess) -> None:
    assert own.pid is None
    first = own.do(os.getpid)
    assert first == own.pid != os.getpid()
    assert own.do(os.getpid) == first


def test_an_error_on_purpose_comes_back_whole_and_ends_nothing(own: OwnProcess) -> None:
    with pytest.raises(BadInput) as refused:
        own.do(refuse, "photo")
    assert (refused.value.sentence, refused.value.typed, refused.value.field) == (
        "This cannot be taken.",
        "x",
        "photo",
    )
    assert own.pid == own.do(os.getpid)


def test_whoever_waits_is_told_how_far_it_is_and_nobody_else(own: OwnProcess) -> None:
    told: list[tuple[str, int, int]] = []
    assert own.do(count, 2) == 2
    with how_far.told_to(lambda *step: told.append(step)):
        assert own.do(count, 2) == 2
    assert [what for what, _, _ in told[:2]] == ["Waiting until others are done", "Making ready"]
    assert told[2:] == [("Counting", 0, 2), ("Counting", 1, 2), ("Counting", 2, 2)]


def test_work_that_kills_its_process_is_a_sentence_and_the_next_finds_a_new_one(
    own: OwnProcess,
) -> None:
    before = own.do(os.getpid)
    with pytest.raises(Unavailable, match=FAILED):
        own.do(die)
    assert own.pid is None
    assert own.do(os.getpid) != before


@pytest.mark.parametrize("work", [toil, time.sleep])
def test_work_beyond_its_time_is_ended_with_its_process(work: Callable[[float], None]) -> None:
    """Both of the processor's and of the clock's, of which it may have more."""
    own = OwnProcess("", FAILED, most_mb=512, longest_s=0.4)
    before = own.do(os.getpid)
    with pytest.raises(Unavailable, match=FAILED):
        own.do(work, 600)
    assert comes_true(lambda: not is_there(before))
    assert own.do(os.getpid) != before
    own.end()


def test_work_that_wants_more_memory_than_it_may_have_is_a_sentence(own: OwnProcess) -> None:
    assert own.do(eat, 64) == 64 * 1024 * 1024
    with pytest.raises(Unavailable, match=FAILED):
        own.do(eat, 1024)
    assert own.do(eat, 64) == 64 * 1024 * 1024


def test_it_does_one_thing_at_a_time_and_who_waits_is_not_harmed_by_who_dies(
    own: OwnProcess, tmp_path: Path
) -> None:
    at_it = str(tmp_path / "at-it")

    def ask(n: int) -> object:
        try:
            return own.do(die) if n % 3 == 0 else own.do(slowly, at_it, 0.05)
        except Unavailable as why:
            return why.sentence

    with ThreadPoolExecutor(LINE) as people:
        answers = list(people.map(ask, range(LINE)))
    assert answers == [FAILED, True, True, FAILED, True]


def test_who_waits_too_long_for_others_is_told_so(
    own: OwnProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitcounter.papers.own_process.WAIT_S", 0.1)
    own.do(os.getpid)
    other = threading.Thread(target=own.do, args=(time.sleep, 1))
    other.start()
    assert comes_true(lambda: bool(own._line._line))
    with pytest.raises(Unavailable, match="Others wait"):
        own.do(os.getpid)
    other.join()


def test_a_process_that_ended_while_nothing_was_asked_is_missed_by_nobody(
    own: OwnProcess,
) -> None:
    """As where the system ran out of memory and chose it."""
    before = own.do(os.getpid)
    os.kill(before, signal.SIGKILL)
    assert own._beside is not None
    own._beside.process.wait()
    assert own.do(os.getpid) != before


def test_a_process_that_hangs_as_it_starts_is_ended_as_well(
    own: OwnProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also one that takes nothing of a long piece of work."""
    own.longest_s = 0.1
    before = own.do(os.getpid)
    os.kill(before, signal.SIGSTOP)
    with pytest.raises(Unavailable, match=FAILED):
        own.do(len, bytes(4 * 1024 * 1024))
    own.longest_s = 30
    assert own.do(os.getpid) != before


def test_a_server_that_closes_waits_for_no_work(own: OwnProcess) -> None:
    """Whoever asked reads a sentence, and so do those who wait."""
    before = own.do(os.getpid)
    with ThreadPoolExecutor(3) as people:
        asked = [people.submit(own.do, time.sleep, 600) for _ in range(3)]
        assert comes_true(lambda: len(own._line._line) == 3)
        own.stop()
        refused = [one.exception(timeout=20) for one in asked]
    assert all(isinstance(one, Unavailable) for one in refused)
    assert comes_true(lambda: not is_there(before))


def test_it_ends_when_nothing_is_asked_for_a_while() -> None:
    own = OwnProcess("", FAILED, most_mb=512, longest_s=30, idle_s=0.3)
    before = own.do(os.getpid)
    assert comes_true(lambda: own.pid is None and not is_there(before))
    assert own.do(os.getpid) != before
    own.end()


WHOLE_SERVER = """
import sys
from pathlib import Path
from fitcounter.desk.front_desk import photos
from fitcounter.papers.records import Letterhead, TagLabel, TagSheet
from fitcounter.papers.tag import tags
import fitcounter.web
label = TagLabel("41", "7K3M9QXWE", "https://b.example/t/7")
pdf = tags(TagSheet(Letterhead("Bench", ""), (label,)))
photo = photos.clean(Path(sys.argv[1]).read_bytes())
print(pdf[:5], photo.width_px)
print(sorted({"weasyprint", "PIL", "qrcode", "cffi", "holidays"} & set(sys.modules)))
"""


def test_a_process_that_makes_papers_codes_and_photos_loads_no_library_for_them() -> None:
    """Neither what sets pages, nor what reads pictures, nor what makes codes."""
    picture = CHECKOUT / "seed_scenario" / "pictures" / "shop.webp"
    done = subprocess.run(
        [sys.executable, "-c", WHOLE_SERVER, str(picture)],
        cwd=CHECKOUT,
        env={**os.environ, "PYTHONPATH": str(TESTS)},
        capture_output=True,
        text=True,
        timeout=120,
    )
    made, loaded = done.stdout.splitlines()
    assert made.startswith("b'%PDF-' ")
    assert loaded == "[]", done.stderr
