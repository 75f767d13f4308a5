"""README and the tour for developers say what is true: examples are run, commands and files
exist.
"""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.followed_shop import FOLLOWS, followed
from support.paths import CHECKOUT
from support.ticket_rows import make_job

from fitcounter.cli.commands import COMMANDS
from fitcounter.cli.main import main
from fitcounter.store import every_table
from fitcounter.store.database import Act, Store

README = (CHECKOUT / "README.md").read_text(encoding="utf-8")
TOUR = (CHECKOUT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_worked_fit_is_what_the_command_prints():
    command = re.search(r"`python3 -m fitcounter assess (\S+)`", README)
    shown = json.loads(re.search(r"```json\n(.*?)```", README, re.DOTALL).group(1))
    printed = subprocess.run(
        [sys.executable, "-m", "fitcounter", "assess", command.group(1)],
        cwd=CHECKOUT,
        capture_output=True,
        check=True,
    )
    left = json.loads(printed.stdout)["left"]
    for key, value in shown.items():
        if isinstance(value, dict):
            for name, figure in value.items():
                held = left[key][name]
                assert held == (
                    pytest.approx(figure, abs=5e-4) if isinstance(figure, float) else figure
                ), (key, name)
        else:
            assert left[key] == value, key


@pytest.mark.parametrize("text", [README, TOUR], ids=["README", "DEVELOPERS"])
def test_every_command_it_names_is_there(text: str):
    named = set(re.findall(r"python3 -m fitcounter ([\w-]+)", text))
    assert named
    assert named <= set(COMMANDS)


def test_every_file_the_tour_names_is_there():
    for name in set(re.findall(r"`((?:fitcounter|tests|static|templates)/[\w./_-]+)`", TOUR)):
        assert (CHECKOUT / name).exists(), name


def test_it_opens_with_the_job_and_then_the_two_commands():
    assert (
        README.index("## Two commands")
        < README.index("## One worked fit")
        < README.index("## What it will not tell you")
        < README.index("## How a shop runs it")
    )


def lines_under(heading: str) -> list[list[str]]:
    """The commands of the README's blocks under a heading, without what is said of them."""
    part = README.split(f"\n{heading}\n")[1].split("\n## ")[0]
    blocks = re.findall(r"```\n(.*?)```", part, re.DOTALL)
    return [
        shlex.split(line, comments=True)[3:]
        for block in blocks
        for line in block.splitlines()
        if line.startswith("python3 -m fitcounter ")
    ]


def hash_of(data_dir: Path) -> str:
    held = Store(data_dir / "shop.db")
    try:
        return every_table.business_hash(held)
    finally:
        held.close()


def test_the_commands_for_copies_do_what_is_said_in_the_order_that_is_shown(
    store: Store, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
):
    """On a shop of its own: copied, proved, brought back, checked, followed, brought back and taken
    over on an empty machine, taken out.
    """
    make_job(store, Act(datetime.now(UTC)))
    store.close()
    new, media, ran = tmp_path_factory.mktemp("new-machine"), tmp_path_factory.mktemp("media"), []
    for line in lines_under("### Copies"):
        line = [
            part.replace("/media", str(media)).replace("shop.", f"{tmp_path}/shop-out.")
            for part in line
        ]
        on_new_machine = "--off-site" in line or line[0] == "take-over"
        if line[0] in ("serve", "stand-by") or (
            not FOLLOWS and (line[0] == "replicate" or on_new_machine)
        ):
            continue
        if line[0] == "replicate":
            with followed(tmp_path, Path(line[2])):
                pass
        else:
            code = main([*line, "--data", str(new if on_new_machine else tmp_path)])
            assert code in ((0, 1) if line[0] == "check" else (0,)), line
        if on_new_machine:
            assert hash_of(new) == hash_of(tmp_path)
        ran.append(line[0])
    assert ran[:4] == ["backup", "verify", "restore", "check"]
    assert ran[-2:] == ["export", "export"]
    assert not FOLLOWS or ran[4:7] == ["replicate", "restore", "take-over"]
