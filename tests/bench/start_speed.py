"""How long the program takes to be there, beside the least that could be: `python
tests/bench/start_speed.py`.

`fitcounter --help` beside `python -c pass`; and the first page after start, from the process's own
beginning to the answered request of the door's page through the real server on a fresh shop, beside
a bare Flask application served by the same server. In turns, in processor time of the started
process, which on a machine with nothing else to do is what one waits.

Python keeps what it compiled of the program from one start to the next, as in a shop; it is thrown
away here at the end. Also says what has been imported by then: the libraries for papers, photos and
certificates are not to be loaded for a page. Exits 1 when --help takes over 0.1 s, the first page
over 0.8 s, or one of those libraries is there; on a machine that is slower just now than a quiet
one, over as many times of their counterparts.
"""

from __future__ import annotations

import os
import resource
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HELP_S, PAGE_S = 0.1, 0.8
QUIET_PASS_S, QUIET_BARE_S = 0.02, 0.18  # what the counterparts take on a quiet machine
ROUNDS = 7
LATER = ("weasyprint", "PIL", "qrcode", "holidays", "cryptography")
BARE = """
import sys
from cheroot import wsgi
from flask import Flask
app = Flask("bare")
app.route("/sign-in")(lambda: "<!DOCTYPE html><title>bare</title>")
server = wsgi.Server(("127.0.0.1", int(sys.argv[1])), app, numthreads=8)
server.start()
"""
OURS = """
import os, sys
# brought by the tests' data sets alone: a shop's own environment has neither
sys.modules["pandas"] = sys.modules["numpy"] = None
from fitcounter.cli.commands import family
family("serve")
from fitcounter.serving import server
from fitcounter.settings import Settings, prepare_data_dir
from fitcounter.web import create_app
settings = Settings.from_environment(os.environ, {"data": sys.argv[2], "port": sys.argv[1]})
prepare_data_dir(settings.data_dir)
application = create_app(settings)
running = server.listen(application, settings)
print(",".join(name for name in sys.argv[3].split(",") if name in sys.modules), flush=True)
running.serve()
"""


def run_to_end(*command: str) -> Callable[[], float]:
    def run() -> float:
        begun = of_children()
        subprocess.run([sys.executable, *command], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
        return of_children() - begun

    return run


def of_children() -> float:
    """Processor seconds of all ended children so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def first_page(program: str, folder: Path, loaded: set[str]) -> Callable[[], float]:
    """Seconds from starting the program to the first answered page."""

    def run() -> float:
        port = free_port()
        begun = of_children()
        surroundings = {**os.environ, "PYTHONPATH": str(ROOT)}
        with subprocess.Popen(
            [sys.executable, "-c", program, str(port), str(folder), ",".join(LATER)],
            stdout=subprocess.PIPE,
            text=True,
            env=surroundings,
        ) as started:
            try:
                wait_for(f"http://127.0.0.1:{port}/sign-in")
            finally:
                started.terminate()
            told = started.stdout.read() if started.stdout else ""
            loaded.update(name for name in told.strip().split(",") if name)
        return of_children() - begun

    return run


def wait_for(address: str) -> None:
    until = time.perf_counter() + 30
    while time.perf_counter() < until:
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:
                assert answer.status == 200
                return
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.005)
    raise SystemExit(f"{address} never answered")


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def main() -> int:
    loaded: set[str] = set()
    with tempfile.TemporaryDirectory() as where:
        folder = Path(where) / "shop"
        os.environ["PYTHONPYCACHEPREFIX"] = str(Path(where) / "compiled")
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        runs = {
            "python -c pass": run_to_end("-c", "pass"),
            "--help": run_to_end("-m", "fitcounter", "--help"),
            "bare Flask": first_page(BARE, folder, set()),
            "first page": first_page(OURS, folder, loaded),
        }
        for run in runs.values():  # makes the shop's file and its keys, and compiles, once
            run()
        taken: dict[str, list[float]] = {name: [] for name in runs}
        for _ in range(ROUNDS):
            for name, run in runs.items():
                taken[name].append(run())
    medians = {name: statistics.median(times) for name, times in taken.items()}
    for name, seconds in medians.items():
        print(f"{name:16} {seconds:6.3f} s of processor time")
    slower = {
        "--help": max(1.0, medians["python -c pass"] / QUIET_PASS_S),
        "first page": max(1.0, medians["bare Flask"] / QUIET_BARE_S),
    }
    help_ok, page_ok, lazy = (
        medians["--help"] <= HELP_S * slower["--help"],
        medians["first page"] <= PAGE_S * slower["first page"],
        not loaded,
    )
    print(
        f"{'ok  ' if help_ok else 'OVER'} --help / python -c pass:"
        f" {medians['--help'] / medians['python -c pass']:.1f}, at most {HELP_S} s where a quiet"
        f" machine is {slower['--help']:.2f} × as quick"
    )
    print(
        f"{'ok  ' if page_ok else 'OVER'} first page / bare Flask:"
        f" {medians['first page'] / medians['bare Flask']:.1f}, at most {PAGE_S} s where a"
        f" quiet machine is {slower['first page']:.2f} × as quick"
    )
    print(
        f"{'ok  ' if lazy else 'OVER'} imported before use:"
        f" {', '.join(sorted(loaded)) or 'nothing of ' + ', '.join(LATER)}"
    )
    return int(not (help_ok and page_ok and lazy))


if __name__ == "__main__":
    sys.exit(main())
