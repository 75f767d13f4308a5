"""A restore keeps everybody out, and one that is cut off leaves the old shop or the copy."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fitcounter import how_far
from fitcounter.errors import Conflict, Unavailable
from fitcounter.store import backup, integrity, open_files, restoring
from fitcounter.store.database import Act, Store, Written, dbapi
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
STEPS = ("os.rename", "os.remove")  # what a restore does to the folder, one after the other


@pytest.fixture
def copy(tmp_path: Path) -> backup.Copy:
    """Of a shop that went on: one more row stands in its file now."""
    store = open_store(tmp_path / "shop.db")
    save(store, "in the copy")
    made = backup.make(tmp_path, tmp_path / "copies", NOW)
    save(store, "after it")
    store.close()
    return made


def save(store: Store, what: str) -> None:
    store.once(Act(NOW), what, lambda: Written())


def saves(path: Path) -> list[str]:
    store = open_store(path)
    try:
        return [str(row["what"]) for row in store.rows("SELECT what FROM audit ORDER BY id")]
    finally:
        store.close()


def in_child(work: Callable[[], object], at_step: Callable[[int], object]) -> int:
    """Does work in a child process, which calls at_step before each step on the folder. Returns
    its exit code.
    """
    child = os.fork()
    if child == 0:
        steps = [0]

        def watch(event: str, _: tuple[object, ...]) -> None:
            if event in STEPS:
                steps[0] += 1
                at_step(steps[0])

        sys.addaudithook(watch)
        try:
            work()
        except BaseException:
            os._exit(1)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def die_at(n: int) -> Callable[[int], object]:
    return lambda step: os._exit(9) if step == n else None


def test_killed_at_any_step_it_leaves_the_old_shop_or_the_copy_and_never_an_empty_one(
    tmp_path: Path, copy: backup.Copy
) -> None:
    """Killed before each rename and each removal; what lies there is opened as `serve` does it."""
    old, brought_back = ["in the copy", "after it"], ["in the copy"]
    for n in range(1, 30):
        code = in_child(lambda: restoring.restore(copy.path, tmp_path, NOW), die_at(n))
        assert saves(tmp_path / "shop.db") in (old, brought_back), f"killed before step {n}"
        assert not (tmp_path / restoring.MARK).exists()
        if code == 0:
            break
        assert code == 9
        store = open_store(tmp_path / "shop.db")
        if saves(tmp_path / "shop.db") == brought_back:
            save(store, "after it")
        store.close()
    assert n > 3
    assert saves(tmp_path / "shop.db") == brought_back


def test_killed_while_it_finishes_it_is_finished_the_next_time(
    tmp_path: Path, copy: backup.Copy
) -> None:
    """The compound of two: the first start after the kill is killed too."""
    for first in (3, 4):
        in_child(lambda: restoring.restore(copy.path, tmp_path, NOW), die_at(first))
        for n in (1, 2, 3):
            in_child(lambda: restoring.finish(tmp_path), die_at(n))
        assert saves(tmp_path / "shop.db") in (["in the copy"], ["in the copy", "after it"])


def test_nothing_is_saved_into_the_file_that_is_moved_aside(
    tmp_path: Path, copy: backup.Copy
) -> None:
    """At every step of a restore somebody tries to open the shop and save: refused each time, in
    words, and the copy stands there as it was.
    """

    def try_to_save(_: int) -> None:
        store = None
        try:
            store = Store(tmp_path / "shop.db")
            save(store, "lost")
        except Unavailable as error:
            if "restored from a copy" in error.sentence:
                return
        except dbapi.Error:
            pass
        os._exit(7)

    assert in_child(lambda: restoring.restore(copy.path, tmp_path, NOW), try_to_save) == 0
    assert saves(tmp_path / "shop.db") == ["in the copy"]


def test_a_shop_that_anybody_has_open_is_not_restored_over(
    tmp_path: Path, copy: backup.Copy
) -> None:
    """Also while nobody writes, and also another process."""
    store = open_store(tmp_path / "shop.db")
    refused = in_child(lambda: restoring.restore(copy.path, tmp_path, NOW), lambda _: None)
    with pytest.raises(Conflict, match="Stop it first"):
        restoring.restore(copy.path, tmp_path, NOW)
    assert refused == 1
    store.close()
    assert restoring.restore(copy.path, tmp_path, NOW).content_hash == copy.content_hash


def test_while_one_restore_is_at_it_another_waits_for_nobody(
    tmp_path: Path, copy: backup.Copy
) -> None:
    with open_files.shut(tmp_path / "shop.db") as alone:
        assert alone
        with pytest.raises(Conflict, match="Stop it first"):
            restoring.restore(copy.path, tmp_path, NOW)


def test_a_copy_that_never_came_to_its_place_is_gone_after_a_day(
    tmp_path: Path, copy: backup.Copy
) -> None:
    draft = tmp_path / restoring.DRAFT
    draft.write_bytes(copy.path.read_bytes())
    os.utime(draft, (NOW.timestamp(), NOW.timestamp()))
    restoring.expire_aside(tmp_path, NOW)
    assert draft.exists()
    restoring.expire_aside(tmp_path, NOW.replace(day=19))
    assert not draft.exists()
    assert integrity.look(copy.path, copy.content_hash).sound


def test_whoever_waits_for_a_restore_sees_how_far_it_is(
    tmp_path: Path, copy: backup.Copy, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []

    def told(what: str, done: int, of: int) -> None:
        seen.append(restoring.stands(tmp_path))

    assert restoring.stands(tmp_path) is None
    monkeypatch.setattr(restoring, "COPIED_AT_ONCE", copy.path.stat().st_size // 3)
    with how_far.told_to(told):
        restoring.restore(copy.path, tmp_path, NOW)
    assert (backup.COPYING, 33, 100) in seen
    what, done, _ = seen[-1]
    assert what == integrity.READING
    assert 90 < done < 100, "the one before the last is the last that is noted by then"
    assert restoring.stands(tmp_path) is None
    with open_files.shut(tmp_path / "shop.db"):
        (tmp_path / open_files.LOCK).write_text("no note", encoding="utf-8")
        assert restoring.stands(tmp_path) == (backup.COPYING, 0, 1)
    assert restoring.stands(tmp_path / "nowhere") is None
