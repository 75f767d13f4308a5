"""Server, replicator and Litestream killed with -9: what is noted as across is across, and a dead
machine takes two seconds of saves along at most.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
import system.losses as seen_losses
from support.followed_shop import (
    across_at,
    all_across,
    bring_back,
    followed,
    hash_of,
    needs_litestream,
    wait_for,
)
from support.paths import CHECKOUT
from support.ticket_rows import make_job

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data.off_site_settings import FOLDER, OffSite
from fitcounter.desk.shop import Act, Store
from fitcounter.store import job_log

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
pytestmark = needs_litestream


def test_what_is_noted_as_across_is_across_when_both_processes_are_killed(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    line = [
        sys.executable,
        "-m",
        "fitcounter",
        "replicate",
        "--data",
        str(tmp_path),
        "--to",
        str(second),
    ]
    program = subprocess.Popen(line, cwd=CHECKOUT, stdout=subprocess.PIPE, text=True)
    assert program.stdout is not None
    assert "follows the shop" in program.stdout.readline()
    wait_for(lambda: across_at(tmp_path))
    make_job(store, Act(NOW), name="Ada Vole")
    all_across(tmp_path)
    os.kill(program.pid, signal.SIGKILL)
    program.wait()
    program.stdout.close()
    bring_back(second, new)
    back = Store(new / "shop.db")
    assert back.value("SELECT name FROM customers") == "Ada Vole"
    back.close()


def test_it_follows_on_after_litestream_died(store: Store, tmp_path: Path, second: Path, new: Path):
    with followed(tmp_path, second):
        first = data_replica.live_folders(second)[0]
        mine = [
            int(one.parent.name)
            for one in Path("/proc").glob("[0-9]*/cmdline")
            if str(tmp_path / "litestream.yml") in _words(one)
        ]
        assert len(mine) == 1
        os.kill(mine[0], signal.SIGKILL)
        wait_for(lambda: job_log.read(tmp_path, job_log.SECOND)[data_replica.NAME].fault)
        make_job(store, Act(NOW), name="Ada Vole")
        wait_for(lambda: data_replica.live_folders(second)[0] != first)
        all_across(tmp_path)
        assert job_log.read(tmp_path, job_log.SECOND)[data_replica.NAME].fault == ""
    bring_back(second, new)
    assert hash_of(new) == hash_of(tmp_path)


def _words(one: Path) -> str:
    try:
        return one.read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""


LONGEST_S = 2.0


def lose(store: Store, data_dir: Path, second: Path, new: Path, kills: int) -> None:
    job = make_job(store, Act(NOW, 1), state="shelved")
    losses = seen_losses.measure(
        data_dir, job.ticket_id, OffSite(kind=FOLDER, folder=str(second)), new, kills
    )
    print(losses.words())
    assert max(losses.windows) <= LONGEST_S, losses.words()
    assert losses.holes == 0, "what is brought back is the shop as it was at one moment"
    assert losses.answered >= kills


def test_a_dead_machine_takes_two_seconds_of_saves_along_at_most(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    lose(store, tmp_path, second, new, kills=1)


@pytest.mark.slow
def test_forty_dead_machines_take_two_seconds_of_saves_along_at_most(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    lose(store, tmp_path, second, new, kills=40)
