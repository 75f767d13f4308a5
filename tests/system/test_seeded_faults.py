"""Faults put into the computation one at a time: a test finds each, by its name."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.paths import CHECKOUT, TESTS
from system.seeded_faults import FAULTS, Fault

NAMES = [fault.what for fault in FAULTS]


@pytest.mark.parametrize("fault", FAULTS, ids=NAMES)
def test_each_fault_can_be_seeded_and_has_its_test(fault: Fault) -> None:
    """The code stands there once, and the test is there."""
    text = (CHECKOUT / "fitcounter" / "fit" / fault.file).read_text(encoding="utf-8")
    assert text.count(fault.right) == 1
    ast.parse(text.replace(fault.right, fault.wrong))
    file, _, name = fault.found_by.partition("::")
    assert f"def {name}(" in (TESTS / "fit" / file).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program and its tests, to be spoilt."""
    there = tmp_path_factory.mktemp("seeded")
    skip = shutil.ignore_patterns("__pycache__", "browser", ".venv")
    for name in ("fitcounter", "tests", "static", "templates"):
        shutil.copytree(CHECKOUT / name, there / name, ignore=skip)
    shutil.copy(CHECKOUT / "pyproject.toml", there)
    return there


def run(copy: Path, test: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", f"tests/fit/{test}"],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
    )


@pytest.mark.slow
@pytest.mark.parametrize("fault", FAULTS, ids=NAMES)
def test_each_fault_is_found(copy: Path, fault: Fault) -> None:
    """Sound, its test passes; with the fault it fails, and not for want of an import."""
    place = copy / "fitcounter" / "fit" / fault.file
    sound = place.read_text(encoding="utf-8")
    assert run(copy, fault.found_by).returncode == 0
    place.write_text(sound.replace(fault.right, fault.wrong), encoding="utf-8")
    try:
        spoilt = run(copy, fault.found_by)
    finally:
        place.write_text(sound, encoding="utf-8")
    assert spoilt.returncode == 1, spoilt.stdout
    assert "FAILED" in spoilt.stdout
    assert "ImportError" not in spoilt.stdout
