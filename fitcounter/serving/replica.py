"""`fitcounter replicate`: lets Litestream follow the shop's file into a second place, and copies
what lies beside it.

Litestream (https://litestream.io, version 0.5) runs as a process of its own and reads the log of
the shop's file. Once a second it is asked, over its own socket, to bring everything across and to
say so; only then is an instant noted as safe.
"""

from __future__ import annotations

import ctypes
import http.client
import json
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from fitcounter.desk.data import replica as data_replica
from fitcounter.errors import Conflict, NotFound, Unavailable, message

LOOK_S = 1.0
START_S = 30.0
SWEEP_AGAIN_S = 60.0
PROVE_FIRST_S, PROVE_S = 60.0, 900.0
# how often Litestream itself looks and writes across, so that a dead machine loses less than a
# second
FOLLOW = "250ms"
PROGRAM = "litestream"
TRIES = 50
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


def configuration(shop: Path, live: Path, control: Path) -> str:
    """Litestream's configuration, as JSON, which is YAML too."""
    told = {
        "logging": {"level": "warn"},
        "socket": {"enabled": True, "path": str(control), "permissions": 0o600},
        "snapshot": {"interval": "24h", "retention": "24h"},
        "dbs": [
            {
                "path": str(shop),
                "monitor-interval": FOLLOW,
                "replica": {"type": "file", "path": str(live / "db"), "sync-interval": FOLLOW},
            }
        ],
    }
    return json.dumps(told, indent=1)


class Control(http.client.HTTPConnection):
    """HTTP over Litestream's socket."""

    def __init__(self, path: Path) -> None:
        super().__init__("localhost", timeout=20)
        self.path = path

    def connect(self) -> None:
        self.sock = socket.socket(socket.AF_UNIX)
        self.sock.settimeout(self.timeout)
        self.sock.connect(str(self.path))

    def positions(self, shop: Path) -> tuple[int, int]:
        """Brings across what is saved by now: how far the shop has come, how far the second place.

        Raises OSError or HTTPException.
        """
        self.request(
            "POST",
            "/sync",
            json.dumps({"path": str(shop), "wait": True}),
            {"Content-Type": "application/json"},
        )
        answer = self.getresponse()
        told = json.loads(answer.read() or b"{}")
        if answer.status != http.HTTPStatus.OK:
            raise http.client.HTTPException(str(told.get("error", answer.status)))
        return int(told["txid"]), int(told["replicated_txid"])


class Follower:
    """One Litestream process that follows the shop into one live folder. Used as a context."""

    def __init__(self, data_dir: Path, live: Path) -> None:
        self.shop, self.live = data_dir / "shop.db", live
        self.room = Path(
            tempfile.mkdtemp(prefix="fitcounter-")
        )  # a socket's name must be short (unix(7): 108 bytes)
        self.config = data_dir / "litestream.yml"
        self.log = data_dir / "litestream.log"

    def __enter__(self) -> Follower:
        self.config.touch(mode=0o600)
        self.config.write_text(
            configuration(self.shop, self.live, self.room / "s"), encoding="utf-8"
        )
        with self.log.open("wb") as log:
            line = [program(), "replicate", "-no-expand-env", "-config", str(self.config)]
            self.process = subprocess.Popen(
                line, stdin=subprocess.DEVNULL, stdout=log, stderr=log, preexec_fn=end_with_parent
            )
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.process.terminate()
        try:
            self.process.wait(15)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        shutil.rmtree(self.room, ignore_errors=True)

    def all_across(self) -> None:
        """Raises Unavailable when it is not known that everything is across."""
        control = Control(self.room / "s")
        try:
            wanted, across = control.positions(self.shop)
            for _ in range(
                TRIES
                # somebody saved between its two looks: what was saved before we asked is what we
                # want
            ):
                if across >= wanted:
                    return
                time.sleep(0.1)
                across = control.positions(self.shop)[1]
            raise http.client.HTTPException("it is behind")
        except (OSError, http.client.HTTPException, ValueError, KeyError) as error:
            raise Unavailable(
                message(
                    "The off-site copy cannot be brought up to date: {error}. {last_words}",
                    error=error or type(error).__name__,
                    last_words=self._last_words(),
                )
            ) from error
        finally:
            control.close()

    def _last_words(self) -> str:
        with suppress(OSError):
            lines = self.log.read_text(encoding="utf-8", errors="replace").splitlines()
            return (
                lines[-1][-300:]
                if lines
                else message("Is there room on that disk, and is it plugged in?")
            )
        return ""


