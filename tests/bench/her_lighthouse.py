"""Lighthouse's mobile scores and the layout shift of the customer's page in every state it shows.

python tests/bench/her_lighthouse.py [runs, 1] [words of the states' names]

Needs what lighthouse.py needs. The story is played on the shop's clock; the phone's is set to the
same moment, and its own clock for a wear is started where the state asks for it. Prints a line for
each state with the median of the runs, and exits 1 where a score is under 98 or the shift over
0.02. A run that Lighthouse gives up on is taken again.
"""

from __future__ import annotations

import shutil
import statistics
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
import lighthouse
from playwright.sync_api import BrowserContext, Playwright, sync_playwright
from support.cast import Clock
from support.her_states import DIGITS, ZONE, Hers, State, every_state, hers

from fitcounter.desk import shop
from fitcounter.serving import server
from fitcounter.store.database import Act
from fitcounter.store.opening import open_store

LEAST = 98
MOST_SHIFT = 0.02
WORDS = ("performance", "accessibility", "best-practices")
# The phone's clock goes by the shop's; what is measured goes by another.
PHONE = """(() => {{
  const by = {by}, Real = Date;
  globalThis.Date = class extends Real {{
    constructor(...given) {{ if (given.length) super(...given); else super(Real.now() + by); }}
    static now() {{ return Real.now() + by; }}
  }};
  if ({started} === null) localStorage.removeItem('{key}');
  else localStorage.setItem('{key}', String(Date.now() - {started} * 60000));
}})();"""


def new_shop(folder: Path) -> Path:
    """A shop with somebody who signs, and hours to be open."""
    store, act = open_store(folder / "shop.db"), Act(Clock().now, 1)
    with store.write_tx():
        row = {"name": "Cora", "initials": "CO", "role": "counter", "created_at": "2026-01-01"}
        store.insert("staff", **row, passphrase_hash="none")
    shop.choose(
        store,
        act,
        name="Quillmarsh Leather Bench",
        phone="(555) 010-0199",
        address="14 Tanyard Row",
        zone=ZONE,
    )
    store.close()
    return folder


@contextmanager
def phone(playwright: Playwright, her: Hers, state: State, port: int) -> Iterator[BrowserContext]:
    """A browser that Lighthouse can be let into, in which this state is to be seen."""
    folder = tempfile.mkdtemp()
    context = playwright.chromium.launch_persistent_context(
        folder,
        executable_path=lighthouse.chromium(),
        args=[*lighthouse.FLAGS.split(), f"--remote-debugging-port={port}"],
        no_viewport=True,
        timezone_id=ZONE,
    )
    by = round((her.clock.now - datetime.now(UTC)).total_seconds() * 1000)
    started = "null" if state.started is None else str(state.started)
    if state.digits:
        page = context.new_page()
        page.goto(state.address)
        page.fill("#digits", DIGITS)
        with page.expect_navigation():
            page.locator("form button.next").click()
    context.add_init_script(PHONE.format(by=by, key=her.key(), started=started))
    yield context
    context.close()
    shutil.rmtree(folder, ignore_errors=True)


def measured(command: str, state: State, port: int) -> tuple[list[float], list[str]]:
    """The three scores and the shift of one run, and what fell short of the best score."""
    own = [f"--port={port}"]
    if state.status != 200:  # the browser itself complains of it, and rightly
        own += ["--ignore-status-code", "--skip-audits=errors-in-console"]
    found = lighthouse.report(command, state.address, *own)
    shift = float(found["audits"]["cumulative-layout-shift"]["numericValue"])
    return [100 * found["categories"][word]["score"] for word in WORDS] + [
        shift
    ], lighthouse.wanting(found)


def main(runs: int, words: list[str]) -> int:
    command, over, port = lighthouse.command(), 0, server.free_port("127.0.0.1", 0)
    with (
        tempfile.TemporaryDirectory() as folder,
        hers(new_shop(Path(folder))) as her,
        sync_playwright() as playwright,
    ):
        for state in every_state(her):
            if words and not any(one in state.name for one in words):
                continue
            with phone(playwright, her, state, port):
                found = [measured(command, state, port) for _ in range(runs)]
            figures = zip(*(one for one, _ in found), strict=True)
            *median, shift = (statistics.median(one) for one in figures)
            bad = min(median) < LEAST or shift > MOST_SHIFT
            over += bad
            said = ", ".join(f"{word} {one:.0f}" for word, one in zip(WORDS, median, strict=True))
            print(f"{'OVER ' if bad else ''}{state.name}: {said}, shift {shift:.4f}", flush=True)
            for line in dict.fromkeys(line for _, wanting in found for line in wanting):
                print(f"  {line}", flush=True)
    print(f"{over} of the states over")
    return min(over, 1)


if __name__ == "__main__":
    given = sys.argv[1:]
    first = int(given.pop(0)) if given and given[0].isdigit() else 1
    sys.exit(main(first, given))
