"""What only the system's own packages can bring, by apt-get on Debian and Ubuntu: venv, Pango for
the PDFs, Chromium for the browser tests.
"""

from __future__ import annotations

import ctypes
import importlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Sequence
from functools import cache

from fitcounter.first_run.terminal_and_set_up_log import (
    log_file,
    marked,
    quietly,
    say,
    stop,
    translated,
)

# what a command needs: the program's packages, or those of the tests as well
RUN, TEST = "run", "test"
LIBRARIES = {  # what WeasyPrint opens at run time, and the Debian package that brings it
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
INSTALL = ("apt-get", "install", "-y", "--no-install-recommends")
# the first of them that is there runs the browser tests; a headless shell is Chromium without its
# window, and opens a page with half the work
SHELL = "chromium-headless-shell"
BROWSERS = (SHELL, "chromium", "chromium-browser", "google-chrome")


def fetch_system_packages(level: str) -> None:
    """Fetch from Debian or Ubuntu what is missing: venv, Pango for the PDFs, Chromium for the
    browser tests.
    """
    groups = missing_packages(level)
    become_root = way_to_root() if shutil.which("apt-get") else None
    if groups and become_root is None:
        _ask_for(groups)
        return
    for packages, without in groups:
        say("Installing {packages} with apt-get.", packages=", ".join(packages))
        renew_package_lists(tuple(become_root or ()))
        line = [
            *(become_root or ()),
            "env",
            "DEBIAN_FRONTEND=noninteractive",
            *INSTALL,
            "-qq",
            "-o",
            "DPkg::Lock::Timeout=120",
            *packages,
        ]
        if quietly(line):
            say(
                "apt-get could not install {packages}. {without} Details: {log}",
                packages=", ".join(packages),
                without=without,
                log=log_file(),
            )


def _ask_for(groups: Sequence[tuple[list[str], str]]) -> None:
    """Say what a person types as root; where nothing can be set up before, that alone, and end.
    Raises SystemExit(3).
    """
    line = apt_line([package for packages, _ in groups for package in packages])
    for packages, without in groups:
        if venv_package() in packages:
            stop("{missing} To install it, type as root: {line}", missing=without, line=line)
    missing = " ".join(without for _, without in groups)
    say("{missing} To install it, type as root: {line}", missing=missing, line=line)


def apt_line(packages: Sequence[str]) -> str:
    """What a person types as root to install Debian packages."""
    return f"apt-get update && {shlex.join([*INSTALL, *packages])}"


@cache
def renew_package_lists(become_root: tuple[str, ...]) -> None:
    """Fetch Debian's lists of packages, once a run: a fresh machine has none, and old ones name
    files that are gone.
    """
    quietly([*become_root, "apt-get", "update", "-qq"])


def missing_packages(level: str) -> list[tuple[list[str], str]]:
    """Debian packages that are missing for a level, in groups, each with what happens without
    it.
    """
    if level == TEST:
        # Playwright drives the browser with a program of its own that opens libatomic, which a bare
        # Debian lacks.
        packages = [] if any(shutil.which(name) for name in BROWSERS) else ["chromium"]
        packages += [] if can_open("libatomic.so.1") else ["libatomic1"]
        skipped = translated(marked("Without Chromium, the browser tests are skipped."))
        slower = translated(
            marked("Without {package}, the browser tests take twice as long.")
        ).format(package=SHELL)
        groups = [(packages, skipped)] if packages else []
        return groups if shutil.which(SHELL) else [*groups, ([SHELL], slower)]
    groups = []
    if not has_module("venv") or not (has_module("ensurepip") or has_module("pip")):
        package = venv_package()
        without = translated(marked("Without {package}, fitcounter cannot be set up."))
        groups.append(([package], without.format(package=package)))
    libraries = [package for library, package in LIBRARIES.items() if not can_open(library)]
    if libraries:
        without = translated(marked("Without Pango, everything works but the PDFs."))
        groups.append((libraries, without))
    return groups


def way_to_root() -> list[str] | None:
    """The words before a command that make root run it; None where this person may not, or would
    have to be asked unseen.
    """
    if os.geteuid() == 0:
        return []
    if not shutil.which("sudo"):
        return None
    if (
        subprocess.run(
            ["sudo", "-n", "true"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        ).returncode
        == 0
    ):
        return ["sudo", "-n"]
    return ["sudo"] if sys.stdin.isatty() else None


def venv_package() -> str:
    return f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"


def has_module(name: str) -> bool:
    importlib.invalidate_caches()  # apt-get may have brought it since the last look
    return importlib.util.find_spec(name) is not None


def can_open(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
