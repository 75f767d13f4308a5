"""What the health page says of the last copy: when it was made, and on which disk it lies."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.desk.data import copy_and_bring_back, nightly_copy_and_evening_sheet
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.health.line import HealthLine, moment
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Store, utc_time
from fitcounter.store.job_log import Duty

COPY_LATE = timedelta(hours=36)


def last_copy(
    store: Store, shop: Shop, data_dir: Path, done: Mapping[str, Duty], now: datetime
) -> HealthLine:
    last, held = (
        copy_and_bring_back.last_copy_at(store),
        done.get(nightly_copy_and_evening_sheet.COPY, Duty()),
    )
    if data_dir in nightly_copy_and_evening_sheet.COPYING:
        share = round(100 * nightly_copy_and_evening_sheet.COPYING[data_dir])
        return HealthLine(say("Last copy"), say("being made now: {share}%", share=share))
    fault = say("The last try failed: {fault}", fault=held.fault) if held.fault else ""
    run = say("Run “fitcounter backup”.")
    if last is None:
        run = say("Run “fitcounter backup”, best to another disk.")
        return HealthLine(say("Last copy"), say("none yet"), f"{fault} {run}".strip())
    late = not timedelta() <= now - utc_time(last) <= COPY_LATE
    when = moment(shop, last)
    words = say("{when}, checked and good", when=when)
    if held.done_at == last and data_replica.same_disk(data_dir, Path(held.made).parent):
        words = say("{when}, checked and good, but on the same disk", when=when)
    return HealthLine(say("Last copy"), words, f"{fault} {run}".strip() if fault or late else "")


def lies_elsewhere(store: Store, data_dir: Path, done: Mapping[str, Duty]) -> bool:
    """Is there a last copy that is not known to lie on the disk of the shop's own file?"""
    last, held = (
        copy_and_bring_back.last_copy_at(store),
        done.get(nightly_copy_and_evening_sheet.COPY, Duty()),
    )
    known = held.done_at == last
    return last is not None and not (
        known and data_replica.same_disk(data_dir, Path(held.made).parent)
    )
