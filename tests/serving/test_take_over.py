"""A second computer takes the shop over with one command; the first, still running, stops."""

from __future__ import annotations

import signal
import threading
from pathlib import Path

import pytest
from support.followed_shop import across_at, needs_litestream, wait_for

from fitcounter.cli.main import main
from fitcounter.desk.data import off_site_settings, take_over
from fitcounter.desk.shop import Store
from fitcounter.errors import Conflict
from fitcounter.serving import off_site_copy_follows_shop, off_site_process
from fitcounter.serving.off_site_place import ReplicaPlace
from fitcounter.store import integrity

pytestmark = [*needs_litestream, pytest.mark.slow]


def test_it_has_every_save_and_the_one_before_stops_and_stays_stopped(
    store: Store, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
):
    there, new = tmp_path_factory.mktemp("there"), tmp_path_factory.mktemp("new")
    stopped = threading.Event()
    ended: list[BaseException] = []

    def follow() -> None:
        try:
            off_site_copy_follows_shop.follow(
                tmp_path, ReplicaPlace(tmp_path, there, str(there)), stopped, 0.1
            )
        except Conflict as error:
            ended.append(error)

    before = signal.signal(signal.SIGTERM, lambda *_: stopped.set())
    thread = threading.Thread(target=follow)
    thread.start()
    try:
        wait_for(lambda: across_at(tmp_path))
        assert main(["take-over", "--from", str(there), "--data", str(new)]) == 0
        with off_site_process.following(tmp_path, look_s=0.05):
            wait_for(stopped.is_set)
        thread.join(30)
    finally:
        stopped.set()
        thread.join(30)
        signal.signal(signal.SIGTERM, before)
    assert "took this shop over" in str(ended[0])
    assert main(["serve", "--data", str(tmp_path), "--port", "0"]) != 0
    kept = off_site_settings.read(new)
    assert kept is not None
    assert kept.folder == str(there)
    assert not (new / take_over.LOST).exists()
    copy = Store(new / "shop.db")
    try:
        assert integrity.content_hash(copy) == integrity.content_hash(store)
    finally:
        copy.close()
