"""Somebody with a pair, as the counter takes them in."""

from __future__ import annotations

from fitcounter.desk import shop
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Who
from fitcounter.store.database import Act, Store

WHO = Who("Marisol Okafor-Lind", read_phone("(412) 555-0142", "US"))


def boots(**changes: object) -> Boots:
    told: dict[str, object] = {
        "sides": ("left", "right"),
        "material": "supple-full-grain",
        "closure": "zip",
        "lining": "leather",
        **changes,
    }
    return Boots(**told)  # type: ignore[arg-type]


def taken_in(store: Store, act: Act, job: NewJob) -> tuple[int, int | None]:
    written = new_job.open_ticket(store, act, shop.read(store), job)
    assert written.ticket_id is not None
    return written.ticket_id, written.row_id
