"""Where Litestream writes to and reads from: a folder, an S3-compatible store or a computer by
SFTP; and what is brought across beside it.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import off_site_notes_and_pictures
from fitcounter.desk.data import off_site_settings as data_off_site
from fitcounter.desk.data import take_over as data_lease
from fitcounter.desk.data.off_site_settings import OffSite
from fitcounter.desk.data.take_over import Lease
from fitcounter.errors import NotFound, Unavailable, message

# how often Litestream itself looks and writes across, so that a dead machine loses less than a
# second
FOLLOW = "250ms"
PROGRAM = "litestream"
HOURS = 3600.0
HOW_TO_GET_IT = message(
    "Litestream is not installed here: there was no wheel for this machine. Fetch version 0.5 from"
    " https://litestream.io, put it on the path, then try again."
)


def program() -> str:
    """Where Litestream lies: beside this Python, or on the path.

    Raises NotFound with how to get it.
    """
    found = shutil.which(PROGRAM, path=str(Path(sys.executable).parent)) or shutil.which(PROGRAM)
    if found is None:
        raise NotFound(HOW_TO_GET_IT)
    return found


def environment() -> dict[str, str]:
    """Litestream's environment: ours, without what would speak for the store behind our back."""
    return {name: value for name, value in os.environ.items() if not name.startswith("AWS_")}


def configuration(shop: Path, replica: dict[str, object], control: Path | None = None) -> str:
    """Litestream's configuration, as JSON, which is YAML too. replica: where to; control: its
    socket.
    """
    told = {
        "logging": {"level": "warn"},
        "socket": {
            "enabled": control is not None,
            "path": str(control or ""),
            "permissions": 0o600,
        },
        "snapshot": {"interval": "24h", "retention": "24h"},
        "dbs": [
            {
                "path": str(shop),
                "monitor-interval": FOLLOW,
                "replica": {"sync-interval": FOLLOW} | replica,
            }
        ],
    }
    return json.dumps(told, indent=1)


@dataclass
class ReplicaPlace:
    """The off-site copy in a folder of this computer.

    folder: where the use cases of the off-site copy look and write; where: its address in words;
    prove_s: seconds between two proofs;
    hold_s: between two looks at whose the shop is.
    """

    data_dir: Path
    folder: Path
    where: str
    prove_s: float = HOURS / 4
    hold_s: float = 1.0

    def begin(self) -> None:
        """Learns how it stands there.

        Raises a sentence where this shop cannot be copied there; Unavailable where that may pass.
        """
        data_replica.check(self.data_dir, self.folder)

    def mark(self, live: Path) -> None:
        """Says there that a live folder begins, before Litestream writes into it."""

    def lease(self) -> Lease | None:
        """Which computer has the shop, as it is noted there now. Raises Unavailable."""
        return data_lease.read(self.folder / data_lease.FILE)

    def take(self, ours: Lease) -> None:
        """Notes there that this computer has the shop. Raises Unavailable."""
        data_lease.write(self.folder / data_lease.FILE, ours)

    def hold(self, now: datetime) -> None:
        """Goes on where this computer has the shop, or nobody has. Raises Conflict otherwise."""
        there = self.lease()
        if there is None:
            self.take(data_lease.ours(self.data_dir, now))
        else:
            data_lease.check(self.data_dir, there)

    def mirror(self) -> bool:
        """Brings across what lies beside the shop's file; False where there is more to bring."""
        data_replica.mirror(self.data_dir, self.folder)
        return True

    def replica(self, live: Path) -> dict[str, object]:
        """What Litestream's configuration says of a live folder."""
        return {"type": "file", "path": str(live / "db")}

    def fetch(self, live: Path, target: Path) -> None:
        """Makes the shop's file anew from a live folder. Raises Unavailable."""
        config = target.with_name("fetch.yml")
        config.touch(mode=0o600)
        config.write_text(configuration(target, self.replica(live)), encoding="utf-8")
        line = [program(), "restore", "-no-expand-env", "-config", str(config)]
        done = subprocess.run(
            [*line, "-o", str(target), str(target)],
            capture_output=True,
            text=True,
            stdin=subprocess.DEVNULL,
            env=environment(),
        )
        config.unlink()
        if done.returncode:
            raise Unavailable(
                message(
                    "{name} gives no file: {reason}.",
                    name=live.name,
                    reason=_last_line(done.stderr),
                )
            )


class NetworkPlace(ReplicaPlace):
    """The off-site copy in a store or on a computer of a network."""

    def __init__(self, data_dir: Path, off_site: OffSite) -> None:
        self.off_site = off_site
        self.stage = off_site_notes_and_pictures.OffSiteStage(data_dir, off_site)
        super().__init__(data_dir, self.stage.folder, off_site.where, 6 * HOURS, 30.0)

    def begin(self) -> None:
        self.stage.begin()
        super().begin()

    def mark(self, live: Path) -> None:
        self.stage.mark(live)

    def mirror(self) -> bool:
        data_replica.mirror_notes(self.data_dir, self.folder)
        return self.stage.push()

    def lease(self) -> Lease | None:
        return self.stage.lease()

    def take(self, ours: Lease) -> None:
        self.stage.take(ours)

    def replica(self, live: Path) -> dict[str, object]:
        place, path = self.off_site, f"{self.off_site.folder}/{live.name}/db"
        if place.kind == data_off_site.S3:
            return {
                "type": "s3",
                "bucket": place.bucket,
                "path": path,
                "region": place.region,
                "endpoint": place.host,
                "force-path-style": True,
                "access-key-id": place.key,
                "secret-access-key": place.secret,
            }
        return {
            "type": "sftp",
            "host": f"{place.host}:{place.port}",
            "user": place.user,
            "path": path,
        } | self.stage.ssh_keys()


def of(data_dir: Path, off_site: OffSite) -> ReplicaPlace:
    """The place that was set up or named."""
    if off_site.kind == data_off_site.FOLDER:
        return ReplicaPlace(data_dir, Path(off_site.folder), off_site.folder)
    return NetworkPlace(data_dir, off_site)


@contextmanager
def brought_here(place: ReplicaPlace) -> Iterator[None]:
    """Has everything that Litestream does not carry in the place's folder, and nothing of it left
    here afterwards. Raises Unavailable.
    """
    if not isinstance(place, NetworkPlace):
        yield
        return
    try:
        place.stage.everything()
        yield
    finally:
        place.stage.drop()


def renewed_here(place: ReplicaPlace) -> None:
    """The same for a computer that stands by: what came before stays, and only what is missing
    comes. Raises Unavailable.
    """
    if isinstance(place, NetworkPlace):
        place.stage.renew()


@contextmanager
def taken(place: ReplicaPlace, now: datetime) -> Iterator[None]:
    """This computer has the shop from the block on; where that fails, who had it before.

    First, so that the other one stops taking saves before they are brought here.
    """
    if not data_replica.live_folders(place.folder):
        yield  # nothing to bring: said by whoever looks for it
        return
    before = place.lease()
    place.take(data_lease.ours(place.data_dir, now))
    try:
        yield
    except BaseException:
        if before is not None:
            place.take(before)
        raise


def _last_line(said: str) -> str:
    lines = said.strip().splitlines()
    return lines[-1] if lines else message("it is empty")
