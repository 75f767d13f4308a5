"""`service`: let the computer itself start the shop, say how it stands, or undo it."""

from __future__ import annotations

import argparse
import os
import pwd
import sys
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.serving import systemd_service as serving_service
from fitcounter.serving.systemd_unit import Unit, text
from fitcounter.settings import PROGRAM, Settings, prepare_data_dir

PASSED_ON = ("host", "port", "address", "proxies", "proxy", "certificate", "key", "copies")
FILES = ("certificate", "key", "copies")
RUNNING = "active"

# where a disk for the off-site copy is put in: a folder there is chosen on the owner's page later
DISKS = (Path("/media"), Path("/mnt"), Path("/run/media"))


def service(given: argparse.Namespace) -> int:
    """Install, show or remove the service; `status` exits 1 where something does not run."""
    if given.do == "install":
        return _install(given)
    if given.do == "status":
        return _status()
    if given.do == "uninstall":
        for path in serving_service.uninstall():
            print(say("Removed {file}.", file=path))
        print(say("The shop's data stay as they are."))
        return 0
    raise BadInput(say("Write service install, service status or service uninstall."), field="do")


def _install(given: argparse.Namespace) -> int:
    settings = Settings.from_environment(os.environ, vars(given))
    system = os.geteuid() == 0 and not given.user
    run_as = serving_service.owner(settings.data_dir) if system else ""
    units = units_of(given, settings, run_as)
    if given.show:
        print("\n".join(f"# {name}\n{unit}" for name, unit in units.items()), end="")
        return 0
    if not system:
        prepare_data_dir(settings.data_dir)
    serving_service.install(units, system=system)
    print(
        say(
            "The computer starts the shop by itself from now on: {address}",
            address=settings.base_url,
        )
    )
    if not system and not serving_service.linger():
        name = pwd.getpwuid(os.geteuid()).pw_name
        print(
            say(
                "It starts when {name} signs in. To start it at boot, type: sudo loginctl"
                " enable-linger {name}",
                name=name,
            )
        )
    journal = "journalctl -u fitcounter" if system else "journalctl --user -u fitcounter"
    print(say("How it stands: fitcounter service status. What it said: {command}", command=journal))
    return 0


def units_of(given: argparse.Namespace, settings: Settings, run_as: str) -> dict[str, str]:
    """The text of each unit by its name, for what `serve` and `replicate` would be given."""
    program = (sys.executable, "-m", "fitcounter")
    data = ("--data", str(settings.data_dir))
    works_in = PROGRAM if (PROGRAM / "fitcounter").is_dir() else None
    copies = (settings.copies,) if settings.copies else ()
    shop = Unit(
        about="fitcounter: the shop",
        command=(*program, "serve", *data, *_passed_on(given)),
        data_dir=settings.data_dir,
        writes=(*copies, *DISKS),
        works_in=works_in,
        run_as=run_as,
        port=settings.port,
    )
    if not given.off_site:
        return {serving_service.SHOP: text(shop)}
    place = Path(given.off_site).expanduser().absolute()
    off_site = Unit(
        about="fitcounter: the off-site copy",
        command=(*program, "replicate", *data, "--to", str(place)),
        data_dir=settings.data_dir,
        writes=(place,),
        works_in=works_in,
        run_as=run_as,
    )
    return {serving_service.SHOP: text(shop), serving_service.OFF_SITE: text(off_site)}


def _passed_on(given: argparse.Namespace) -> list[str]:
    """The arguments of `serve` that were given here or in the environment, files by full path."""
    words: list[str] = []
    for name in PASSED_ON:
        value = getattr(given, name) or os.environ.get(f"FITCOUNTER_{name.upper()}")
        if value:
            full = str(Path(value).expanduser().absolute()) if name in FILES else value
            words += [f"--{name}", full]
    return words


def _status() -> int:
    shown = serving_service.status()
    for path, facts in shown.items():
        state = say(
            "{file}: {state} ({detail}) since {when}; at boot: {boot}; started again {count} times",
            file=path,
            state=facts["ActiveState"],
            detail=facts["SubState"],
            when=facts["StateChangeTimestamp"] or "–",
            boot=facts["UnitFileState"],
            count=facts["NRestarts"],
        )
        print(state)
    if not shown:
        print(say("No service is installed. `fitcounter service install` makes one."))
    good = shown and all(
        facts["ActiveState"] == RUNNING and facts["UnitFileState"] == "enabled"
        for facts in shown.values()
    )
    return 0 if good else 1