def _last_line(said: str) -> str:
    lines = said.strip().splitlines()
    return lines[-1] if lines else message("it is empty")


def end_with_parent() -> None:
    """Linux, prctl(2) PR_SET_PDEATHSIG: what was started ends when we are killed, and never follows
    a shop for nobody.
    """
    with suppress(AttributeError, OSError):
        ctypes.CDLL(None).prctl(1, signal.SIGTERM)


def follow(data_dir: Path, folder: Path, enough: threading.Event, look_s: float = LOOK_S) -> None:
    """Follows the shop until told to stop; starts again after whatever went wrong.

    Raises when it cannot begin at all.
    """
    program()
    data_replica.check(data_dir, folder)
    with data_replica.only_one(data_dir) as free:
        if not free:
            raise Conflict(
                message(
                    "This computer makes the off-site copy of this shop already. Stop that program"
                    " first."
                )
            )
        while not enough.is_set():
            try:
                _follow_once(data_dir, folder, enough, look_s)
            except (Unavailable, OSError) as error:
                words = (
                    error.sentence
                    if isinstance(error, Unavailable)
                    else message(
                        "The off-site copy cannot be written: {reason}.", reason=error.strerror
                    )
                )
                data_replica.note(data_dir, folder, datetime.now(UTC), words)
                enough.wait(5 * look_s)


def _follow_once(data_dir: Path, folder: Path, enough: threading.Event, look_s: float) -> None:
    """From a new live folder until told to stop, or until something was erased, or until it
    fails.
    """
    swept = data_replica.wants_sweep(data_dir, folder)
    if swept:
        data_replica.sweep(data_dir, folder)
    rest_until = (
        time.monotonic() + SWEEP_AGAIN_S
    )  # where somebody read for so long that the file could not be written anew
    live = data_replica.begin(data_dir, folder, datetime.now(UTC))
    with Follower(data_dir, live) as follower:
        _until_first_across(follower, enough)
        data_replica.drop_others(folder, live, datetime.now(UTC), all_of_them=swept)
        prove_at = time.monotonic() + PROVE_FIRST_S
        while not enough.is_set():
            asked_at = datetime.now(UTC)  # what is saved by now is across once it answers
            follower.all_across()
            if data_replica.wants_sweep(data_dir, folder) and (
                not swept or time.monotonic() > rest_until
            ):
                return
            data_replica.mirror(data_dir, folder)
            if time.monotonic() > prove_at:
                data_replica.prove(data_dir, live, fetch, asked_at)
                prove_at = time.monotonic() + PROVE_S
            data_replica.note(data_dir, folder, asked_at)
            enough.wait(look_s)


def _until_first_across(follower: Follower, enough: threading.Event) -> None:
    waited = 0.0
    while not enough.is_set():
        try:
            return follower.all_across()
        except Unavailable:
            if waited >= START_S or follower.process.poll() is not None:
                raise
            enough.wait(0.2)
            waited += 0.2
    return None


def fetch(live: Path, target: Path) -> None:
    """Makes the shop's file anew from a live folder. Raises Unavailable."""
    line = [
        program(),
        "restore",
        "-no-expand-env",
        "-o",
        str(target),
        (live / "db").absolute().as_uri(),
    ]
    done = subprocess.run(line, capture_output=True, text=True, stdin=subprocess.DEVNULL)
    if done.returncode:
        raise Unavailable(
            message(
                "{name} gives no file: {reason}.", name=live.name, reason=_last_line(done.stderr)
            )
        )
