"""Commands about a shop's data."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock
from support.paper_list import GOOD, count

from fitcounter.cli import main as cli_main
from fitcounter.store.database import Store


def test_the_command_shows_then_stores(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str], clock: Clock
):
    file = tmp_path / "jobs.csv"
    file.write_text(GOOD.replace("tree 4 and 9", "tree 4 and 8"), encoding="utf-8")
    assert cli_main.main(["slips", str(file), "--data", str(tmp_path), "--put-in"]) == 1
    assert "!  line 2: No tree has that label" in capsys.readouterr().out
    assert count(store) == 0
    file.write_text("name,what,where\nAda,boots,shelf A1\n", encoding="utf-8")
    assert cli_main.main(["slips", str(file), "--data", str(tmp_path)]) == 0
    assert "new Ada: both boots to stretch; ready, shelf A1" in capsys.readouterr().out
    assert count(store) == 0
    assert cli_main.main(["slips", str(file), "--data", str(tmp_path), "--put-in"]) == 0
    assert store.value("SELECT count(*) FROM items WHERE state = 'shelved' AND shelf = 'A1'") == 2
    assert cli_main.main(["slips", str(tmp_path / "none.csv"), "--data", str(tmp_path)]) == 2
