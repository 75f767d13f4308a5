"""`service` as people type it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitcounter.cli.main import main
from fitcounter.serving import systemd_service


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))


def test_the_units_hold_what_serve_was_to_be_given(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("FITCOUNTER_ADDRESS", "https://boots.example")
    words = ["--data", str(tmp_path / "shop"), "--host", "0.0.0.0", "--copies", "c d"]
    assert main(["service", "install", "--user", "--show", *words, "--off-site", "/mnt/x"]) == 0
    shown = capsys.readouterr().out
    copies = Path("c d").absolute()
    serve = f"serve --data {tmp_path}/shop --host 0.0.0.0 --address https://boots.example"
    assert f'{serve} --copies "{copies}"\n' in shown
    assert f"replicate --data {tmp_path}/shop --to /mnt/x\n" in shown
    assert not (tmp_path / "shop").exists()


def test_status_without_a_service_is_1_and_any_other_word_is_refused(
    capsys: pytest.CaptureFixture[str],
):
    if not any(
        (systemd_service.boot_service.SYSTEM / name).exists() for name in (systemd_service.SHOP,)
    ):
        assert main(["service", "status"]) == 1
        assert "service install" in capsys.readouterr().out
    assert main(["service", "begin"]) == 2
    assert "service status" in capsys.readouterr().err


@pytest.mark.skipif(os.geteuid() != 0, reason="only root installs for the system")
def test_root_is_told_that_a_shop_runs_as_a_user_of_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    assert main(["service", "install", "--data", str(tmp_path)]) == 2
    assert "belongs to root" in capsys.readouterr().err
