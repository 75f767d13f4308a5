"""The set-up on a machine that has only Python 3 and the checkout: standard library alone, nothing
else of ours.

It makes a virtual environment with the pinned packages, fetches by apt-get what Python packages
cannot bring (PEP 668 keeps pip away from the system's own Python), leaves a stamp, and starts the
command again inside. Later starts only read the stamp.
"""

from __future__ import annotations

import ctypes
import fcntl
import hashlib
import importlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent
RUN, TEST = (
    "run",
    "test",
)  # what a command needs: the program's packages, or those of the tests as well
PINS = {
    RUN: CHECKOUT / "fitcounter" / "requirements.txt",
    TEST: CHECKOUT / "tests" / "requirements.txt",
}
OPTIONAL_PINS = {  # what a machine without the wheel does without, and what the person is told then
    "requirements-sqlite.txt": (
        "There is no newer SQLite for this machine; the program uses Python's own, in its safe"
        " mode."
    ),
    "requirements-replica.txt": (
        "There is no Litestream for this machine; copies are made every night and after each pickup"
        " all the same."
    ),
}
MODULES = {
    RUN: (
        "flask",
        "flask_wtf",
        "sqlite_utils",
        "cheroot",
        "qrcode",
        "weasyprint",
        "icalendar",
        "phonenumbers",
        "babel",
        "cryptography",
    ),
    TEST: ("pytest", "xdist", "hypothesis", "playwright"),
}
MARK = (  # in the environment's folder: this one is ours to clear and build again
    "made-by-fitcounter"
)
LIBRARIES = {  # what WeasyPrint opens at run time, and the Debian package that brings it
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
INSTALL = ("apt-get", "install", "-y", "--no-install-recommends")
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CANNOT_GO_ON = 3


def enter(needs: str, arguments: Sequence[str]) -> None:
    """Return if this Python can run a command that needs `needs` (RUN or TEST); otherwise set up
    and start it again inside.

    Raises SystemExit(3), after a sentence on standard error, when the person has to do something
    first.
    """
    here = Path(sys.prefix)
    if (here / MARK).is_file():
        if not stamped(here, needs):
            build(here, needs)
            importlib.invalidate_caches()
        return
    if sys.prefix != sys.base_prefix:
        missing = [
            name
            for level in levels(needs)
            for name in MODULES[level]
            if importlib.util.find_spec(name) is None
        ]
        if missing:
            line = shlex.join(
                [
                    sys.executable,
                    "-m",
                    "pip",
                    "install",
                    "--no-deps",
                    "--require-hashes",
                    "-r",
                    str(PINS[needs]),
                ]
            )
            stop(
                f"This virtual environment lacks {', '.join(missing)}. Leave it with: deactivate."
                f" Or fill it with: {line}"
            )
        return
    environment = place(CHECKOUT, os.environ)
    if not stamped(environment, needs):
        build(environment, needs)
    python = str(environment / "bin" / "python")
    # A VIRTUAL_ENV left over from another project would mislead whatever we start in turn.
    surroundings = {
        name: value
        for name, value in os.environ.items()
        if name not in ("VIRTUAL_ENV", "PYTHONHOME")
    }
    os.execve(python, [python, "-m", "fitcounter", *arguments], surroundings)


def levels(needs: str) -> tuple[str, ...]:
    """The levels of set-up that a command needs, in order."""
    return (RUN, TEST) if needs == TEST else (RUN,)


def place(checkout: Path, environ: Mapping[str, str]) -> Path:
    """Where the virtual environment goes: beside the checkout, or in the user's data folder when
    that cannot be.

    It cannot when the checkout is read-only, or when somebody else's .venv is already there.
    """
    beside = checkout / ".venv"
    ours = (beside / MARK).is_file()
    if ours or (not beside.exists() and os.access(checkout, os.W_OK)):
        return beside
    data = Path(environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return data / "fitcounter" / f"venv-{hashlib.sha256(str(checkout).encode()).hexdigest()[:12]}"


def stamp(environment: Path, level: str) -> str:
    """What the environment was made from.

    A new Python, a moved folder or other pins give another stamp.
    """
    made_from = hashlib.sha256(repr((sys.version_info[:3], str(environment), level)).encode())
    for file in (CHECKOUT / "pyproject.toml", PINS[level], Path(__file__)):
        made_from.update(file.read_bytes())
    return made_from.hexdigest()


def stamped(environment: Path, needs: str) -> bool:
    """True if the environment is complete for `needs` and made from what lies here now."""
    try:
        stamps = [
            (environment / f"stamp-{level}").read_text(encoding="ascii") for level in levels(needs)
        ]
    except OSError:
        return False
    return (
        stamps == [stamp(environment, level) for level in levels(needs)]
        and (environment / "bin" / "python").exists()
    )


def build(environment: Path, needs: str) -> None:
    """Make the environment complete for `needs`; a stamp is written only after all of its level is
    there.
    """
    with only_one():
        for level in levels(needs):
            if stamped(environment, level):
                continue
            say(
                f"Setting up {'the tests' if level == TEST else 'fitcounter'} in {environment}."
                " This takes a minute or two, once."
            )
            fetch_system_packages(level)
            try:
                if level == RUN:
                    make(environment)
                install(environment, level)
                (environment / f"stamp-{level}").write_text(
                    stamp(environment, level), encoding="ascii"
                )
            except OSError as error:
                stop(
                    f"{error.filename or environment}: {error.strerror}. The set-up needs to write"
                    " there."
                )


@contextmanager
def only_one() -> Iterator[None]:
    """Let one set-up run at a time on this checkout; the second waits and then finds the stamp."""
    folder = os.open(CHECKOUT, os.O_RDONLY)
    try:
        fcntl.flock(folder, fcntl.LOCK_EX)
        yield
    finally:
        os.close(folder)


def make(environment: Path) -> None:
    """Make an empty environment, unless we are inside it: then its packages are renewed in
    place.
    """
    if Path(sys.prefix) != environment:
        without = [] if has_module("ensurepip") else ["--without-pip"]
        if not has_module("venv") or (without and not has_module("pip")):
            stop(
                f"This Python cannot make virtual environments; with {venv_package()} it can"
                f" ({apt_line([venv_package()])})."
            )
        if environment.exists():
            shutil.rmtree(environment)
        environment.mkdir(parents=True)
        (
            environment / MARK
        ).touch()  # before all else: what is broken off half-way is still known as ours
        run(
            [sys.executable, "-m", "venv", *without, str(environment)],
            "The virtual environment could not be made.",
        )
    packages = (
        environment / "lib" / f"python{sys.version_info[0]}.{sys.version_info[1]}" / "site-packages"
    )
    # The program itself stays in the checkout: this line lets it be found from any folder.
    (packages / "fitcounter.pth").write_text(f"{CHECKOUT}\n", encoding="utf-8")
    script = environment / "bin" / "fitcounter"
    script.write_text(
        f"#!{environment}/bin/python\nimport sys\nfrom fitcounter.cli.main import"
        " main\nsys.exit(main())\n",
        encoding="utf-8",
    )
    script.chmod(0o755)


def install(environment: Path, level: str) -> None:
    """Install the pinned packages of one level, each checked against its hash.

    The pins are complete, so pip looks for nothing besides (--no-deps): older ones refuse an exact
    pin once a newer release is out of what another package asks for with an extra.
    """
    python = str(environment / "bin" / "python")
    # Where only the system's pip is there (python3-pip without python3-venv), it serves the new
    # environment from outside.
    has_pip = any(environment.glob("lib/python*/site-packages/pip"))
    pip = [python, "-m", "pip"] if has_pip else [sys.executable, "-m", "pip", "--python", python]
    line = [
        *pip,
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--no-input",
        "--no-deps",
        "--require-hashes",
    ]
    run(
        [*line, "-r", str(PINS[level])],
        "The packages could not be fetched: is there a network? The next start begins again.",
    )
    for name, sentence in OPTIONAL_PINS.items() if level == RUN else ():
        pins = CHECKOUT / "fitcounter" / name
        if subprocess.run(
            [*line, "--only-binary", ":all:", "-r", str(pins)], stderr=subprocess.DEVNULL
        ).returncode:
            say(sentence)


def fetch_system_packages(level: str) -> None:
    """Fetch from Debian or Ubuntu what is missing: venv, Pango for the PDFs, Chromium for the
    browser tests.
    """
    groups = missing_packages(level)
    become_root = way_to_root() if shutil.which("apt-get") else None
    if groups and become_root is None:
        everything = [package for packages, _ in groups for package in packages]
        say(
            f"{' '.join(without for _, without in groups)} To change that, type as root:"
            f" {apt_line(everything)}"
        )
        return
    for packages, without in groups:
        say(f"Installing {' '.join(packages)} with apt-get.")
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
        if subprocess.run(line, stdout=subprocess.DEVNULL).returncode:
            say(f"apt-get could not do it. {without}")


def apt_line(packages: Sequence[str]) -> str:
    """What a person types as root to install Debian packages."""
    return f"apt-get update && {shlex.join([*INSTALL, *packages])}"


@cache
def renew_package_lists(become_root: tuple[str, ...]) -> None:
    """Fetch Debian's lists of packages, once a run: a fresh machine has none, and old ones name
    files that are gone.
    """
    subprocess.run([*become_root, "apt-get", "update", "-qq"], stdout=subprocess.DEVNULL)


def missing_packages(level: str) -> list[tuple[list[str], str]]:
    """Debian packages that are missing for a level, in groups, each with what happens without
    it.
    """
    if level == TEST:
        # Playwright drives the browser with a program of its own that opens libatomic, which a bare
        # Debian lacks.
        packages = [] if any(shutil.which(name) for name in BROWSERS) else ["chromium"]
        packages += [] if can_open("libatomic.so.1") else ["libatomic1"]
        return (
            [
                (
                    packages,
                    "The browser tests are skipped: there is no Chromium that they could drive.",
                )
            ]
            if packages
            else []
        )
    groups = []
    if not has_module("venv") or not (has_module("ensurepip") or has_module("pip")):
        groups.append(([venv_package()], "Nothing can be set up yet."))
    libraries = [package for library, package in LIBRARIES.items() if not can_open(library)]
    if libraries:
        groups.append((libraries, "Everything works but the PDFs: Pango is not there."))
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


def run(line: Sequence[str], sentence: str) -> None:
    if subprocess.run(line).returncode:
        stop(sentence)


def say(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def stop(sentence: str) -> None:
    say(sentence)
    raise SystemExit(CANNOT_GO_ON)
