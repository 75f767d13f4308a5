"""`fitcounter service`: the shop, and its off-site copy, as services of the system (systemd), which
starts them at boot, starts them again when they end, and keeps what they say.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
from pathlib import Path

from fitcounter.desk.data import started_by_systemd
from fitcounter.errors import Conflict, NotAllowed, NotFound, Unavailable, message
from fitcounter.serving.systemd_unit import FIRST_LINE

SHOP, OFF_SITE = started_by_systemd.NAME, "fitcounter-off-site.service"
BOOTED = Path("/run/systemd/system")  # sd_booted(3)
FACTS = ("ActiveState", "SubState", "UnitFileState", "NRestarts", "StateChangeTimestamp")


def owner(data_dir: Path) -> str:
    """The user whom a unit of the system runs a shop as: whose its folder is.

    Raises NotFound where there is no folder yet, NotAllowed where it is root's.
    """
    if not data_dir.is_dir():
        raise NotFound(
            message(
                "There is no folder {folder}. Open the shop once with serve, as the user it is to"
                " run as, or name its folder with --data.",
                folder=data_dir,
            ),
            field="data",
        )
    user = data_dir.stat().st_uid
    if user == 0:
        raise NotAllowed(
            message(
                "{folder} belongs to root, and a shop runs as a user of its own. Type: chown -R"
                " USER {folder}",
                folder=data_dir,
            ),
            field="data",
        )
    return pwd.getpwuid(user).pw_name


def install(units: dict[str, str], *, system: bool) -> None:
    """Write these units (by name), let them start at boot, and start them now; a unit of ours that
    is not among them goes.

    Raises Unavailable without systemd or with what it said, Conflict where a file of that name is
    not ours, NotAllowed where it may not be written.
    """
    _needs_systemd()
    folder = started_by_systemd.folder(system=system)
    for name in (SHOP, OFF_SITE):
        _refuse_foreign(folder / name)
    for name in (SHOP, OFF_SITE):
        if name not in units and (folder / name).exists():
            _remove(name, system=system)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in units.items():
            (folder / name).write_text(text, encoding="utf-8")
    except OSError as error:
        raise _not_writable(folder, error) from error
    _systemctl(system, "daemon-reload")
    _systemctl(system, "enable", *units)
    _systemctl(system, "restart", *units)


def uninstall() -> list[str]:
    """Stop and remove what `install` wrote; returns the files that went. The data stay.

    Raises NotFound where there is nothing.
    """
    removed = []
    for system in (True, False):
        for name in (OFF_SITE, SHOP):
            path = started_by_systemd.folder(system=system) / name
            if path.exists():
                _refuse_foreign(path)
                _remove(name, system=system)
                removed.append(str(path))
    if not removed:
        raise NotFound(message("No service is installed."))
    return removed


def status() -> dict[str, dict[str, str]]:
    """What systemd says of each unit of ours that is there, by its file. Raises Unavailable."""
    shown = {}
    for system in (True, False):
        for name in (SHOP, OFF_SITE):
            path = started_by_systemd.folder(system=system) / name
            if path.exists():
                _needs_systemd()
                answer = _systemctl(system, "show", f"--property={','.join(FACTS)}", name)
                pairs = (line.partition("=") for line in answer.splitlines())
                shown[str(path)] = {key: value for key, _, value in pairs}
    return shown


def linger() -> bool:
    """Let the user's own services start at boot, without anybody signing in; False where only an
    administrator may.
    """
    loginctl = shutil.which("loginctl")
    if loginctl is None:
        return False
    done = subprocess.run(
        [loginctl, "enable-linger"], stdin=subprocess.DEVNULL, capture_output=True, timeout=60
    )
    return done.returncode == 0


def _remove(name: str, *, system: bool) -> None:
    path = started_by_systemd.folder(system=system) / name
    if BOOTED.is_dir():
        _systemctl(system, "disable", "--now", name)
    try:
        path.unlink()
        wanted = path.parent / f"{started_by_systemd.WANTED_BY[system]}.wants" / name
        wanted.unlink(missing_ok=True)
    except OSError as error:
        raise _not_writable(path, error) from error
    if BOOTED.is_dir():
        _systemctl(system, "daemon-reload")


def _refuse_foreign(path: Path) -> None:
    if path.exists() and not path.read_text(encoding="utf-8", errors="replace").startswith(
        FIRST_LINE
    ):
        raise Conflict(
            message("{file} was not written by fitcounter. Move it away first.", file=path)
        )


def _needs_systemd() -> None:
    if not BOOTED.is_dir() or shutil.which("systemctl") is None:
        raise Unavailable(
            message(
                "This computer is not run by systemd, so nothing was installed. Let whatever starts"
                " programs here run `fitcounter serve`."
            )
        )


def _not_writable(path: Path, error: OSError) -> NotAllowed:
    return NotAllowed(
        message(
            "{file} cannot be written: {reason}. Units of the system need sudo.",
            file=path,
            reason=error.strerror,
        )
    )


def _systemctl(system: bool, *words: str) -> str:
    """What systemctl answers. Raises Unavailable with its last line."""
    line = ["systemctl", *([] if system else ["--user"]), "--no-pager", *words]
    done = subprocess.run(
        line,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        env=os.environ | {"LC_ALL": "C"},
    )
    if done.returncode:
        said = done.stderr.strip().splitlines() or [str(done.returncode)]
        raise Unavailable(message("systemd did not do it: {reason}", reason=said[-1]))
    return done.stdout
