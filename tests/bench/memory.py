"""What the server and the processes beside it hold.

python tests/bench/memory.py [item pages, 10000]

The invented shop is served as `fitcounter demo` serves it. Resident memory of the server after its
first page; of the server and of each process that it started, after 100 papers and 100 photos of
the largest size that is taken, two of each at once; and of the server after so many item pages
more. Also says which of the libraries for papers, photos and codes the server has mapped.

Exits 1 when the server is over 90 MB after its first page or 110 MB after papers and photos, a
process beside it over 200 MB, the server grows by more than 5 MB over the last half of the pages,
or one of the libraries is there.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
import time
import urllib.parse
import urllib.request
import uuid
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from http.cookiejar import CookieJar
from io import BytesIO
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from PIL import Image
from support.paths import CHECKOUT

FIRST_MB, SERVER_MB, BESIDE_MB, GROWTH_MB = 90, 110, 200, 5
PAPERS = ("papers/evening.pdf", "papers/rulers.pdf", "papers/slips.pdf", "guide.pdf")
MANY = 100
TICKET_HOLDS = 12
PROC = Path("/proc")
# pandas and numpy are brought by the tests' data sets alone: a shop's own environment has neither
DEMO = """
import sys
sys.modules["pandas"] = sys.modules["numpy"] = None
from fitcounter.cli.main import main
sys.exit(main(sys.argv[1:]))
"""
LIBRARIES = {"Pillow": "/PIL/", "Pango": "libpango", "cairo": "libcairo"}


class Visitor:
    """The owner of the invented shop, signed in."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
        self.token = ""

    def get(self, path: str) -> bytes:
        with self.browser.open(f"{self.address}/{path}", timeout=300) as answer:
            content: bytes = answer.read()
        return content

    def post(self, path: str, body: bytes, kind: str) -> None:
        headers = {"Origin": self.address, "Content-Type": kind}
        request = urllib.request.Request(f"{self.address}/{path}", body, headers)
        with self.browser.open(request, timeout=300) as answer:
            answer.read()

    def sign_in(self) -> None:
        story = json.loads((CHECKOUT / "seed_scenario" / "shop.json").read_text(encoding="utf-8"))
        owner = next(person for person in story["people"] if person["role"] == "owner")
        self.token = self.token_of("sign-in")
        typed = {key: owner[key] for key in ("initials", "passphrase")}
        form = urllib.parse.urlencode({**typed, "csrf_token": self.token}).encode()
        self.post("sign-in", form, "application/x-www-form-urlencoded")
        self.token = self.token_of("tickets/1")

    def token_of(self, path: str) -> str:
        found = re.search(r'name="csrf_token"[^>]* value="([^"]+)"', self.get(path).decode())
        assert found is not None, path
        return found[1]

    def send_photo(self, ticket_id: int, photo: bytes) -> None:
        boundary = uuid.uuid4().hex
        fields = {"csrf_token": self.token, "moment": "before", "submission_id": uuid.uuid4().hex}
        parts = [
            f'--{boundary}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
            for name, value in fields.items()
        ]
        head = (
            f'--{boundary}\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n'
            "Content-Type: image/jpeg\r\n\r\n"
        )
        body = "".join(parts).encode() + head.encode() + photo + f"\r\n--{boundary}--\r\n".encode()
        self.post(f"tickets/{ticket_id}/photos", body, f"multipart/form-data; boundary={boundary}")


@contextmanager
def served(folder: Path) -> Iterator[tuple[int, str]]:
    """The process and the address of the invented shop."""
    line = [sys.executable, "-u", "-c", DEMO, "demo", "--data", str(folder)]
    subprocess.run([*line, "--no-serve"], cwd=CHECKOUT, check=True, stdout=subprocess.DEVNULL)
    with subprocess.Popen(
        [*line, "--keep"], cwd=CHECKOUT, stdout=subprocess.PIPE, text=True
    ) as program:
        try:
            assert program.stdout is not None
            address = next(
                found[0]
                for said in program.stdout
                if (found := re.findall(r"http://[\w.:]+", said)) is not None and found
            )
            yield program.pid, address
        finally:
            program.terminate()


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


def beside(pid: int) -> dict[int, str]:
    """The processes that the server started, without the one that only cleans up after them."""
    lines = {}
    for process in PROC.glob("[0-9]*"):
        try:
            parent = int((process / "stat").read_text().rpartition(")")[2].split()[1])
            line = (process / "cmdline").read_text().replace("\0", " ")
        except OSError:
            continue
        if parent == pid and "resource_tracker" not in line:
            lines[int(process.name)] = line
    return lines


def at_two(work: Callable[[int], None]) -> None:
    with ThreadPoolExecutor(2) as people:
        list(people.map(work, range(MANY)))


def item_pages(visitor: Visitor, item: str, requests: int) -> None:
    for _ in range(requests):
        visitor.get(item)


def measured(pid: int, visitor: Visitor, requests: int) -> Iterator[tuple[str, float, float]]:
    """What each figure is, how large it is and may be, in MB."""
    visitor.sign_in()
    visitor.get("")
    yield "server, first page", resident_mb(pid), FIRST_MB
    begun = time.monotonic()
    photo = largest_photo()
    at_two(lambda n: visitor.get(PAPERS[n % len(PAPERS)]) and None)
    at_two(lambda n: visitor.send_photo(1 + n // TICKET_HOLDS, photo))
    print(f"{MANY} papers and {MANY} photos in {time.monotonic() - begun:.0f} s")
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


def main(requests: int) -> int:
    over = 0
    with tempfile.TemporaryDirectory() as folder, served(Path(folder) / "shop") as (pid, address):
        for name, held, most in measured(pid, Visitor(address), requests):
            over += held > most
            print(f"{'OVER' if held > most else 'ok  '} {name}: {held:.1f} MB, at most {most}")
        loaded = mapped(pid)
    print(f"{'OVER' if loaded else 'ok  '} in the server: {', '.join(loaded) or 'none of them'}")
    return int(bool(over or loaded))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000))
