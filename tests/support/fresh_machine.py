"""A fresh machine for the tests of the set-up: a small checkout with the program's own first files,
and packages made here.
"""

from __future__ import annotations

import base64
import hashlib
import os
import shutil
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from support.paths import CHECKOUT

# The Python under the one that runs the tests: outside of any virtual environment, as on a fresh
# machine.
BARE_PYTHON = str(
    Path(sys.base_prefix) / "bin" / f"python{sys.version_info[0]}.{sys.version_info[1]}"
)


# Debian's python3 without python3-venv and python3-pip, for any Python: those modules are not
# there.
HIDE = """
import importlib.util
find = importlib.util.find_spec
hidden = {hidden!r}
importlib.util.find_spec = lambda name, of=None: None if name in hidden else find(name, of)
"""


@dataclass(frozen=True)
class FreshMachine:
    """A checkout in a folder of its own, and nothing else."""

    checkout: Path
    home: Path

    def without(self, *modules: str) -> dict[str, str]:
        """What run() is given besides, so that its Python looks for these modules in vain."""
        blind = self.home / f"without-{'-'.join(modules)}"
        blind.mkdir(exist_ok=True)
        (blind / "sitecustomize.py").write_text(HIDE.format(hidden=modules), encoding="utf-8")
        return {"PYTHONPATH": str(blind)}

    def with_pip_outside(self) -> dict[str, str]:
        """The same, so that an environment is served by the pip under it, as on a Debian with
        python3-pip and without python3-venv: a pip of its own takes most of the making. Nothing
        where there is no pip under it that can do that.
        """
        return self.without("ensurepip") if _pip_serves_others() else {}

    def run(
        self, *arguments: str, python: str = BARE_PYTHON, **extra: str
    ) -> subprocess.CompletedProcess[str]:
        """Run `python -m fitcounter …` in the checkout, with an almost empty environment."""
        quiet = {
            "PIP_CONFIG_FILE": os.devnull,
            "PIP_NO_INDEX": "1",
            "PIP_FIND_LINKS": str(self.home),
            "PATH": str(self.home),
        }
        surroundings = {"HOME": str(self.home), **quiet, **extra}
        line = [python, "-m", "fitcounter", *arguments]
        return subprocess.run(
            line, cwd=self.checkout, env=surroundings, capture_output=True, text=True, timeout=120
        )


@cache
def _pip_serves_others() -> bool:
    asked = [BARE_PYTHON, "-m", "pip", "--python", BARE_PYTHON, "--version"]
    return subprocess.run(asked, capture_output=True, check=False).returncode == 0


# A program that notes how it was called, and fails with 4 where its name is in FAILS.
STAND_IN = """
import leather, os, sys
print(__spec__.name, *sys.argv[1:], flush=True)
sys.exit(4 if __spec__.name in os.environ.get("FAILS", "").split() else 0)
"""


def fresh_machine(folder: Path) -> FreshMachine:
    """A machine whose `certificate` command says which Python and which packages it has, made in
    an empty folder.

    In place of the program's many packages there is one wheel, in place of pytest, ruff and mypy a
    stand-in that says how it was called.
    """
    checkout, home = folder / "my checkout", folder / "home"
    serving = checkout / "fitcounter" / "serving"
    for folder in (serving, checkout / "tests", home):
        folder.mkdir(parents=True)
    for file in (CHECKOUT / "fitcounter").glob("*.py"):
        shutil.copy(file, checkout / "fitcounter")
    for room in ("cli", "first_run"):
        shutil.copytree(CHECKOUT / "fitcounter" / room, checkout / "fitcounter" / room)
    shutil.copy(CHECKOUT / "pyproject.toml", checkout)
    says = (
        "import sys, leather\ndef make(*rest): print(sys.prefix, leather.WORD)\ndef"
        " describe(*rest): return ''\n"
    )
    (serving / "certificate.py").write_text(says, encoding="utf-8")
    (serving / "certificate_hand_out.py").write_text("", encoding="utf-8")
    (serving / "server.py").write_text("", encoding="utf-8")
    (serving / "__init__.py").write_text("", encoding="utf-8")
    (checkout / "fitcounter" / "requirements.txt").write_text(
        wheel(home, "leather", "WORD = 'supple'"), encoding="utf-8"
    )
    (checkout / "fitcounter" / "requirements-sqlite.txt").write_text(
        wheel(home, "linen", ""), encoding="utf-8"
    )
    (checkout / "fitcounter" / "requirements-replica.txt").write_text(
        wheel(home, "waxed", ""), encoding="utf-8"
    )
    (checkout / "fitcounter" / "requirements-s3.txt").write_text(
        wheel(home, "twine", ""), encoding="utf-8"
    )
    # The stand-ins for pytest, ruff and mypy say that the tests' own level has been set up too.
    pins = [wheel(home, name, STAND_IN) for name in ("pytest", "ruff", "mypy")]
    (checkout / "tests" / "requirements.txt").write_text("".join(pins), encoding="utf-8")
    return FreshMachine(checkout, home)


def wheel(folder: Path, name: str, module: str, version: str = "1.0", asks: str = "") -> str:
    """Write a wheel (PEP 427) with one module into a folder; asks: lines of its METADATA.

    Returns the line that pins it by its hash.
    """
    about = f"{name}-{version}.dist-info"
    files = {
        f"{name}.py": module,
        f"{about}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n{asks}",
        f"{about}/WHEEL": (
            "Wheel-Version: 1.0\nGenerator: tests\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
        ),
    }
    record = "".join(f"{file},sha256={_digest(text)},{len(text)}\n" for file, text in files.items())
    path = folder / f"{name}-{version}-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as archive:
        for file, text in {**files, f"{about}/RECORD": f"{record}{about}/RECORD,,\n"}.items():
            archive.writestr(file, text)
    return f"{name}=={version} --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


def _digest(text: str) -> str:
    return base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()
