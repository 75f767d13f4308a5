"""A file is opened by this program or refused in a sentence, and by nobody else."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitcounter.errors import Unavailable
from fitcounter.store.database import dbapi
from fitcounter.store.opening import open_store


def test_a_foreign_file_and_a_newer_one_are_refused(tmp_path: Path):
    foreign = dbapi.connect(str(tmp_path / "foreign.db"))
    foreign.execute("CREATE TABLE t (x)")
    foreign.commit()
    foreign.close()
    with pytest.raises(Unavailable, match="not a file of this program"):
        open_store(tmp_path / "foreign.db")

    newer = open_store(tmp_path / "newer.db")
    newer.db.execute(
        "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('fitcounter',"
        " 'm9999_later', '')"
    )
    newer.close()
    with pytest.raises(Unavailable, match="newer version"):
        open_store(tmp_path / "newer.db")


def test_opening_twice_changes_nothing(tmp_path: Path):
    open_store(tmp_path / "shop.db").close()
    before = (tmp_path / "shop.db").read_bytes()
    open_store(tmp_path / "shop.db").close()
    assert (tmp_path / "shop.db").read_bytes() == before


def test_nobody_else_on_the_machine_reads_the_shops_file(tmp_path: Path):
    """Neither it nor its log, whatever the umask; an older file is brought to it, a foreign one is
    left as it is.
    """
    before = os.umask(0o022)
    try:
        store = open_store(tmp_path / "shop.db")
        assert {oct(file.stat().st_mode & 0o777) for file in tmp_path.iterdir()} == {"0o600"}
        store.close()
    finally:
        os.umask(before)
    (tmp_path / "shop.db").chmod(0o644)
    open_store(tmp_path / "shop.db").close()
    assert (tmp_path / "shop.db").stat().st_mode & 0o777 == 0o600

    (tmp_path / "other.db").write_bytes(b"somebody else's")
    (tmp_path / "other.db").chmod(0o644)
    with pytest.raises(Unavailable):
        open_store(tmp_path / "other.db")
    assert (tmp_path / "other.db").stat().st_mode & 0o777 == 0o644
