"""How much a machine that dies takes along: server, replicator and Litestream are killed with -9
under steady saves, again and again.

After each kill the shop is brought back from its off-site copy, and every save that was answered is
looked for there.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import quote, urlencode

from support.cast import PASSPHRASE
from support.followed_shop import across_at, wait_for
from system.killed_shop import CHECKOUT, PHONES, KilledShop, Phone

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data.off_site_settings import KEYS, S3, SFTP, OffSite
from fitcounter.serving import off_site_copy_follows_shop, off_site_place, server
from fitcounter.store import job_log, sftp_known_host
from fitcounter.store.database import Store


@dataclass
class Losses:
    """windows: for each kill, seconds from the first answered save that is lost to the kill, 0
    where none is. holes: answered saves that are missing although a later one of the same phone is
    there."""

    windows: list[float] = field(default_factory=list)
    answered: int = 0
    lost: int = 0
    holes: int = 0

    def words(self) -> str:
        ordered = sorted(self.windows)
        return (
            f"{len(ordered)} kills of server, replicator and Litestream; {self.answered} saves"
            f" answered, {self.lost} of them lost at the kill, {self.holes} out of order; loss"
            f" window: longest {ordered[-1]:.2f} s, median {ordered[len(ordered) // 2]:.2f} s"
        )


def measure(
    data_dir: Path, ticket_id: int, second: OffSite, room: Path, kills: int, seed: int = 3
) -> Losses:
    """data_dir: a shop with the cast and an open ticket.

    second: where nothing is yet. room: for the shops that are brought back.
    """
    losses, chance = Losses(), random.Random(seed)
    port = server.free_port("127.0.0.1", 0)
    phones = [Phone(port, "CO", PASSPHRASE) for _ in range(PHONES)]
    with (
        KilledShop(data_dir, port, phones, f"/tickets/{ticket_id}/call") as shop,
        Replicator(data_dir, second) as replicator,
    ):
        shop.next()
        wait_for(lambda: answers(phones[0]))
        for one in phones:
            one.sign_in()
        replicator.start()
        with shop.saving():
            for n in range(kills):
                shop.wait_for(len(shop.tally.acknowledged) + PHONES)
                time.sleep(chance.uniform(0.3, 2.5))
                os.kill(shop.child, signal.SIGKILL)
                killed_at = time.monotonic()
                replicator.kill()
                replicator.bring_back(room / str(n))
                look(losses, dict(shop.tally.when), killed_at, room / str(n))
                replicator.start()
                shop.next()
        assert not shop.tally.refused, shop.tally.refused[0]
    losses.answered = len(shop.tally.acknowledged)
    return losses


class Replicator:
    """`fitcounter replicate` with its Litestream, killed and started again. Used as a context: none
    of it outlives the block, nor the process that opened it, however that ends.
    """

    def __init__(self, data_dir: Path, second: OffSite) -> None:
        self.data_dir, self.second = data_dir, second
        self.process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Replicator:
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()

    def start(self) -> None:
        """Returns once it says that everything is across."""
        (self.data_dir / job_log.SECOND).unlink(missing_ok=True)
        places = ["--data", str(self.data_dir), "--to", address(self.second)]
        keys = dict(zip(KEYS, (self.second.key, self.second.secret), strict=True))
        self.process = subprocess.Popen(
            [sys.executable, "-m", "fitcounter", "replicate", *places],
            cwd=CHECKOUT,
            stdout=subprocess.DEVNULL,
            env=os.environ | keys,
            start_new_session=True,
            preexec_fn=off_site_copy_follows_shop.end_with_parent,
        )
        wait_for(lambda: across_at(self.data_dir))

    def kill(self) -> None:
        """Takes Litestream along, which is of its group."""
        if self.process is not None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
            self.process = None

    def bring_back(self, new: Path) -> None:
        """On a machine with nothing on it but what it gets in by."""
        new.mkdir()
        for name in (sftp_known_host.KEY, f"{sftp_known_host.KEY}.pub"):
            if (self.data_dir / name).exists():
                shutil.copy2(self.data_dir / name, new / name)
        place = off_site_place.of(new, self.second)
        with off_site_place.brought_here(place):
            data_replica.bring_back(place.folder, new, datetime.now(UTC), place.fetch)


def address(place: OffSite) -> str:
    """As the command line names it."""
    if place.kind == SFTP:
        return f"sftp://{place.user}@{place.host}:{place.port}/{quote(place.folder)}"
    asked = urlencode({"endpoint": place.host, "region": place.region})
    return (
        f"s3://{place.bucket}/{quote(place.folder)}?{asked}" if place.kind == S3 else place.folder
    )


def answers(phone: Phone) -> bool:
    try:
        return phone.ask("GET", "/sign-in")[0] == 200
    except OSError:
        return False


def look(losses: Losses, when: dict[str, float], killed_at: float, new: Path) -> None:
    """Counts what is not in the shop that was brought back, and drops it."""
    store = Store(new / "shop.db")
    there = {str(row["note"]) for row in store.rows("SELECT note FROM calls")}
    store.close()
    shutil.rmtree(new)
    lost = {note: at for note, at in when.items() if note not in there}
    losses.lost += len(lost)
    losses.windows.append(max((killed_at - at for at in lost.values()), default=0.0))
    for note in lost:
        _, phone, number = note.split()
        losses.holes += any(
            f"call {phone} {n}" in there for n in range(int(number) + 1, int(number) + 50)
        )
