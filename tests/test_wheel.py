"""What `pip install .` puts on a machine: a wheel is built, installed into an empty environment
away from the checkout, and opens the invented shop there.

The packages that the program stands on are those of the environment of the tests, so that nothing
is fetched.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import sysconfig
import urllib.parse
import urllib.request
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.cookiejar import CookieJar
from pathlib import Path

import pytest
from support.paths import CHECKOUT

from fitcounter.web.responses import static_text

FOLDERS = ("fitcounter", "templates", "static", "seed_scenario")
JOBS = 4  # of the story; playing all of it takes 5 s of the processor


@dataclass(frozen=True)
class Installed:
    """The program as pip installed it."""

    wheel: Path
    environment: Path
    home: Path

    @property
    def program(self) -> str:
        return str(self.environment / "bin" / "fitcounter")

    def surroundings(self) -> dict[str, str]:
        """An environment that knows nothing of the checkout."""
        return {"HOME": str(self.home), "PATH": os.defpath}

    def run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run `fitcounter …` to its end."""
        return subprocess.run(
            [self.program, *arguments],
            cwd=self.home,
            env=self.surroundings(),
            capture_output=True,
            text=True,
            timeout=120,
        )


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Built from a copy, because a build leaves its traces where it is done."""
    source, out, home = (tmp_path_factory.mktemp(name) for name in ("source", "wheel", "home"))
    for name in FOLDERS:
        ignored = shutil.ignore_patterns("__pycache__")
        shutil.copytree(CHECKOUT / name, source / name, ignore=ignored)
    for name in ("pyproject.toml", "LICENSE"):
        shutil.copy(CHECKOUT / name, source)
    pip = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    offline = ["--no-deps", "--no-index"]
    build = ["wheel", *offline, "--no-build-isolation", "--wheel-dir", str(out), str(source)]
    subprocess.run([*pip, *build], check=True)
    wheel = next(out.glob("*.whl"))
    environment = home / "environment"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(environment)], check=True)
    python = str(environment / "bin" / "python")
    subprocess.run([*pip, "--python", python, "install", *offline, str(wheel)], check=True)
    packages = next(environment.glob("lib/python*/site-packages"))
    ours = sysconfig.get_path("purelib")
    (packages / "pinned.pth").write_text(f"{ours}\n", encoding="utf-8")
    return Installed(wheel, environment, home)


@pytest.fixture(scope="module")
def loaded(installed: Installed) -> subprocess.CompletedProcess[str]:
    """What the installed program said when it opened the invented shop, where it keeps it: its
    first jobs, as they lie in the environment. All of them are played by tests/cli/test_serve.py.
    """
    story = next(installed.environment.glob("lib/python*/site-packages/fitcounter/seed_scenario"))
    jobs = json.loads((story / "jobs.json").read_text(encoding="utf-8"))
    (story / "jobs.json").write_text(json.dumps(jobs[:JOBS]), encoding="utf-8")
    return installed.run("demo", "--no-serve")


def test_the_wheel_holds_every_file_of_the_checkout(installed: Installed) -> None:
    """Each module, template, static file, pin, catalogue and page of the story, and no test."""
    in_checkout = {
        path.relative_to(CHECKOUT).as_posix()
        for name in FOLDERS
        for path in (CHECKOUT / name).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    inside = {
        name if name.startswith("fitcounter/") else f"fitcounter/{name}" for name in in_checkout
    }
    with zipfile.ZipFile(installed.wheel) as wheel:
        held = {name for name in wheel.namelist() if ".dist-info/" not in name}

    assert len(inside) > 400
    assert held == inside


def test_the_installed_program_runs_where_it_was_installed(
    installed: Installed, loaded: subprocess.CompletedProcess[str]
) -> None:
    """No environment is made for it; the tests, which stayed in the checkout, are said to be
    there.
    """
    where = "import fitcounter; print(fitcounter.__file__)"
    python = str(installed.environment / "bin" / "python")
    found = subprocess.run([python, "-c", where], capture_output=True, text=True, cwd="/").stdout
    assert found.startswith(str(installed.environment))

    assert (loaded.returncode, loaded.stderr) == (0, "")
    assert "Sign in with initials and passphrase" in loaded.stdout
    assert list(installed.environment.rglob(".venv")) == []
    assert {path.name for path in installed.home.iterdir()} == {"environment", ".local"}

    tests = installed.run("test")
    assert (tests.returncode, len(tests.stderr.splitlines())) == (3, 1)
    assert "in a checkout" in tests.stderr

    job = CHECKOUT / "tests" / "reference" / "worked_examples" / "job-a.json"
    assert json.loads(installed.run("assess", str(job)).stdout)["verdict"] == "routine"


@contextmanager
def demo_open(installed: Installed) -> Iterator[str]:
    """The address of the invented shop that is there, served by the installed program."""
    line = [installed.program, "demo", "--keep"]
    with subprocess.Popen(
        line,
        cwd=installed.home,
        env={**installed.surroundings(), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        text=True,
    ) as program:
        try:
            assert program.stdout is not None
            yield next(
                found[0]
                for said in program.stdout
                if (found := re.findall(r"http://[\w.:]+", said))
            )
        finally:
            program.terminate()
            assert program.wait(timeout=20) == 0


def test_the_installed_demo_serves_pages_static_files_and_papers(
    installed: Installed, loaded: subprocess.CompletedProcess[str]
) -> None:
    """Signed in as the owner of the story: Today, its style sheet, and a paper as PDF."""
    story = json.loads((CHECKOUT / "seed_scenario" / "shop.json").read_text(encoding="utf-8"))
    owner = next(person for person in story["people"] if person["role"] == "owner")
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
    assert loaded.returncode == 0
    with demo_open(installed) as address:
        page = browser.open(f"{address}/sign-in", timeout=20).read().decode()
        style = re.findall(r'href="(/static/[^"]+/app\.css)"', page)[0]
        token = re.findall(r'name="csrf_token"[^>]* value="([^"]+)"', page)[0]
        typed = {key: owner[key] for key in ("initials", "passphrase")} | {"csrf_token": token}
        form = urllib.parse.urlencode(typed).encode()
        sent = urllib.request.Request(f"{address}/sign-in", form, {"Origin": address})
        assert browser.open(sent, timeout=20).status == 200

        today = browser.open(f"{address}/", timeout=20).read().decode()
        css = browser.open(f"{address}{style}", timeout=20).read()
        paper = browser.open(f"{address}/papers/evening.pdf", timeout=60)

        assert story["choices"]["name"] in today
        assert css == static_text.sent(CHECKOUT / "static" / "app.css")
        assert paper.headers["Content-Type"] == "application/pdf"
        assert paper.read().startswith(b"%PDF-")
