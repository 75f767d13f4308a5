"""python tests/bench/open_elsewhere.py [TICKETS] [PHOTOS]: how long a new machine takes until the
shop is open there, from an off-site copy in a folder; by itself 10,000 tickets and 2,000 photos.

Prints seconds until `take-over` has brought the shop and checked it, and from there until the
first page of `serve` is answered. The new machine and the off-site copy are on this one's disk.
"""

from __future__ import annotations

import secrets
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from growth import grown
from support.cast import PASSPHRASE
from support.followed_shop import followed, wait_for
from support.paths import CHECKOUT
from system.killed_shop import Phone
from system.losses import answers

from fitcounter.serving import off_site_copy_follows_shop, server

PHOTO_BYTES = 250_000
LINE = (sys.executable, "-m", "fitcounter")


def main(tickets: int, photos: int) -> None:
    with tempfile.TemporaryDirectory() as place:
        data_dir, there, new = (Path(place) / name for name in ("data", "there", "new"))
        data_dir.mkdir()
        grown(data_dir, tickets)
        (data_dir / "photos").mkdir(exist_ok=True)
        for n in range(photos):
            (data_dir / "photos" / f"{n:06}.jpg").write_bytes(secrets.token_bytes(PHOTO_BYTES))
        with followed(data_dir, there):
            pass
        size = sum(path.stat().st_size for path in there.rglob("*") if path.is_file())
        begun = time.monotonic()
        told = ["take-over", "--from", str(there), "--data", str(new)]
        subprocess.run([*LINE, *told], cwd=CHECKOUT, check=True, stdout=subprocess.DEVNULL)
        brought = time.monotonic()
        opened = first_page_at(new)
        print(
            f"{tickets:,} tickets, {photos:,} photos, {size / 1e6:.0f} MB off-site: taken over in"
            f" {brought - begun:.1f} s, first page {opened - brought:.1f} s after"
        )


def first_page_at(data_dir: Path) -> float:
    port = server.free_port("127.0.0.1", 0)
    served = subprocess.Popen(
        [*LINE, "serve", "--data", str(data_dir), "--port", str(port)],
        cwd=CHECKOUT,
        stdout=subprocess.DEVNULL,
        preexec_fn=off_site_copy_follows_shop.end_with_parent,
    )
    phone = Phone(port, "CO", PASSPHRASE)
    try:
        wait_for(lambda: answers(phone), 120)
        return time.monotonic()
    finally:
        phone.hang_up()
        served.send_signal(signal.SIGTERM)
        served.wait()


if __name__ == "__main__":
    given = [int(one) for one in sys.argv[1:]]
    main(*(given + [10_000, 2_000][len(given) :]))
