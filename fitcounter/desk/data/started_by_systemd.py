"""Whether the computer itself starts a shop: where systemd's unit for it lies, and what the health
page says of it.
"""

from __future__ import annotations

from pathlib import Path

NAME = "fitcounter.service"
SYSTEM = Path("/etc/systemd/system")
IN_HOME = Path(".config", "systemd", "user")
WANTED_BY = {True: "multi-user.target", False: "default.target"}
DATA = "# data: "


def folder(*, system: bool) -> Path:
    """Where units lie (systemd.unit(5)): the system's, or those of who runs this program."""
    return SYSTEM if system else Path.home() / IN_HOME


def of_shop(data_dir: Path) -> str:
    """The unit that starts this shop at boot; "" where none does."""
    for system in (True, False):
        wanted = folder(system=system) / f"{WANTED_BY[system]}.wants" / NAME
        try:
            lines = wanted.read_text(encoding="utf-8").splitlines()
        except (OSError, ValueError):
            continue
        if f"{DATA}{data_dir}" in lines:
            return NAME
    return ""
