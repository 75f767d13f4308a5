"""Thirty phones beside two people who make papers without pause.

python tests/bench/phones.py [seconds, 60]

The invented shop is served as `fitcounter demo` serves it. One phone alone first, the median of
whose answers is the measure of the rest; then thirty, each with an open connection and a request
every one to three seconds, while two people ask for one PDF after another; then one phone beside
200 open connections that say nothing. In turns of the same pages: Today, bench, pickup, items.

Exits 1 when an answer is refused, when of thirty phones the slowest in twenty answers take over
8 ×, or the slowest of all over 20 × the quiet median, or when the median beside idle connections is
over 1.5 ×.
"""

from __future__ import annotations

import http.client
import random
import re
import statistics
import sys
import tempfile
import threading
import time
import urllib.error
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import cycle
from pathlib import Path
from urllib.parse import urlsplit

import checkout_path  # noqa: F401 - finds the next
from support.served_demo import Visitor, served

PHONES, PAPER_MAKERS, IDLE = 30, 2, 200
PAPERS = ("papers/evening.pdf", "papers/rulers.pdf", "papers/slips.pdf")
P95_TIMES, WORST_TIMES, IDLE_TIMES = 8, 20, 1.5


@dataclass
class Seen:
    """Seconds of every answer, and what was not answered with 200."""

    taken: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def p95(self) -> float:
        return statistics.quantiles(self.taken, n=20)[-1]


class Phone:
    """A browser with one open connection and the session of somebody signed in."""

    def __init__(self, visitor: Visitor) -> None:
        self.cookie = "; ".join(f"{one.name}={one.value}" for one in visitor.cookies)
        self.host = urlsplit(visitor.address).netloc
        self.open = http.client.HTTPConnection(self.host, timeout=120)

    def ask(self, path: str, seen: Seen) -> None:
        begun = time.perf_counter()
        try:
            self.open.request("GET", f"/{path}", headers={"Cookie": self.cookie})
            answer = self.open.getresponse()
            answer.read()
            if answer.status != 200:
                seen.refused.append(f"{path}: {answer.status}")
        except (http.client.HTTPException, OSError) as error:
            seen.refused.append(f"{path}: {type(error).__name__}")
            self.open = http.client.HTTPConnection(self.host, timeout=120)
        seen.taken.append(time.perf_counter() - begun)


def visit(visitor: Visitor, pages: list[str], seconds: float, seen: Seen, seed: int) -> None:
    """One phone at work for so long."""
    chance, phone = random.Random(seed), Phone(visitor)
    turn = cycle(chance.sample(pages, len(pages)))
    end = time.monotonic() + seconds
    time.sleep(chance.uniform(0, 2))
    while time.monotonic() < end:
        phone.ask(next(turn), seen)
        time.sleep(chance.uniform(1, 3))


def print_on(visitor: Visitor, seconds: float, seen: Seen) -> None:
    """Somebody who asks for one paper after another."""
    turn, end = cycle(PAPERS), time.monotonic() + seconds
    while time.monotonic() < end:
        begun, paper = time.perf_counter(), next(turn)
        try:
            visitor.get(paper)
        except urllib.error.HTTPError as error:
            seen.refused.append(f"{paper}: {error.code}")
        seen.taken.append(time.perf_counter() - begun)


def alone(visitor: Visitor, pages: list[str], requests: int) -> Seen:
    """One phone, a request ten times a second."""
    seen, phone = Seen(), Phone(visitor)
    for _ in range(3):
        for page in pages:
            phone.ask(page, Seen())
    for _, page in zip(range(requests), cycle(pages), strict=False):
        phone.ask(page, seen)
        time.sleep(0.1)
    return seen


def together(works: list[Callable[[], None]]) -> None:
    threads = [threading.Thread(target=work) for work in works]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def crowd(visitor: Visitor, pages: list[str], seconds: float) -> tuple[Seen, Seen]:
    """What thirty phones see, and what the two who make papers see."""
    phones, papers = Seen(), Seen()

    def phone(n: int) -> Callable[[], None]:
        return lambda: visit(visitor, pages, seconds, phones, n)

    together(
        [phone(n) for n in range(PHONES)]
        + [lambda: print_on(visitor, seconds, papers)] * PAPER_MAKERS
    )
    return phones, papers


def beside_idle(visitor: Visitor, pages: list[str], requests: int) -> Seen:
    """What one phone sees beside connections that stay open and say nothing more."""
    idle = [Phone(visitor) for _ in range(IDLE)]
    for phone in idle:
        phone.ask("sign-in", Seen())
    return alone(visitor, pages, requests)


def pages_of(visitor: Visitor) -> list[str]:
    """Today, bench, pickup, and the items that stand there."""
    bench = visitor.get("bench").decode()
    items = sorted(set(re.findall(r'href="/(items/\d+)"', bench)))
    return ["", "bench", "pickup", *items[:4]]


def main(seconds: float) -> int:
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as (_, address):
        visitor = Visitor(address)
        visitor.sign_in()
        pages = pages_of(visitor)
        for paper in PAPERS:
            visitor.get(paper)
        quiet = alone(visitor, pages, 100)
        many, papers = crowd(visitor, pages, seconds)
        idle = beside_idle(visitor, pages, 100)
    median = statistics.median(quiet.taken)
    print(f"one phone: median {median * 1000:.1f} ms, p95 {quiet.p95() / median:.1f} ×")
    print(f"{len(many.taken)} answers to {PHONES} phones, {len(papers.taken)} papers beside them")
    figures = (
        (f"p95 of {PHONES} phones / quiet median", many.p95() / median, P95_TIMES),
        ("worst of them / quiet median", max(many.taken) / median, WORST_TIMES),
        (f"median beside {IDLE} idle", statistics.median(idle.taken) / median, IDLE_TIMES),
    )
    for name, ratio, most in figures:
        print(f"{'ok  ' if ratio <= most else 'OVER'} {name}: {ratio:.1f} (at most {most})")
    refused = quiet.refused + many.refused + papers.refused + idle.refused
    print(f"{'OVER' if refused else 'ok  '} refused: {', '.join(refused) or 'none'}")
    return int(bool(refused) or any(ratio > most for _, ratio, most in figures))


if __name__ == "__main__":
    sys.exit(main(float(sys.argv[1]) if len(sys.argv) > 1 else 60))
