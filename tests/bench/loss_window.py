"""python tests/bench/loss_window.py [KILLS] [folder | s3 | sftp]: what a machine that dies takes
along, with its off-site copy in a folder, in a store that speaks S3 or with OpenSSH's server, both
on the loopback. Ended early it leaves nothing running.
"""

from __future__ import annotations

import signal
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from support.cast import CAST, PASSPHRASE
from support.open_ssh import open_ssh
from support.s3_server import s3_server
from support.ticket_rows import make_job
from system.losses import measure

from fitcounter.desk import shop
from fitcounter.desk.data.off_site_settings import FOLDER, S3, SFTP, OffSite
from fitcounter.desk.shop import Act, open_store
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.store import sftp_files


@contextmanager
def off_site(kind: str, data_dir: Path, folder: Path) -> Iterator[OffSite]:
    """While the block runs it is reached."""
    if kind == S3:
        with s3_server(folder) as made:
            yield made
    elif kind == SFTP:
        with open_ssh(folder) as server:
            server.let_in(sftp_files.public_key(data_dir))
            yield server.place()
    else:
        yield OffSite(kind=FOLDER, folder=str(folder))


def main(kills: int, kind: str) -> None:
    with tempfile.TemporaryDirectory() as place:
        data_dir, room = Path(place) / "data", Path(place) / "new"
        for one in (data_dir, room):
            one.mkdir()
        store, act = open_store(data_dir / "shop.db"), Act(datetime.now(UTC), 1)
        hashed = passphrase_and_pin.hash_secret(PASSPHRASE)
        with store.write_tx():
            for initials, (name, role) in CAST.items():
                store.insert(
                    "staff",
                    name=name,
                    initials=initials,
                    role=role,
                    passphrase_hash=hashed,
                    created_at="2026-01-01T00:00:00Z",
                )
        shop.choose(store, act, name="The bench")
        job = make_job(store, act, state="shelved")
        store.close()
        with off_site(kind, data_dir, Path(place) / "second") as second:
            print(kind, measure(data_dir, job.ticket_id, second, room, kills).words())


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))
    given = sys.argv[1:]
    main(int(given[0]) if given else 40, given[1] if len(given) > 1 else FOLDER)
