"""The invented shop as `fitcounter demo` serves it, and somebody signed in to it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import urllib.parse
import urllib.request
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path

from support.paths import CHECKOUT

PROC = Path("/proc")
# pandas and numpy are brought by the tests' data sets alone: a shop's own environment has neither
DEMO = """
import sys
sys.modules["pandas"] = sys.modules["numpy"] = None
from fitcounter.cli.main import main
sys.exit(main(sys.argv[1:]))
"""
_COMMAND = (sys.executable, "-u", "-c", DEMO, "demo")


class Visitor:
    """The owner of the invented shop, signed in."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.cookies = CookieJar()
        self.browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))
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


def load(folder: Path) -> None:
    """The invented shop as it begins, in this folder."""
    subprocess.run(
        [*_COMMAND, "--data", str(folder), "--no-serve"],
        cwd=CHECKOUT,
        check=True,
        stdout=subprocess.DEVNULL,
    )


@contextmanager
def served(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The process and the address of the invented shop in this folder, loaded where it is not."""
    if not (folder / "demo").exists():
        load(folder)
    with subprocess.Popen(
        [*_COMMAND, "--data", str(folder), "--keep"],
        cwd=CHECKOUT,
        stdout=subprocess.PIPE,
        text=True,
    ) as program:
        try:
            assert program.stdout is not None
            address = next(
                found[0]
                for said in program.stdout
                if (found := re.findall(r"http://[\w.:]+", said)) is not None and found
            )
            yield program, address
        finally:
            program.kill()


def beside(pid: int) -> dict[int, str]:
    """The processes that the server started."""
    lines = {}
    for process in PROC.glob("[0-9]*"):
        try:
            parent = int((process / "stat").read_text().rpartition(")")[2].split()[1])
            line = (process / "cmdline").read_text().replace("\0", " ")
        except OSError:
            continue
        if parent == pid:
            lines[int(process.name)] = line
    return lines
