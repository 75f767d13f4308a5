"""What the health page says of the off-site copy: how far behind it is, and what to do."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.desk.common.translation import say, say_n
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import off_site_settings
from fitcounter.desk.health.line import HealthLine
from fitcounter.store import job_log
from fitcounter.store.database import utc_time

BEHIND = timedelta(seconds=60)


def look(data_dir: Path, now: datetime, *, elsewhere: bool) -> HealthLine:
    """elsewhere: some copy lies on another disk."""
    what, held = say("Off-site copy"), job_log.read(data_dir, job_log.SECOND).get(data_replica.NAME)
    gone = (
        ""
        if elsewhere
        else say(
            "If this computer dies, the shop is gone: every copy is on its own disk. Plug in"
            " another disk, or open Shop, Off-site copy."
        )
    )
    if held is None and (data_dir / off_site_settings.FILE).exists():
        return HealthLine(
            what, say("begins"), gone, say("It begins within seconds. Look again in a minute.")
        )
    if held is None:
        return HealthLine(
            what,
            say("none"),
            gone,
            say(
                "If the disk dies, work since the last copy is lost. Shop, Off-site copy, makes one"
                " that is seconds behind."
            ),
        )
    again = _again(held.made)
    if not held.done_at:
        words = say("nothing has reached {folder} yet", folder=held.made)
        return HealthLine(what, words, held.fault or again)
    behind = now - utc_time(held.done_at)
    seconds = max(0, round(behind.total_seconds()))
    words = say_n(
        "{folder} is {count} second behind",
        "{folder} is {count} seconds behind",
        seconds,
        folder=held.made,
    )
    todo = f"{held.fault} {again}".strip() if held.fault or behind > BEHIND else ""
    if data_replica.same_disk(data_dir, Path(held.made)):
        words, todo = say("{state}, but on the same disk", state=words), todo or gone
    return HealthLine(what, words, todo)


def _again(where: str) -> str:
    """What to do about one that lags."""
    if off_site_settings.is_remote(where):
        return say(
            "Is the internet there? The first time can take hours. Shop, Off-site copy, sets it up"
            " again."
        )
    return say(
        "Is its disk plugged in? To give it up or set it up again, open Shop, Off-site copy."
    )
