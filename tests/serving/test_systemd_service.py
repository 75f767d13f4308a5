"""Installing the service: what is refused, with which sentence, and what stays."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitcounter.desk.data import started_by_systemd
from fitcounter.errors import Conflict, NotAllowed, NotFound, Unavailable
from fitcounter.serving import systemd_service
from fitcounter.serving.systemd_unit import FIRST_LINE

without_systemd = pytest.mark.skipif(
    systemd_service.BOOTED.is_dir(), reason="systemd runs this computer"
)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


def put(text: str) -> Path:
    folder = started_by_systemd.folder(system=False)
    folder.mkdir(parents=True)
    (folder / systemd_service.SHOP).write_text(text, encoding="utf-8")
    return folder / systemd_service.SHOP


@without_systemd
def test_without_systemd_nothing_is_written(home: Path):
    with pytest.raises(Unavailable, match="not run by systemd"):
        systemd_service.install({systemd_service.SHOP: FIRST_LINE}, system=False)
    assert list(home.iterdir()) == []


@without_systemd
def test_a_unit_that_is_ours_goes_and_one_of_somebody_else_stays():
    with pytest.raises(NotFound, match="No service is installed"):
        systemd_service.uninstall()
    path = put(f"{FIRST_LINE}\n")
    assert systemd_service.uninstall() == [str(path)]
    assert not path.exists()
    path.write_text("[Unit]\nDescription=mine\n", encoding="utf-8")
    with pytest.raises(Conflict, match="not written by fitcounter"):
        systemd_service.uninstall()
    assert path.exists()


@without_systemd
def test_how_it_stands_cannot_be_said_where_nobody_runs_it():
    assert systemd_service.status() == {}
    put(f"{FIRST_LINE}\n")
    with pytest.raises(Unavailable, match="not run by systemd"):
        systemd_service.status()


def test_a_shop_runs_as_whose_folder_it_is_and_never_as_root(tmp_path: Path):
    with pytest.raises(NotFound, match="Open the shop once"):
        systemd_service.owner(tmp_path / "none")
    if os.geteuid() != 0:
        assert systemd_service.owner(tmp_path)
        return
    with pytest.raises(NotAllowed, match="belongs to root"):
        systemd_service.owner(tmp_path)
    os.chown(tmp_path, 1, -1)
    assert systemd_service.owner(tmp_path) == "daemon"
