"""Files by SFTP, against a server on the loopback; and what each fault says."""

from __future__ import annotations

import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.own_thread import in_own_thread
from support.sftp_server import SftpServer, sftp_server

from fitcounter.errors import Unavailable
from fitcounter.store import remote_files, sftp_files, sftp_known_host
from fitcounter.store.sftp_files import SftpFiles


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[SftpServer]:
    with sftp_server(tmp_path_factory.mktemp("sshd") / "s") as running:
        yield running


@in_own_thread
def test_files_go_there_come_back_and_go(server: SftpServer, tmp_path: Path):
    server.let_in(sftp_files.public_key(tmp_path))
    files = SftpFiles(server.place(server.root / "a shop"), tmp_path)
    (tmp_path / "with space").write_bytes(b"one")
    there = [
        (tmp_path / "with space", name)
        for name in ("keys.json", "photos/a.jpg", "live-1/shop.json")
    ]
    files.put(there)
    assert files.names() == {"keys.json": 3, "photos/a.jpg": 3, "live-1/shop.json": 3}
    (tmp_path / "with space").write_bytes(b"longer")
    files.put(there[:1])
    files.get([("keys.json", tmp_path / "back")])
    assert (tmp_path / "back").read_bytes() == b"longer"
    level = server.root / "a shop" / "live-1" / "db" / "ltx" / "9"
    level.mkdir(parents=True)
    (level / "1-2.ltx").write_bytes(b"x")
    files.remove(["photos/a.jpg", "photos/never.jpg"])
    files.remove_live("live-1")
    assert files.names() == {"keys.json": 6}
    assert not (server.root / "a shop" / "live-1").exists()


@in_own_thread
def test_a_trial_leaves_nothing_and_learns_the_other_computers_key(
    server: SftpServer, tmp_path: Path
):
    server.let_in(sftp_files.public_key(tmp_path))
    assert sftp_known_host.host_key(tmp_path) == ""
    place = server.place()
    remote_files.try_out(place, tmp_path)
    assert list(Path(place.folder).iterdir()) == []
    public = server.public.read_text(encoding="ascii")
    assert sftp_known_host.host_key(tmp_path) == " ".join(public.split()[:2])
    assert sftp_known_host.fingerprint(tmp_path).startswith("SHA256:")
    assert stat.S_IMODE((tmp_path / sftp_known_host.KEY).stat().st_mode) == 0o600


@in_own_thread
def test_each_fault_is_said_in_a_sentence_that_says_what_to_do(server: SftpServer, tmp_path: Path):
    server.let_in("")
    with pytest.raises(Unavailable, match="authorized_keys there: ssh-ed25519 AAAA"):
        remote_files.try_out(server.place(), tmp_path)
    server.let_in(sftp_files.public_key(tmp_path))
    with pytest.raises(Unavailable, match="Name a folder of that user"):
        remote_files.try_out(server.place(Path("/proc/nobody")), tmp_path)
    (tmp_path / sftp_known_host.KNOWN).write_text(
        f"[127.0.0.1]:{server.port} {sftp_files.public_key(tmp_path)}", encoding="ascii"
    )
    with pytest.raises(Unavailable, match="not the computer it was"):
        remote_files.try_out(server.place(), tmp_path)
    sftp_known_host.forget_host(tmp_path)
    gone = server.place()
    server.port, before = 9, server.port
    with pytest.raises(Unavailable, match="cannot be reached"):
        remote_files.try_out(server.place(), tmp_path)
    server.port = before
    assert gone.where == f"sftp://{gone.user}@127.0.0.1:{before}/{gone.folder}"
