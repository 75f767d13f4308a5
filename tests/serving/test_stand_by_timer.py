"""A second computer follows the off-site copy, wherever it is, and becomes the shop with one
command.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.cast import PASSPHRASE
from support.followed_shop import across_at, all_across, needs_litestream, wait_for
from support.open_ssh import needs_sshd, open_ssh
from support.paths import CHECKOUT
from support.s3_server import s3_server
from support.sftp_server import sftp_server
from support.ticket_rows import make_job
from system.killed_shop import Phone
from system.losses import answers

from fitcounter.cli.main import main
from fitcounter.desk.data import off_site_settings, stand_by_fetch
from fitcounter.desk.data.off_site_settings import FOLDER, STAGE, OffSite
from fitcounter.desk.shop import Act, Store
from fitcounter.errors import Conflict
from fitcounter.serving import off_site_copy_follows_shop, off_site_place, server
from fitcounter.serving import stand_by_timer as serving_stand_by
from fitcounter.settings import load_keys
from fitcounter.store import sftp_files, sftp_known_host

pytestmark = [*needs_litestream, pytest.mark.slow]
KINDS = ["folder", "s3", "sftp", pytest.param("open-ssh", marks=needs_sshd)]


@pytest.fixture(params=KINDS)
def place(
    request: pytest.FixtureRequest, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[OffSite]:
    folder = tmp_path_factory.mktemp("there") / "s"
    if request.param == "folder":
        yield OffSite(kind=FOLDER, folder=str(folder))
    elif request.param == "s3":
        with s3_server(folder) as made:
            yield made
    else:
        with (open_ssh if request.param == "open-ssh" else sftp_server)(folder) as there:
            there.let_in(sftp_files.public_key(tmp_path))
            yield there.place()


@pytest.fixture
def second(place: OffSite, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The second computer's data folder: it knows where the off-site copy is, and gets in."""
    made = tmp_path_factory.mktemp("second")
    for name in (sftp_known_host.KEY, f"{sftp_known_host.KEY}.pub"):
        if (tmp_path / name).exists():
            shutil.copy2(tmp_path / name, made / name)
    off_site_settings.keep(made, off_site_settings.draft(made, place))
    return made


@contextmanager
def following(data_dir: Path, place: OffSite) -> Iterator[list[BaseException]]:
    """The shop's computer makes its off-site copy there; what ended it, if anything did."""
    enough, ended = threading.Event(), list[BaseException]()

    def follow() -> None:
        try:
            off_site_copy_follows_shop.follow(
                data_dir, off_site_place.of(data_dir, place), enough, 0.1
            )
        except Conflict as error:
            ended.append(error)

    thread = threading.Thread(target=follow)
    thread.start()
    try:
        wait_for(lambda: across_at(data_dir))
        yield ended
    finally:
        enough.set()
        thread.join(60)


def test_it_shows_what_is_saved_and_what_is_gone_goes(
    store: Store, tmp_path: Path, place: OffSite, second: Path
):
    load_keys(tmp_path)
    (tmp_path / "photos").mkdir()
    for name in ("a.jpg", "b.jpg"):
        (tmp_path / "photos" / name).write_bytes(name.encode())
    make_job(store, Act(datetime.now(UTC)), name="Ada Vole")
    photos, now = stand_by_fetch.copy_folder(second) / "photos", datetime.now(UTC)
    with following(tmp_path, place):
        there = off_site_place.of(second, place)
        assert "1 tickets" in serving_stand_by.bring(second, there, now)
        assert sorted(one.name for one in photos.iterdir()) == ["a.jpg", "b.jpg"]
        make_job(store, Act(datetime.now(UTC)), name="Zoe Late")
        all_across(tmp_path)
        (tmp_path / "photos" / "b.jpg").unlink()
        if place.kind == FOLDER:
            (Path(place.folder) / "photos" / "b.jpg").unlink()
        else:
            there.stage.files.remove(["photos/b.jpg"])  # type: ignore[attr-defined]
        assert "2 tickets" in serving_stand_by.bring(second, there, datetime.now(UTC))
        assert [one.name for one in photos.iterdir()] == ["a.jpg"]
    stand_by_fetch.drop(second)
    assert not (second / stand_by_fetch.ROOM).exists()
    assert not (second / STAGE).exists()


def test_from_the_command_to_the_take_over(
    store: Store, tmp_path: Path, place: OffSite, second: Path
):
    load_keys(tmp_path)
    job = make_job(store, Act(datetime.now(UTC)), name="Ada Vole")
    port = server.free_port("127.0.0.1", 0)
    phone = Phone(port, "CO", PASSPHRASE)
    with following(tmp_path, place) as ended:
        line = [sys.executable, "-m", "fitcounter", "stand-by", "--data", str(second)]
        process = subprocess.Popen(
            [*line, "--port", str(port)],
            cwd=CHECKOUT,
            stdout=subprocess.PIPE,
            text=True,
            preexec_fn=off_site_copy_follows_shop.end_with_parent,
        )
        try:
            wait_for(lambda: answers(phone), 60)
            phone.sign_in()
            shown = phone.ask("GET", f"/tickets/{job.ticket_id}")
            assert re.search(r"Vole", str(shown[-1]))
            assert "This computer stands by" in str(shown[-1])
            assert phone.ask("POST", f"/tickets/{job.ticket_id}/call")[0] == 503
            assert main(["take-over", "--data", str(second)]) == 0
            said = process.communicate(timeout=60)[0]
        finally:
            phone.hang_up()
            process.kill()
            process.wait()
        wait_for(lambda: ended, 60)
    assert process.returncode == 0
    assert "This computer has the shop now" in said
    assert not (second / stand_by_fetch.ROOM).exists()
    with pytest.raises(Conflict, match="on this computer"):
        stand_by_fetch.check(second)
    copy = Store(second / "shop.db")
    try:
        assert rows_of(copy) == rows_of(store)
    finally:
        copy.close()


def rows_of(store: Store) -> dict[str, list[dict[str, object]]]:
    """Every row of every table of ours; Litestream keeps one of its own in the file."""
    names = store.rows(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE '\\_litestream%'"
        " ESCAPE '\\' AND name NOT LIKE 'sqlite%'"
    )
    return {str(one["name"]): store.rows(f'SELECT * FROM "{one["name"]}"') for one in names}
