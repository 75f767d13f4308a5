"""What the server and the processes beside it hold.

python tests/bench/memory.py [item pages, 10000 [papers and photos, 100]]

The invented shop is served as `fitcounter demo` serves it. Resident memory of the server after its
first page; of the server and of each process that it started, after so many papers and photos of
the largest size that is taken, two of each at once; and of the server after so many item pages
more. Also says which of the libraries for papers, photos and codes the server has mapped.

Exits 1 when the server is over 90 MB after its first page or 110 MB after papers and photos, a
process beside it over 200 MB, the server grows by more than 5 MB over the last half of the pages,
or one of the libraries is there.
"""

from __future__ import annotations

import re
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from PIL import Image
from support.served_demo import Visitor, beside, served

FIRST_MB, SERVER_MB, BESIDE_MB, GROWTH_MB = 90, 110, 200, 5
PAPERS = ("papers/evening.pdf", "papers/rulers.pdf", "papers/slips.pdf", "guide.pdf")
MANY = 100
TICKET_HOLDS = 12
PROC = Path("/proc")
LIBRARIES = {"Pillow": "/PIL/", "Pango": "libpango", "cairo": "libcairo"}


def largest_photo() -> bytes:
    """40 megapixels, just under 12 MB."""
    noise = Image.effect_noise((1460, 1095), 90).resize((7300, 5475), Image.Resampling.BICUBIC)
    colour = Image.merge("RGB", (noise, noise.rotate(90), noise.rotate(180)))
    for quality in range(95, 20, -3):
        out = BytesIO()
        colour.save(out, "JPEG", quality=quality)
        if out.tell() < 12 * 1024 * 1024:
            return out.getvalue()
    raise SystemExit("no quality makes it small enough")


def resident_mb(pid: int) -> float:
    line = next(
        one for one in (PROC / str(pid) / "status").read_text().splitlines() if "VmRSS" in one
    )
    return int(line.split()[1]) / 1024


def at_two(work: Callable[[int], None], times: int) -> None:
    with ThreadPoolExecutor(2) as people:
        list(people.map(work, range(times)))


def item_pages(visitor: Visitor, item: str, requests: int) -> None:
    for _ in range(requests):
        visitor.get(item)


def measured(
    pid: int, visitor: Visitor, requests: int, many: int
) -> Iterator[tuple[str, float, float]]:
    """What each figure is, how large it is and may be, in MB."""
    visitor.sign_in()
    visitor.get("")
    yield "server, first page", resident_mb(pid), FIRST_MB
    begun = time.monotonic()
    photo = largest_photo()
    at_two(lambda n: visitor.get(PAPERS[n % len(PAPERS)]) and None, many)
    at_two(lambda n: visitor.send_photo(1 + n // TICKET_HOLDS, photo), many)
    print(f"{many} papers and {many} photos in {time.monotonic() - begun:.0f} s")
    yield "server, after them", resident_mb(pid), SERVER_MB
    for other in sorted(beside(pid)):
        yield f"process beside it, {other}", resident_mb(other), BESIDE_MB
    page = visitor.get("bench").decode() + visitor.get("").decode()
    item = re.findall(r'href="/(items/\d+)"', page)[0]
    item_pages(visitor, item, requests // 2)
    half = resident_mb(pid)
    item_pages(visitor, item, requests - requests // 2)
    yield f"growth, {requests // 2} pages", resident_mb(pid) - half, GROWTH_MB


def mapped(pid: int) -> list[str]:
    """The libraries that are not to be in the server."""
    maps = (PROC / str(pid) / "maps").read_text()
    return [name for name, part in LIBRARIES.items() if part in maps]


def main(requests: int, many: int) -> int:
    over = 0
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder) / "shop") as (program, address),
    ):
        pid = program.pid
        for name, held, most in measured(pid, Visitor(address), requests, many):
            over += held > most
            print(f"{'OVER' if held > most else 'ok  '} {name}: {held:.1f} MB, at most {most}")
        loaded = mapped(pid)
    print(f"{'OVER' if loaded else 'ok  '} in the server: {', '.join(loaded) or 'none of them'}")
    return int(bool(over or loaded))


if __name__ == "__main__":
    given = [int(argument) for argument in sys.argv[1:]]
    sys.exit(main(*[*given, *(10_000, MANY)[len(given) :]]))
