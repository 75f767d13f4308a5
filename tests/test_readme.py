"""README and the tour for developers say what is true: examples are run, commands and files exist."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fitcounter.cli import COMMANDS

CHECKOUT = Path(__file__).resolve().parents[1]
README = (CHECKOUT / "README.md").read_text(encoding="utf-8")
TOUR = (CHECKOUT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_worked_fit_is_what_the_command_prints():
    command = re.search(r"`python3 -m fitcounter assess (\S+)`", README)
    shown = json.loads(re.search(r"```json\n(.*?)```", README, re.DOTALL).group(1))
    printed = subprocess.run([sys.executable, "-m", "fitcounter", "assess", command.group(1)], cwd=CHECKOUT, capture_output=True, check=True)
    left = json.loads(printed.stdout)["left"]
    for key, value in shown.items():
        if isinstance(value, dict):
            for name, figure in value.items():
                held = left[key][name]
                assert held == (pytest.approx(figure, abs=5e-4) if isinstance(figure, float) else figure), (key, name)
        else:
            assert left[key] == value, key


@pytest.mark.parametrize("text", [README, TOUR], ids=["README", "DEVELOPERS"])
def test_every_command_it_names_is_there(text: str):
    named = set(re.findall(r"python3 -m fitcounter (\w+)", text))
    assert named
    assert named <= set(COMMANDS)


def test_every_file_the_tour_names_is_there():
    for name in set(re.findall(r"`((?:fitcounter|tests|static|templates)/[\w./_-]+)`", TOUR)):
        assert (CHECKOUT / name).exists(), name


def test_it_opens_with_the_job_and_then_the_two_commands():
    assert README.index("## Two commands") < README.index("## One worked fit") < README.index("## What it will not tell you") < README.index("## How a shop runs it")
