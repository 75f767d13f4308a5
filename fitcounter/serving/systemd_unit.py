"""The text of a systemd unit (systemd.service(5), systemd.exec(5)) that keeps one command of the
program running, with as little room around it as systemd can leave.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from fitcounter.desk.data.started_by_systemd import DATA, WANTED_BY
from fitcounter.errors import BadInput, message

FIRST_LINE = "# Written by `fitcounter service install`, which writes it anew."
PLAIN = re.compile(r"[\w./:@,+=-]+", re.ASCII)
LOWEST_FREE_PORT = 1024  # ip(7): below it a program needs CAP_NET_BIND_SERVICE

# What the kernel's seccomp filters do needs no privilege beside NoNewPrivileges, so a user's own
# manager can set it too.
ANYWHERE = (
    *("NoNewPrivileges=yes", "UMask=0077", "LockPersonality=yes", "MemoryDenyWriteExecute=yes"),
    *("RestrictNamespaces=yes", "RestrictRealtime=yes", "RestrictSUIDSGID=yes"),
    "RestrictAddressFamilies=AF_INET AF_INET6 AF_UNIX",
    "SystemCallArchitectures=native",
    "SystemCallFilter=@system-service",
    "SystemCallFilter=~@privileged",
    "SystemCallErrorNumber=EPERM",
)
# What needs a view of the file system or of devices of its own, or gives capabilities away: only
# the system's manager can (systemd.exec(5), "Sandboxing").
OF_SYSTEM = (
    *("ProtectSystem=strict", "ProtectHome=read-only", "PrivateTmp=yes", "PrivateDevices=yes"),
    *("ProtectKernelTunables=yes", "ProtectKernelModules=yes", "ProtectKernelLogs=yes"),
    *("ProtectControlGroups=yes", "ProtectClock=yes", "ProtectHostname=yes"),
    *("ProtectProc=invisible", "ProcSubset=pid", "DevicePolicy=closed", "RemoveIPC=yes"),
    *("KeyringMode=private", "PrivateUsers={users}", "CapabilityBoundingSet={capability}"),
    "AmbientCapabilities={capability}",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One command kept running. command: its words; data_dir: whose shop; writes: the folders it
    writes into beside that; works_in: the folder it runs in, None for any; run_as: the user of a
    unit of the system, "" for a unit of the user's own; port: where it listens, None for nowhere.
    """

    about: str
    command: tuple[str, ...]
    data_dir: Path
    writes: tuple[Path, ...] = ()
    works_in: Path | None = None
    run_as: str = ""
    port: int | None = None


def text(unit: Unit) -> str:
    """The unit's file. Raises BadInput for a word that no unit can hold."""
    start = " ".join(_word(word.replace("$", "$$")) for word in unit.command)
    lines = [
        *(FIRST_LINE, f"{DATA}{_one_line(str(unit.data_dir))}"),
        *("[Unit]", f"Description={unit.about}", "StartLimitIntervalSec=0"),
        *_after(unit),
        *("", "[Service]", "Type=exec", f"ExecStart={start}"),
        *([f"User={unit.run_as}"] if unit.run_as else []),
        *([f"WorkingDirectory={_specifiers(str(unit.works_in))}"] if unit.works_in else []),
        # whatever ended it, it is started again: a shop whose disk was late comes back by itself
        *("Restart=always", "RestartSec=5", "KillMode=mixed", "TimeoutStopSec=30"),
        *("StandardOutput=journal", "StandardError=journal"),
        *ANYWHERE,
        *(_of_system(unit) if unit.run_as else []),
        *("", "[Install]", f"WantedBy={WANTED_BY[bool(unit.run_as)]}", ""),
    ]
    return "\n".join(lines)


def _after(unit: Unit) -> list[str]:
    """Of the system's: once the network and the data's disk are there. A user's own manager knows
    neither.
    """
    if not unit.run_as:
        return []
    return [
        *("Wants=network-online.target", "After=network-online.target"),
        f"RequiresMountsFor={_word(str(unit.data_dir))}",
    ]


def _of_system(unit: Unit) -> list[str]:
    low = unit.port is not None and unit.port < LOWEST_FREE_PORT
    # in a namespace of users of its own a capability does not open a port of the machine's network
    values = {"capability": "CAP_NET_BIND_SERVICE" if low else "", "users": "no" if low else "yes"}
    writes = [_word(str(unit.data_dir)), *(_word(f"-{folder}") for folder in unit.writes)]
    return [*(line.format(**values) for line in OF_SYSTEM), f"ReadWritePaths={' '.join(writes)}"]


def _word(word: str) -> str:
    """One word of a line, in systemd's quotes where it needs them (systemd.syntax(7))."""
    word = _specifiers(word)
    if PLAIN.fullmatch(word):
        return word
    return '"' + word.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _specifiers(word: str) -> str:
    return _one_line(word).replace("%", "%%")


def _one_line(word: str) -> str:
    if not word.isprintable():
        raise BadInput(message("A name here holds a sign that cannot be printed."), typed=word)
    return word
