"""A shop whose server is killed with -9 again and again while phones save, and what is left to
count afterwards.

Run as a program it is the warm parent: all is imported and wired, the shop's file is not open, and
each line on its standard input kills the server of before and forks the next one, which opens the
file and serves as `fitcounter serve` does, its keeper beside it.
"""

from __future__ import annotations

import gc
import http.client
import math
import os
import random
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from support.paths import CHECKOUT

if TYPE_CHECKING:
    from fitcounter.settings import Settings

PHONES = 4
SOME_SAVES_S = 0.02  # longer than one save takes: a kill meets every part of it
AN_ANSWER_S = 300  # a machine that is busy elsewhere is slow, not at fault
A_START_S = 0.15  # one of ten is killed while it starts
FORM = {"Content-Type": "application/x-www-form-urlencoded", "Accept": "text/html"}


def warm_parent(data_dir: str, port: str) -> None:
    """`fitcounter serve` as far as its keeper, in this process; from there on in one child after
    another, until the standard input ends.
    """
    from fitcounter.cli import main as cli_main
    from fitcounter.desk.shop import open_store
    from fitcounter.serving import background_thread, server

    keeping, serve = background_thread.keeping, server.serve

    def lives(
        application: server.Application,
        settings: Settings,
        greeting: str,
        hurry: Callable[[], None],
        begun: server.Begun | None,
    ) -> None:
        child = 0
        gc.freeze()  # what all have in common is not looked through, and so not copied, by each
        for _ in sys.stdin:
            _kill(child)
            child = os.fork()
            if child == 0:
                # its greeting; the numbers below are read
                os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
                # what the parent did at its own start
                open_store(settings.data_dir / "shop.db").close()
                with keeping(settings):
                    serve(application, settings, greeting, hurry, begun)
                os._exit(0)
            print(child, flush=True)
        _kill(child)

    background_thread.keeping, server.serve = nullcontext, lives  # type: ignore[assignment]
    cli_main.main(["serve", "--data", data_dir, "--port", port])


def _kill(child: int) -> None:
    if child:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)


@dataclass
class Phone:
    """Somebody signed in who saves one call after another, and sends the same again until it is
    answered.
    """

    port: int
    initials: str
    passphrase: str
    cookie: str = ""
    token: str = ""
    line: http.client.HTTPConnection | None = None

    def ask(self, method: str, path: str, data: dict[str, str] | None = None) -> tuple[int, str]:
        """Raises OSError or HTTPException where no answer came."""
        if self.line is None:
            self.line = http.client.HTTPConnection("localhost", self.port, timeout=10)
        headers = {**(FORM if data else {}), "Cookie": self.cookie}
        try:
            self.line.request(method, path, urlencode(data) if data else None, headers)
            answer = self.line.getresponse()
            text = answer.read().decode()
        except (OSError, http.client.HTTPException):
            self.hang_up()
            raise
        for value in answer.headers.get_all("Set-Cookie") or []:
            self.cookie = value.split(";")[0]
        return answer.status, text

    def hang_up(self) -> None:
        if self.line is not None:
            self.line.close()
            self.line = None

    def sign_in(self) -> None:
        """The real door, then a page of the new session for its token."""
        self._read_token("/sign-in")
        sent = {"csrf_token": self.token, "initials": self.initials, "passphrase": self.passphrase}
        status, text = self.ask("POST", "/sign-in", sent)
        assert status == 303, text
        self._read_token("/me")

    def _read_token(self, path: str) -> None:
        found = re.search(
            r'name="csrf[-_]token" (?:value|content)="([^"]+)"', self.ask("GET", path)[1]
        )
        assert found
        self.token = found.group(1)


@dataclass
class Tally:
    """What the phones saw.

    acknowledged: notes of the saves that were answered; unanswered: sendings that got no answer.
    """

    acknowledged: list[str] = field(default_factory=list)
    unanswered: int = 0
    busy: int = 0
    refused: list[str] = field(default_factory=list)
    when: dict[str, float] = field(
        default_factory=dict
    )  # note: when it was answered, on the monotonic clock


class KilledShop:
    """The warm parent and the phones. Used as a context."""

    def __init__(self, data_dir: Path, port: int, phones: list[Phone], path: str) -> None:
        self.phones, self.path, self.tally, self.enough = phones, path, Tally(), threading.Event()
        paths = os.pathsep.join([str(CHECKOUT), str(CHECKOUT / "tests")])
        self.parent = subprocess.Popen(
            [sys.executable, __file__, str(data_dir), str(port)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, "PYTHONPATH": paths},
        )

    def __enter__(self) -> KilledShop:
        return self

    def __exit__(self, *_: object) -> None:
        self.enough.set()
        for one in self.phones:
            one.hang_up()
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.close()
        self.parent.wait(30)
        self.parent.stdout.close()

    def next(self) -> None:
        """Kills the server of before, if there is one, and starts the next."""
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.write("next\n")
        self.parent.stdin.flush()
        pid = self.parent.stdout.readline().strip()
        assert pid.isdigit(), "the server did not start"
        self.child = int(pid)

    @contextmanager
    def saving(self) -> Iterator[None]:
        """While the block runs every phone saves; at its end each finishes its last save."""
        threads = [
            threading.Thread(target=self._save_on, args=(n,)) for n in range(len(self.phones))
        ]
        for one in threads:
            one.start()
        try:
            yield
        finally:
            self.enough.set()
            for one in threads:
                one.join()

    def run(self, kills: int, saves: int, seed: int) -> None:
        """Kills at moments of chance until both counts are reached, then lets every phone finish
        its last save.
        """
        chance, each = random.Random(seed), math.ceil(saves / kills)
        with self.saving():
            done = 0
            while done < kills or len(self.tally.acknowledged) < saves:
                if chance.random() < 0.9:
                    self.wait_for(len(self.tally.acknowledged) + chance.randint(1, 2 * each))
                    time.sleep(chance.uniform(0, SOME_SAVES_S))
                else:
                    time.sleep(chance.uniform(0, A_START_S))
                self.next()
                done += 1
            self.kills = done

    def wait_for(self, count: int) -> None:
        until = time.monotonic() + AN_ANSWER_S
        while len(self.tally.acknowledged) < count and not self.tally.refused:
            assert time.monotonic() < until, "no save was answered for five minutes"
            time.sleep(0.002)
        assert not self.tally.refused, self.tally.refused[0]

    def _save_on(self, number: int) -> None:
        n = 0
        while not self.enough.is_set():
            note = f"call {number} {n}"
            form = {
                "csrf_token": self.phones[number].token,
                "submission_id": f"kill-{number}-{n:06}",
                "how": "left-word",
                "note": note,
            }
            if not self._until_answered(self.phones[number], form):
                return
            self.tally.when[note] = time.monotonic()
            self.tally.acknowledged.append(note)
            n += 1

    def _until_answered(self, phone: Phone, form: dict[str, str]) -> bool:
        """The same submission again and again; False where it was refused, which must not be."""
        until, status, text = time.monotonic() + AN_ANSWER_S, 0, "no answer at all"
        while time.monotonic() < until:
            try:
                status, text = phone.ask("POST", self.path, form)
            except ConnectionRefusedError:  # nobody listens: it was not sent
                time.sleep(0.01)
                continue
            except (OSError, http.client.HTTPException):
                self.tally.unanswered += 1
                continue
            if status == 303:
                return True
            if status != 503:
                break
            self.tally.busy += 1
        self.tally.refused.append(f"{status} {text[:500]}")
        return False


if __name__ == "__main__":
    warm_parent(sys.argv[1], sys.argv[2])
