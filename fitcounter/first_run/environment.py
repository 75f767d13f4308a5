"""The virtual environment of a checkout: made from the pins, stamped, and entered."""

from __future__ import annotations

import fcntl
import hashlib
import importlib
import os
import shlex
import shutil
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from fitcounter.first_run.system_packages import (
    RUN,
    TEST,
    apt_line,
    fetch_system_packages,
    has_module,
    venv_package,
)
from fitcounter.first_run.terminal_and_set_up_log import begin_log, marked, quietly, run, say, stop

CHECKOUT = Path(__file__).resolve().parents[2]
PINS = {
    RUN: CHECKOUT / "fitcounter" / "requirements.txt",
    TEST: CHECKOUT / "tests" / "requirements.txt",
}
OPTIONAL_PINS = {  # what a machine without the wheel does without, and what the person is told then
    "requirements-sqlite.txt": marked(
        "No newer SQLite for this computer. The program uses Python’s own, in its safe mode."
    ),
    "requirements-replica.txt": marked(
        "No Litestream for this computer, so no off-site copy. Copies are still made every night"
        " and after each pickup."
    ),
    "requirements-s3.txt": marked(
        "No library for S3 on this computer. The off-site copy goes to a folder or by SFTP."
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
        "holidays",
        "phonenumbers",
        "babel",
        "cryptography",
    ),
    TEST: ("pytest", "xdist", "hypothesis", "playwright", "ruff", "mypy", "setuptools"),
}
# In the environment's folder: this one is ours to clear and build again.
MARK = "made-by-fitcounter"


def enter(needs: str, arguments: Sequence[str]) -> None:
    """Return if this Python can run a command that needs `needs` (RUN or TEST); otherwise set up
    and start it again inside.

    Raises SystemExit(3), after a sentence on standard error, when the person has to do something
    first.
    """
    here = Path(sys.prefix)
    if not PINS[TEST].is_file():  # no checkout: pip put the program where it is
        check_installed(needs)
        return
    if is_ours(here, CHECKOUT, os.environ):
        if not stamped(here, needs):
            build(here, needs)
            importlib.invalidate_caches()
        return
    if sys.prefix != sys.base_prefix:
        check_modules(
            needs,
            marked(
                "This virtual environment lacks {modules}. Leave it with: deactivate. Or install"
                " them with: {line}"
            ),
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


def check_installed(needs: str) -> None:
    """Return if the program that pip installed has what the command needs; it never has the tests,
    which stay in the checkout. Raises SystemExit(3) after a sentence.
    """
    if needs == TEST:
        stop("The tests are not installed with the program. Run them in a checkout of its source.")
    check_modules(needs, marked("The installed program lacks {modules}. Install them with: {line}"))


def check_modules(needs: str, sentence: str) -> None:
    """Return if this Python has the packages that a command needs. Raises SystemExit(3).

    sentence: said otherwise, with {modules} that are missing and the {line} that brings them.
    """
    names = (name for level in levels(needs) for name in MODULES[level])
    missing = [name for name in names if not has_module(name)]
    if missing:
        pip = [sys.executable, "-m", "pip", "install", "--no-deps", "--require-hashes"]
        line = shlex.join([*pip, "-r", str(PINS[needs])])
        stop(sentence, modules=", ".join(missing), line=line)


def levels(needs: str) -> tuple[str, ...]:
    """The levels of set-up that a command needs, in order."""
    return (RUN, TEST) if needs == TEST else (RUN,)


def place(checkout: Path, environ: Mapping[str, str]) -> Path:
    """Where the virtual environment goes: beside the checkout, or in the user's data folder when
    that cannot be.

    It cannot when the checkout is read-only, or when somebody else's .venv is already there.
    """
    beside = checkout / ".venv"
    ours = (beside / MARK).is_file() and not beside.is_symlink()
    if ours or (not os.path.lexists(beside) and os.access(checkout, os.W_OK)):
        return beside
    data = Path(environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return data / "fitcounter" / f"venv-{hashlib.sha256(str(checkout).encode()).hexdigest()[:12]}"


def is_ours(environment: Path, checkout: Path, environ: Mapping[str, str]) -> bool:
    """Was this environment made by this checkout? One that another made, or that is only linked to
    from here, is never changed.
    """
    return (
        (environment / MARK).is_file()
        and not environment.is_symlink()
        and environment.resolve() == place(checkout, environ).resolve()
    )


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
        begin_log()
        for level in levels(needs):
            if stamped(environment, level):
                continue
            if level == TEST:
                say(
                    "Setting up the tests in {folder}: one or two minutes, once.",
                    folder=environment,
                )
            else:
                say(
                    "Setting up fitcounter in {folder}: one or two minutes, once.",
                    folder=environment,
                )
            fetch_system_packages(level)
            try:
                if level == RUN:
                    say("Step 1 of 2: the virtual environment.")
                    make(environment)
                    say("Step 2 of 2: the packages.")
                install(environment, level)
                (environment / f"stamp-{level}").write_text(
                    stamp(environment, level), encoding="ascii"
                )
            except OSError as error:
                stop(
                    "{file}: {reason}. The set-up must be able to write there.",
                    file=error.filename or environment,
                    reason=error.strerror,
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
                "This Python cannot make virtual environments. It needs {package}: type as root:"
                " {line}",
                package=venv_package(),
                line=apt_line([venv_package()]),
            )
        if environment.exists():
            shutil.rmtree(environment)
        environment.mkdir(parents=True)
        (
            environment / MARK
        ).touch()  # before all else: what is broken off half-way is still known as ours
        run(
            [sys.executable, "-m", "venv", *without, str(environment)],
            marked("The virtual environment could not be made."),
        )
    packages = (
        environment / "lib" / f"python{sys.version_info[0]}.{sys.version_info[1]}" / "site-packages"
    )
    # The program itself stays in the checkout: this line lets it be found from any folder.
    (packages / "fitcounter.pth").write_text(f"{CHECKOUT}\n", encoding="utf-8")
    script = environment / "bin" / "fitcounter"
    script.write_text(
        f"#!{environment}/bin/python\nimport sys\nfrom fitcounter.__main__ import start\n"
        "if __name__ == '__main__':\n    sys.exit(start())\n",
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
        marked("The packages could not be fetched. Check the network, then start again."),
    )
    for name, sentence in OPTIONAL_PINS.items() if level == RUN else ():
        pins = CHECKOUT / "fitcounter" / name
        if quietly([*line, "--only-binary", ":all:", "-r", str(pins)]):
            say(sentence)
