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
import tempfile
import threading
import time
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.errors import Conflict, Unavailable, message
from fitcounter.serving.off_site_place import (
    NetworkPlace,
    ReplicaPlace,
    configuration,
    environment,
    program,
)

LOOK_S = 1.0
START_S = 30.0
SWEEP_AGAIN_S = 60.0
PROVE_FIRST_S = 60.0
TRIES = 50


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

    def __init__(self, data_dir: Path, place: ReplicaPlace, live: Path) -> None:
        self.shop, self.place, self.live = data_dir / "shop.db", place, live
        self.room = Path(
            tempfile.mkdtemp(prefix="fitcounter-")
        )  # a socket's name must be short (unix(7): 108 bytes)
        self.config = data_dir / "litestream.yml"
        self.log = data_dir / "litestream.log"

    def __enter__(self) -> Follower:
        self.config.unlink(missing_ok=True)
        self.config.touch(mode=0o600)
        told = configuration(self.shop, self.place.replica(self.live), self.room / "s")
        self.config.write_text(told, encoding="utf-8")
        with self.log.open("wb") as log:
            line = [program(), "replicate", "-no-expand-env", "-config", str(self.config)]
            self.process = subprocess.Popen(
                line,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                env=environment(),
                preexec_fn=end_with_parent,
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


def end_with_parent() -> None:
    """Linux, prctl(2) PR_SET_PDEATHSIG: what was started ends when we are killed, and never follows
    a shop for nobody.
    """
    with suppress(AttributeError, OSError):
        ctypes.CDLL(None).prctl(1, signal.SIGTERM)


def follow(
    data_dir: Path, place: ReplicaPlace, enough: threading.Event, look_s: float = LOOK_S
) -> None:
    """Follows the shop until told to stop; starts again after whatever went wrong.

    Raises when it cannot begin at all.
    """
    program()
    if not isinstance(place, NetworkPlace):  # a network may be away when the computer starts
        place.begin()
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
                _follow_once(data_dir, place, enough, look_s)
            except (Unavailable, OSError) as error:
                words = (
                    error.sentence
                    if isinstance(error, Unavailable)
                    else message(
                        "The off-site copy cannot be written: {reason}.", reason=error.strerror
                    )
                )
                data_replica.note(data_dir, place.where, datetime.now(UTC), words)
                enough.wait(5 * look_s)


def _follow_once(
    data_dir: Path, place: ReplicaPlace, enough: threading.Event, look_s: float
) -> None:
    """From a new live folder until told to stop, or until something was erased, or until it
    fails.
    """
    place.begin()
    place.hold(datetime.now(UTC))
    folder = place.folder
    swept = data_replica.wants_sweep(data_dir, folder)
    if swept:
        data_replica.sweep(data_dir, folder)
    rest_until = (
        time.monotonic() + SWEEP_AGAIN_S
    )  # where somebody read for so long that the file could not be written anew
    live = data_replica.begin(data_dir, folder, datetime.now(UTC))
    place.mark(live)
    with Follower(data_dir, place, live) as follower:
        _until_first_across(follower, enough)
        data_replica.drop_others(folder, live, datetime.now(UTC), all_of_them=swept)
        prove_at = time.monotonic() + PROVE_FIRST_S
        hold_at = time.monotonic() + place.hold_s
        while not enough.is_set():
            if time.monotonic() > hold_at:
                place.hold(datetime.now(UTC))
                hold_at = time.monotonic() + place.hold_s
            asked_at = datetime.now(UTC)  # what is saved by now is across once it answers
            follower.all_across()
            if data_replica.wants_sweep(data_dir, folder) and (
                not swept or time.monotonic() > rest_until
            ):
                return
            whole = place.mirror()
            if whole and time.monotonic() > prove_at:
                data_replica.prove(data_dir, live, place.fetch, asked_at)
                prove_at = time.monotonic() + place.prove_s
            if whole:
                data_replica.note(data_dir, place.where, asked_at)
            enough.wait(look_s if whole else 0)


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
