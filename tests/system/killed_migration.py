"""Brings an old shop's file up to date in a child that is killed with -9: before a statement, or
after a while.

Run as a program it is the warm parent, one thread, no file open. Each line on its standard input
is: a file, the statement before which the child kills itself (0 for none), and the seconds after
which it is killed (0 for none). It answers "killed" or "done".
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import TracebackType

from support.paths import CHECKOUT


def warm_parent() -> None:
    """Until its standard input ends."""
    from fitcounter.store.opening import open_store

    for line in sys.stdin:
        path, statement, after_s = line.rsplit(" ", 2)
        child = os.fork()
        if child == 0:
            _die_before(int(statement))
            open_store(Path(path)).close()
            os._exit(0)
        if float(after_s):
            time.sleep(float(after_s))
            os.kill(child, signal.SIGKILL)
        _, code = os.waitpid(child, 0)
        print("done" if code == 0 else "killed" if os.WIFSIGNALED(code) else "failed", flush=True)


def _die_before(statement: int) -> None:
    """Counts what is sent to SQLite, also what sqlite-utils sends by itself, but what only asks:
    killed before it or before the next that writes, the file is the same.
    """
    from fitcounter.store.database import dbapi

    class Counting(dbapi.Connection):  # type: ignore[misc,name-defined]
        sent = 0

        def execute(self, *given: object) -> object:
            Counting.sent += not str(given[0]).lstrip().upper().startswith("SELECT")
            if Counting.sent == statement:
                os.kill(os.getpid(), signal.SIGKILL)
            return super().execute(*given)

    if statement:
        connect = dbapi.connect
        dbapi.connect = lambda *given, **more: connect(*given, factory=Counting, **more)


class Killer:
    """The warm parent, from outside. Used as a context."""

    def __enter__(self) -> Killer:
        paths = os.pathsep.join([str(CHECKOUT), str(CHECKOUT / "tests")])
        self.parent = subprocess.Popen(
            [sys.executable, __file__],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": paths},
        )
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.close()
        self.parent.wait(30)
        self.parent.stdout.close()

    def migrate(self, path: Path, statement: int = 0, after_s: float = 0.0) -> str:
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.write(f"{path} {statement} {after_s}\n")
        self.parent.stdin.flush()
        return self.parent.stdout.readline().strip()


if __name__ == "__main__":
    warm_parent()
