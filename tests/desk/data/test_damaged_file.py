"""A file with damaged pages is named in one sentence by whatever meets it; nothing copies it."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.command import run
from support.damaged_file import damage_pages

from fitcounter.cli.main import main
from fitcounter.desk.data import (
    copy_and_bring_back,
    damaged_file,
    nightly_copy_and_evening_sheet,
)
from fitcounter.desk.health import page as health
from fitcounter.desk.shop import Store
from fitcounter.errors import Damaged
from fitcounter.store import integrity, job_log

NOW = datetime(2026, 3, 18, 1, 0, tzinfo=UTC)
WORDS = "The shop’s data file is damaged. Stop the program, then bring back the last good copy"


@pytest.fixture(params=range(4))
def wreck(request: pytest.FixtureRequest, played: Path, tmp_path: Path) -> Path:
    """The story's folder, a good copy in it, and six pages of its file damaged."""
    data = tmp_path / "wreck"
    shutil.copytree(played, data)
    copy_and_bring_back.make_copy(data, None, datetime(2026, 3, 17, 15, 0, tzinfo=UTC))
    damage_pages(data / "shop.db", request.param)
    return data


def test_a_sound_file_is_nothing_to_say_a_word_about(store: Store, tmp_path: Path) -> None:
    damaged_file.look(tmp_path)
    damaged_file.look(tmp_path / "nothing here")
    assert damaged_file.shown_by(ValueError("malformed"), store) is None
    assert integrity.damage(store) == ""


def test_every_command_that_reads_the_file_says_it_in_one_sentence(
    wreck: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No traceback, and an exit code that says that it was not done."""
    for line in (["serve"], ["check"], ["backup"], ["export", str(wreck.parent / "out.json")]):
        code = main([*line, "--data", str(wreck)])
        assert code in (1, 2), line
        said = "".join(capsys.readouterr())
        assert WORDS in said, (line, said)
        assert "Traceback" not in said
        assert "malformed" not in said


def test_a_process_of_its_own_ends_with_the_same_sentence(played: Path, tmp_path: Path) -> None:
    shutil.copytree(played, tmp_path / "wreck")
    damage_pages(tmp_path / "wreck" / "shop.db")
    done = run("check", "--data", str(tmp_path / "wreck"))
    assert done.returncode == 1
    assert WORDS in done.stdout
    assert "Traceback" not in done.stderr


def test_no_copy_is_made_of_it_and_none_is_lost_for_it(wreck: Path) -> None:
    """The night's job says why; what it would tidy away stays."""
    before = sorted(path.name for path in (wreck / "copies").iterdir())
    with pytest.raises(Damaged, match="fitcounter restore"):
        copy_and_bring_back.make_copy(wreck, None, NOW)
    nightly_copy_and_evening_sheet.keep(wreck, None, NOW)
    assert WORDS in job_log.read(wreck)[nightly_copy_and_evening_sheet.COPY].fault
    assert sorted(path.name for path in (wreck / "copies").iterdir()) == before


def test_the_health_page_says_it_and_what_is_still_to_be_said(wreck: Path) -> None:
    store = Store(wreck / "shop.db")
    lines = {line.what: line for line in health.look(store, wreck, NOW)}
    store.close()
    assert lines["Data file"].words == "damaged"
    assert WORDS in lines["Data file"].todo
    assert lines["Room on the disk"].good


def test_the_way_back_that_it_names_is_one(wreck: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["restore", "--data", str(wreck)]) == 0, capsys.readouterr().err
    capsys.readouterr()
    main(["check", "--data", str(wreck)])
    assert capsys.readouterr().out.startswith("ok  Data file")
