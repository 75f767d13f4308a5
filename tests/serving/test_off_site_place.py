"""The off-site copy in a network: what is saved is there within seconds with its pictures, who is
erased goes, and a machine with nothing on it becomes the shop again from it.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.followed_shop import across_at, hash_of, needs_litestream, wait_for
from support.open_ssh import needs_sshd, open_ssh
from support.s3_server import s3_server
from support.sftp_server import sftp_server
from support.ticket_rows import make_job

from fitcounter.desk.data import erasure
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data.off_site_settings import FILE, STAGE, OffSite
from fitcounter.desk.shop import Act, Store
from fitcounter.serving import off_site_copy_follows_shop, off_site_place
from fitcounter.settings import load_keys
from fitcounter.store import sftp_files, sftp_known_host

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
CANARY = "Zyxwvut Qqqcanary"
pytestmark = [*needs_litestream, pytest.mark.slow]


@pytest.fixture(params=["s3", "sftp", pytest.param("open-ssh", marks=needs_sshd)])
def place(
    request: pytest.FixtureRequest, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[OffSite]:
    folder = tmp_path_factory.mktemp("there") / "s"
    if request.param == "s3":
        with s3_server(folder) as made:
            yield made
        return
    with (open_ssh if request.param == "open-ssh" else sftp_server)(folder) as server:
        server.let_in(sftp_files.public_key(tmp_path))
        yield server.place()


def test_it_follows_with_pictures_forgets_who_is_erased_and_becomes_the_shop_again(
    store: Store, tmp_path: Path, place: OffSite, tmp_path_factory: pytest.TempPathFactory
):
    keys, job = load_keys(tmp_path), make_job(store, Act(NOW), name="Ada Vole")
    with store.write_tx():
        gone = store.insert(
            "customers",
            name=CANARY,
            name_key=CANARY.casefold(),
            phone_typed="(555) 019-7773",
            created_at="2026-03-17T14:00:00Z",
        )
        store.insert(
            "photos",
            ticket_id=job.ticket_id,
            moment="slip",
            file="b.jpg",
            **dict.fromkeys(("width_px", "height_px", "bytes"), 5),
            content_hash="",
            taken_at="2026-03-17T14:00:00Z",
        )
    (tmp_path / "photos").mkdir()
    for name in ("a.jpg", "b.jpg"):
        (tmp_path / "photos" / name).write_bytes(name.encode())
    there = off_site_place.NetworkPlace(tmp_path, place)
    enough = threading.Event()
    thread = threading.Thread(
        target=off_site_copy_follows_shop.follow, args=(tmp_path, there, enough, 0.1)
    )
    thread.start()
    try:
        wait_for(lambda: across_at(tmp_path))
        files = there.stage.files
        before = {name for name in files.names() if name.startswith("live-")}
        with store.write_tx():
            store.db.execute("UPDATE photos SET erased_at = taken_at WHERE file = 'b.jpg'")
        erasure.erase(store, Act(NOW), gone, CANARY)
        wait_for(
            lambda: not before & set(there.stage.there) and "photos/a.jpg" in there.stage.there
        )
        assert before.isdisjoint(names := set(files.names()))
        assert "photos/a.jpg" in names
        assert "photos/b.jpg" not in names
    finally:
        enough.set()
        thread.join(30)
    new = tmp_path_factory.mktemp("new-machine")
    for name in (sftp_known_host.KEY, f"{sftp_known_host.KEY}.pub"):
        if (tmp_path / name).exists():
            (new / name).write_bytes((tmp_path / name).read_bytes())
            (new / name).chmod(0o600)
    back = off_site_place.of(new, place)
    with off_site_place.brought_here(back):
        told = data_replica.bring_back(back.folder, new, datetime.now(UTC), back.fetch)
    assert "1 tickets" in told
    assert hash_of(new) == hash_of(tmp_path)
    assert load_keys(new) == keys
    assert [one.name for one in (new / "photos").iterdir()] == ["a.jpg"]
    assert (tmp_path / STAGE).stat().st_mode & 0o077 == 0
    assert not (new / FILE).exists()
    assert not (new / STAGE).exists(), "an erasing later would not look there"
