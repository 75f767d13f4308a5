"""What the shop's machine does by itself while it is on: the evening sheet at closing, a copy every
night and after a pickup, the bench plan on every new day.

A duty that fell due while the machine was off is done when it is on again. `due` only reckons;
`keep` does.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo

from fitcounter import how_far
from fitcounter.desk.common.translation import say, speaking, speech_at, told
from fitcounter.desk.data import copy_and_bring_back, damaged_file
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.shop import Shop, open_store, read
from fitcounter.desk.staff.first_run import is_new
from fitcounter.errors import FitCounterError
from fitcounter.store import job_log, tickets
from fitcounter.store.database import Store, dbapi, utc_text, utc_time
from fitcounter.store.job_log import Duty, while_open

__all__ = ["due", "keep", "last_closing", "make_evening", "while_open"]

EVENING, COPY = "evening sheet", "copy"
KEPT_SHEETS = 7
NIGHT = timedelta(
    minutes=30
)  # after closing: the machine is likely to be on still, and the last save is made
QUIET = timedelta(minutes=5)  # after the last pickup, so that three in a row make one copy
LONGEST_WAIT = timedelta(minutes=30)
# The folder of a shop of which a copy is made here now → how much is done of the step it is at.
COPYING: Final[dict[Path, float]] = {}
AGAIN = timedelta(minutes=10)  # after something went wrong


def due(
    shop: Shop, done: Mapping[str, Duty], handed_over: Sequence[datetime], now: datetime
) -> list[str]:
    """The duties to be done now, in their order.

    done: what was done so far. handed_over: when tickets were handed over, the latest ones. now:
    aware UTC.
    """
    wanted = []
    evening, copy = done.get(EVENING, Duty()), done.get(COPY, Duty())
    if _done(evening, now) < last_closing(shop, now) and not _rests(evening, now):
        wanted.append(EVENING)
    if (
        _done(copy, now) < _last_night(shop, now) or _after_pickup(copy, handed_over, now)
    ) and not _rests(copy, now):
        wanted.append(COPY)
    return wanted


def last_closing(shop: Shop, now: datetime) -> datetime:
    """When the shop last closed on a day it is open; aware UTC."""
    return _last(shop, now, shop.open_days, timedelta())


def _last_night(shop: Shop, now: datetime) -> datetime:
    return _last(shop, now, tuple(range(7)), NIGHT)


def _last(shop: Shop, now: datetime, weekdays: tuple[int, ...], after: timedelta) -> datetime:
    zone = ZoneInfo(shop.zone)
    days = [shop.today(now) - timedelta(days=n) for n in range(9)]
    ends = [
        datetime.combine(day, shop.hours_on(day.weekday())[1], zone).astimezone(now.tzinfo) + after
        for day in days
        if day.weekday() in weekdays
    ]
    return next((end for end in ends if end <= now), datetime.min.replace(tzinfo=now.tzinfo))


def _done(duty: Duty, now: datetime) -> datetime:
    """When it was last done; never, where a clock that was wrong then says it is still to come."""
    at = utc_time(duty.done_at) if duty.done_at else None
    return at if at is not None and at <= now else datetime.min.replace(tzinfo=now.tzinfo)


def _rests(duty: Duty, now: datetime) -> bool:
    """Did it go wrong so short a time ago that it is not tried again yet?"""
    return bool(duty.fault) and timedelta() <= now - utc_time(duty.tried_at) < AGAIN


def _after_pickup(copy: Duty, handed_over: Sequence[datetime], now: datetime) -> bool:
    new = [at for at in handed_over if _done(copy, now) <= at <= now]
    return bool(new) and (now - max(new) >= QUIET or now - min(new) >= LONGEST_WAIT)


def keep(data_dir: Path, folder: Path | None, now: datetime) -> list[str]:
    """Does what is due and notes it. folder: where the copies lie, None for beside the data.
    Returns what was tried.

    Nothing that goes wrong is raised: it is noted, seen on the health page, and tried again.
    Another process that is at it is left alone.
    """
    with job_log.alone(data_dir, wait=False) as free:
        if not free:
            return []
        done = job_log.read(data_dir)
        try:
            return _keep(data_dir, folder, now, done)
        except Exception as error:
            damaged = damaged_file.shown_by(error)
            if damaged is None:
                raise
            held = done.get(COPY, Duty())
            fault = Duty(utc_text(now), held.done_at, told(damaged.sentence), held.made)
            job_log.write(data_dir, {**done, COPY: fault})
            return []


def _keep(data_dir: Path, folder: Path | None, now: datetime, done: dict[str, Duty]) -> list[str]:
    store = open_store(data_dir / "shop.db")
    try:
        shop, handed_over = (
            read(store),
            [utc_time(at) for at in tickets.latest_handed_over(store)],
        )
        wanted = [] if is_new(store) else due(shop, _with_copies(store, done), handed_over, now)
        with speaking(speech_at(shop)):
            for name in wanted:
                done[name] = _try(name, done.get(name, Duty()), store, shop, folder, now)
                job_log.write(data_dir, done)
        if not is_new(store):
            plan_keeping.keep_today(store, shop, now)
    finally:
        store.close()
    return wanted


def _with_copies(store: Store, done: dict[str, Duty]) -> dict[str, Duty]:
    """A copy that somebody made by hand counts as made."""
    last, held = copy_and_bring_back.last_copy_at(store) or "", done.get(COPY, Duty())
    return {**done, COPY: Duty(held.tried_at, max(last, held.done_at), held.fault, held.made)}


def _try(
    name: str, before: Duty, store: Store, shop: Shop, folder: Path | None, now: datetime
) -> Duty:
    at = utc_text(now)
    try:
        made = (
            make_evening(store, shop, now)
            if name == EVENING
            else _make_copy(store.path.parent, folder, now)
        )
    except FitCounterError as error:
        return Duty(at, before.done_at, told(error.sentence), before.made)
    except (OSError, dbapi.Error) as error:  # no words of the error: they may hold a name
        damaged = damaged_file.shown_by(error)
        return Duty(
            at,
            before.done_at,
            told(damaged.sentence)
            if damaged
            else say(
                "It could not be written ({error}). Look at the room on the disk.",
                error=type(error).__name__,
            ),
            before.made,
        )
    except Exception as error:  # whatever it is, the shop stays open and the page says so
        return Duty(
            at,
            before.done_at,
            say(
                "It stopped with {error}. Tell whoever looks after the computer.",
                error=type(error).__name__,
            ),
            before.made,
        )
    return Duty(at, at, "", made)


def _make_copy(data_dir: Path, folder: Path | None, now: datetime) -> str:
    """Whoever looks at the health page meanwhile sees how far it is."""

    def follow(what: str, done: int, of: int) -> None:
        COPYING[data_dir] = done / of

    try:
        with how_far.told_to(follow):
            return str(copy_and_bring_back.copy_alone(data_dir, folder, now).path)
    finally:
        COPYING.pop(data_dir, None)


def make_evening(store: Store, shop: Shop, now: datetime) -> str:
    """Writes the evening sheet of this day, as PDF or, without the means for one, as a page to
    print. Returns its file name.
    """
    folder = store.path.parent / job_log.EVENINGS
    folder.mkdir(mode=0o700, exist_ok=True)
    kind, make = (
        ("html", evening_sheet.evening_page)
        if documents_ticket.ready()
        else ("pdf", evening_sheet.evening_pdf)
    )
    target = folder / f"evening-{shop.local(now):%Y-%m-%d-%H%M}.{kind}"
    draft = target.with_suffix(".part")
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(make(store, shop, now))
        file.flush()
        os.fsync(file.fileno())
    draft.replace(target)
    for old in sorted(folder.glob("evening-*"))[:-KEPT_SHEETS]:
        old.unlink()
    return target.name
