"""Servers for one test after another, each a child of one warm parent: what `fitcounter serve`
imports is the same for all of them, and took most of each start.

Run as a program it is the parent: one thread, no file open. A line `start FOLDER PORT` on its
standard input forks a server and prints its process id; a line `kill ID` ends one with -9.
"""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path
from unittest.mock import patch

from support.paths import CHECKOUT, TESTS


def warm_parent() -> None:
    """Serves in one child after another until the standard input ends."""
    from jinja2 import FileSystemBytecodeCache

    from fitcounter import web
    from fitcounter.cli import serve  # noqa: F401 - this and what it needs is what all have
    from fitcounter.cli.main import main
    from fitcounter.settings import Settings

    with tempfile.TemporaryDirectory() as own, patch.object(web, "CompiledPages") as pages:
        pages.return_value = FileSystemBytecodeCache(own)
        web.create_app(Settings(data_dir=Path(own)))
        # each child begins by looking through all it has: copied for it, that took half its start
        gc.collect()
        gc.freeze()
        children: set[int] = set()
        for line in sys.stdin:
            word, *given = line.rstrip("\n").split("\t")
            if word == "start":
                child = os.fork()
                if child == 0:
                    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # its greeting
                    folder, port = given
                    os._exit(main(["serve", "--data", folder, "--port", port]))
                children.add(child)
                print(child, flush=True)
            else:
                _end(int(given[0]))
                children.remove(int(given[0]))
                print("ended", flush=True)
        for child in children:
            _end(child)


def _end(child: int) -> None:
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


class WarmServer:
    """The parent, from outside."""

    def __init__(self) -> None:
        paths = [str(CHECKOUT), str(TESTS), os.environ.get("PYTHONPATH", "")]
        self.parent = subprocess.Popen(
            [sys.executable, "-m", "browser.warm_server"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=CHECKOUT,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, paths))},
        )

    def start(self, data_dir: Path, port: int) -> int:
        """The process id of a server that opens on this port."""
        return int(self._ask(f"start\t{data_dir}\t{port}"))

    def kill(self, child: int) -> None:
        """Ends one with -9; it is gone when this returns."""
        assert self._ask(f"kill\t{child}") == "ended"

    def close(self) -> None:
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.close()
        self.parent.wait(30)
        self.parent.stdout.close()

    def _ask(self, line: str) -> str:
        assert self.parent.stdin
        assert self.parent.stdout
        self.parent.stdin.write(f"{line}\n")
        self.parent.stdin.flush()
        return self.parent.stdout.readline().strip()


if __name__ == "__main__":
    warm_parent()
