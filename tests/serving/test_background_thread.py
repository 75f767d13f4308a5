"""The thread beside the server: it does what is due while pages are answered, and never takes the
server down.
"""

from __future__ import annotations

import time
from datetime import UTC, datetime
from pathlib import Path
from urllib.request import urlopen

import pytest
from support.cast import Clock
from support.served_shop import open_shop

from fitcounter.desk.data import nightly_copy_and_evening_sheet as nightly
from fitcounter.desk.shop import Store
from fitcounter.errors import Conflict
from fitcounter.serving import background_thread
from fitcounter.settings import Settings
from fitcounter.store import backup, job_log, restoring

EVENING_AT = datetime(2026, 3, 17, 23, 0, tzinfo=UTC)


def wait_for(seen: object, until_s: float = 20) -> None:
    end = time.monotonic() + until_s
    while not seen():  # type: ignore[operator]
        assert time.monotonic() < end, "it never came"
        time.sleep(0.02)


def test_beside_an_open_shop_the_copy_and_the_sheet_come_by_themselves(
    store: Store, tmp_path: Path, clock: Clock
):
    clock.now = EVENING_AT
    with (
        open_shop(tmp_path, clock) as address,
        background_thread.keeping(Settings(data_dir=tmp_path), clock, look_s=0.05),
    ):
        wait_for(lambda: set(job_log.read(tmp_path)) == {nightly.EVENING, nightly.COPY})
        with urlopen(f"{address}/sign-in") as page:
            assert page.status == 200
    assert len(backup.copies(tmp_path / "copies")) == 1
    assert len(list((tmp_path / job_log.EVENINGS).iterdir())) == 1


def test_whatever_goes_wrong_the_thread_looks_again(
    store: Store,
    tmp_path: Path,
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
):
    """Even what cannot be noted, such as a folder that is gone: one line for whoever looks after
    the machine, without a name.
    """
    looks: list[datetime] = []

    def stop(data_dir: Path, folder: Path | None, now: datetime) -> list[str]:
        looks.append(now)
        raise PermissionError(13, "a secret", "of Ada Vole")

    monkeypatch.setattr(nightly, "keep", stop)
    with background_thread.keeping(Settings(data_dir=tmp_path), clock, look_s=0.01):
        wait_for(lambda: len(looks) >= 3)
    told = capsys.readouterr().err
    assert "PermissionError" in told
    assert "Ada" not in told


def test_a_shop_that_is_served_is_not_restored_over(store: Store, tmp_path: Path, clock: Clock):
    """Also while nobody writes: whoever serves it says so to everybody on the machine."""
    copy = backup.make(tmp_path, tmp_path / "copies", clock.now)
    with (
        background_thread.keeping(Settings(data_dir=tmp_path), clock),
        pytest.raises(Conflict, match="Stop it first"),
    ):
        restoring.restore(copy.path, tmp_path, clock.now)
    store.close()
    assert restoring.restore(copy.path, tmp_path, clock.now).sound
