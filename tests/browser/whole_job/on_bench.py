"""The job on the bench: round after round, the last steps of a boot, and the bag."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from browser.whole_job.watched_phone import Phone
from support.cast import Clock

from fitcounter.store.database import Store, utc_text


@dataclass
class Weeks:
    """What goes by at the bench: time, without a new shift each day. That a shift ends and begins
    with a passphrase again is seen at pickup and where the boot comes back.
    """

    clock: Clock
    store: Store

    def on(self, hours: float) -> None:
        now = self.clock.on(hours=hours)
        at = {"seen_at": utc_text(now), "ends_at": utc_text(now + timedelta(hours=1))}
        with self.store.write_tx():
            for row in self.store.rows("SELECT id FROM sessions WHERE staff_id = 2"):
                self.store.change("sessions", int(row["id"]), None, **at)


def a_round(
    bench: Phone,
    item_id: int,
    tree: str,
    weeks: Weeks,
    *,
    before: str,
    first: str,
    top: str,
    rested: str,
    hold_h: float,
) -> None:
    bench.step(item_id, "prepare", prepared="conditioned", prepared_with="conditioner")
    weeks.on(hours=20)
    typed = {"tree": tree, "on_tree": first, "setting": "6", "mark": "12"} | (
        {"before": before} if before else {}
    )
    bench.step(item_id, "put-on", **typed)
    weeks.on(hours=5)
    bench.step(item_id, "turn-up", girth=top)
    weeks.on(hours=hold_h)
    bench.step(item_id, "take-off", came_out="eased")
    weeks.on(hours=25)
    bench.step(item_id, "measure-again", rested=rested)


def finish(bench: Phone, item_id: int) -> None:
    bench.step(item_id, "done")
    bench.step(item_id, "finish", shaper="shaper 2")
    bench.step(item_id, "shelve", shelf="C2")


def bag_done(bench: Phone, item_id: int) -> None:
    bench.step(item_id, "work-done", shelf="C2")
