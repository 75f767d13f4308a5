"""A computer that stands by, without Litestream: the off-site copy is one file, copied."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from support.cast import Clock
from support.ticket_rows import make_job
from support.whole_shop import NOW

from fitcounter.desk.data import stand_by_fetch
from fitcounter.desk.shop import Act, Store
from fitcounter.settings import load_keys
from fitcounter.store import backup


def as_fetched(live: Path, target: Path) -> None:
    """What Litestream does: the file as it was when everything was across."""
    shutil.copyfile(live / "db", target)


def across(store: Store, data_dir: Path, there: Path) -> None:
    """The off-site copy as it stands when all of the shop is in it."""
    live = there / "live-20260317T140000000000Z"
    live.mkdir(parents=True, exist_ok=True)
    copy = live / "db"
    copy.unlink(missing_ok=True)
    store.db.execute(f"VACUUM INTO '{copy}'")
    backup.copy_files(data_dir, there)


@pytest.fixture
def there(store: Store, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("there")
    load_keys(tmp_path)
    make_job(store, Act(NOW, 1), name="Ada Vole")
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"a")
    across(store, tmp_path, made)
    return made


@pytest.fixture
def second(there: Path, clock: Clock, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of a computer that stands by."""
    made = tmp_path_factory.mktemp("second")
    stand_by_fetch.take(made, there, clock.now, as_fetched)
    return made


def files(data_dir: Path) -> dict[str, bytes]:
    folder = stand_by_fetch.copy_folder(data_dir)
    return {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()}
