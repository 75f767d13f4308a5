"""python tests/bench/loss_window.py [KILLS]: what a machine that dies takes along, with a second
place in a folder. Ended early it leaves nothing running.
"""

from __future__ import annotations

import signal
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from support.cast import CAST, PASSPHRASE
from support.ticket_rows import make_job
from system.losses import measure

from fitcounter.desk import shop
from fitcounter.desk.shop import Act, open_store
from fitcounter.desk.staff import secrets


def main(kills: int) -> None:
    with tempfile.TemporaryDirectory() as place:
        data_dir, second, room = (Path(place) / name for name in ("data", "second", "new"))
        for one in (data_dir, second, room):
            one.mkdir()
        store, act = open_store(data_dir / "shop.db"), Act(datetime.now(UTC), 1)
        hashed = secrets.hash_secret(PASSPHRASE)
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
        print(measure(data_dir, job.ticket_id, second, room, kills).words())


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
