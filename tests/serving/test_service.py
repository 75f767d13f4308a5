"""Installing the service: what is refused, with which sentence, and what stays."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitcounter.desk.data import boot_service
from fitcounter.errors import Conflict, NotAllowed, NotFound, Unavailable
from fitcounter.serving import service
from fitcounter.serving.unit_text import FIRST_LINE

without_systemd = pytest.mark.skipif(service.BOOTED.is_dir(), reason="systemd runs this computer")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


def put(text: str) -> Path:
    folder = boot_service.folder(system=False)
    folder.mkdir(parents=True)
    (folder / service.SHOP).write_text(text, encoding="utf-8")
    return folder / service.SHOP


@without_systemd
def test_without_systemd_nothing_is_written(home: Path):
    with pytest.raises(Unavailable, match="not run by systemd"):
        service.install({service.SHOP: FIRST_LINE}, system=False)
    assert list(home.iterdir()) == []


@without_systemd
def test_a_unit_that_is_ours_goes_and_one_of_somebody_else_stays():
    with pytest.raises(NotFound, match="No service is installed"):
        service.uninstall()
    path = put(f"{FIRST_LINE}\n")
    assert service.uninstall() == [str(path)]
    assert not path.exists()
    path.write_text("[Unit]\nDescription=mine\n", encoding="utf-8")
    with pytest.raises(Conflict, match="not written by fitcounter"):
        service.uninstall()
    assert path.exists()


@without_systemd
def test_how_it_stands_cannot_be_said_where_nobody_runs_it():
    assert service.status() == {}
    put(f"{FIRST_LINE}\n")
    with pytest.raises(Unavailable, match="not run by systemd"):
        service.status()


def test_a_shop_runs_as_whose_folder_it_is_and_never_as_root(tmp_path: Path):
    with pytest.raises(NotFound, match="Open the shop once"):
        service.owner(tmp_path / "none")
    if os.geteuid() != 0:
        assert service.owner(tmp_path)
        return
    with pytest.raises(NotAllowed, match="belongs to root"):
        service.owner(tmp_path)
    os.chown(tmp_path, 1, -1)
    assert service.owner(tmp_path) == "daemon"
