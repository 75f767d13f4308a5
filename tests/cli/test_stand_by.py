"""What `fitcounter stand-by` asks for before it begins."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.cli.main import BAD_INPUT, main
from fitcounter.desk.data import off_site_settings
from fitcounter.desk.shop import Store


def test_it_asks_for_the_off_site_copy_and_for_minutes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    assert main(["stand-by", "--data", str(tmp_path)]) == BAD_INPUT
    assert "Name the off-site copy with --from" in capsys.readouterr().err
    assert main(["stand-by", "--data", str(tmp_path), "--every", "0"]) == BAD_INPUT
    assert "from 1 to 1440" in capsys.readouterr().err
    nothing_there = ["--from", str(tmp_path / "there"), "--once"]
    assert main(["stand-by", "--data", str(tmp_path), *nothing_there]) == BAD_INPUT
    assert "No off-site copy in" in capsys.readouterr().err


def test_not_on_the_computer_that_has_the_shop(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    assert main(["stand-by", "--data", str(tmp_path), "--from", "/media/stick"]) == BAD_INPUT
    assert "The shop is on this computer" in capsys.readouterr().err
    assert off_site_settings.read(tmp_path) is None
