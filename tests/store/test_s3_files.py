"""Files in an S3-compatible store, against one that answers; and what each fault says."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.s3_server import elsewhere, place, s3_server

from fitcounter.desk.data.off_site_settings import OffSite
from fitcounter.errors import Unavailable
from fitcounter.store import remote_files
from fitcounter.store.s3_files import S3Files


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OffSite]:
    with s3_server(tmp_path_factory.mktemp("s3") / "s") as running:
        yield running


def test_files_go_there_come_back_and_go(
    store: OffSite, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("AWS_SKIP_SIGNATURE", "true")  # the environment has no say
    files = S3Files(store)
    (tmp_path / "one").write_bytes(b"one")
    names = ("keys.json", "photos/a b.jpg", "live-1/shop.json", "live-1/db/ltx/0/1-1.ltx")
    files.put((tmp_path / "one", name) for name in names)
    assert files.names() == {"keys.json": 3, "photos/a b.jpg": 3, "live-1/shop.json": 3}
    files.get([("photos/a b.jpg", tmp_path / "back")])
    assert (tmp_path / "back").read_bytes() == b"one"
    files.remove(["photos/a b.jpg", "photos/never.jpg"])
    files.remove_live("live-1")
    assert files.names() == {"keys.json": 3}
    with pytest.raises(Unavailable, match="404"):
        files.get([("live-1/db/ltx/0/1-1.ltx", tmp_path / "back")])
    remote_files.try_out(store, tmp_path)
    assert files.names() == {"keys.json": 3}


def test_each_fault_is_said_in_a_sentence_that_says_what_to_do(store: OffSite, tmp_path: Path):
    with pytest.raises(Unavailable, match="There is no bucket nobodys there"):
        remote_files.try_out(dataclasses.replace(store, bucket="nobodys"), tmp_path)
    with pytest.raises(Unavailable, match=r"refuses these keys \(InvalidAccessKeyId"):
        remote_files.try_out(dataclasses.replace(store, key="AKIAWRONG"), tmp_path)
    with pytest.raises(Unavailable, match="the network there"):
        remote_files.try_out(place(9), tmp_path)
    with pytest.raises(FileNotFoundError):
        S3Files(store).put([(tmp_path / "lost.jpg", "photos/lost.jpg")])


def test_a_store_that_sends_elsewhere_is_not_followed_with_the_keys(tmp_path: Path):
    (tmp_path / "one").write_bytes(b"one")
    with elsewhere() as (sends, heard):
        files = S3Files(sends)
        with pytest.raises(Unavailable, match="answers 307"):
            files.put([(tmp_path / "one", "keys.json")])
        files.get([("keys.json", tmp_path / "back")])
    assert heard == [""], "one reading, and nothing that signs it"
