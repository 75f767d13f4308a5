"""A computer that stands by: every few minutes the shop is brought here anew from the off-site
copy, into a folder of its own, and only looked at.

    DATA/stand-by/copy-20260317T140000000000Z/  shop.db photos signatures keys.json …
    DATA/stand-by/now                           a link to the newest of them
    DATA/stand-by/own.db                        who signed in on this computer
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.data import (
    copy_and_bring_back,
    off_site_copy,
    off_site_notes_and_pictures,
    off_site_settings,
    take_over,
)
from fitcounter.desk.shop import Shop
from fitcounter.errors import Conflict
from fitcounter.store import backup, integrity, job_log
from fitcounter.store.database import Store, utc_time
from fitcounter.store.stand_by_file import StandByFile

__all__ = [
    "alone",
    "check",
    "copy_folder",
    "drop",
    "has_shop",
    "opened",
    "take",
    "words",
]

ROOM = "stand-by"
LOCK = "stand-by.lock"


def copy_folder(data_dir: Path) -> Path:
    """Where the newest copy lies."""
    return data_dir / ROOM / "now"


def opened(data_dir: Path) -> StandByFile:
    """How a request comes to it."""
    return StandByFile(data_dir / ROOM / "own.db", copy_folder(data_dir) / backup.SHOP)


def has_shop(data_dir: Path) -> bool:
    """Is the shop on this computer, so that it does not stand by?"""
    return (data_dir / backup.SHOP).exists() and not (data_dir / take_over.LOST).exists()


def check(data_dir: Path) -> None:
    """Raises Conflict where the shop is on this computer."""
    if has_shop(data_dir):
        raise Conflict(
            say("The shop is on this computer. Name another folder to stand by in with --data."),
            field="data",
        )


def alone(data_dir: Path) -> AbstractContextManager[bool]:
    """Nothing else is brought here from the off-site copy meanwhile: waits for it."""
    return job_log.alone(data_dir, wait=True, name=LOCK)


def take(data_dir: Path, folder: Path, now: datetime, fetch: Callable[[Path, Path], None]) -> str:
    """Brings the shop here once more; from then on it is what is looked at. Says what came.

    folder: the off-site copy. fetch: makes a file from a live folder. Raises NotFound, Unavailable:
    then the one before stays.
    """
    room, link = data_dir / ROOM, copy_folder(data_dir)
    target = room / f"copy-{now:%Y%m%dT%H%M%S%f}Z"
    target.mkdir(mode=0o700, parents=True)
    try:
        _link_pictures(link, target, folder)
        words = off_site_copy.bring_back(folder, target, now, fetch)
        before, half = link.resolve(), room / "now.half"
        half.unlink(missing_ok=True)
        half.symlink_to(target.name)
        half.replace(link)
    except BaseException:
        shutil.rmtree(target, ignore_errors=True)
        raise
    for old in room.glob("copy-*"):
        if old not in (target, before):  # a page that is being made may still read that one
            shutil.rmtree(old, ignore_errors=True)
    return words


def _link_pictures(before: Path, target: Path, folder: Path) -> None:
    """Those that were here before and are still there lie in the new folder too, and are neither
    fetched nor copied again.
    """
    for kind in off_site_notes_and_pictures.PICTURES:
        for picture in (before / kind).glob("*"):
            if (folder / kind / picture.name).exists():
                (target / kind).mkdir(mode=0o700, exist_ok=True)
                os.link(picture, target / kind / picture.name)


def words(store: Store, shop: Shop, folder: Path) -> str:
    """From when the data are that are looked at, for the head of every page. folder: theirs."""
    brought, saved = copy_and_bring_back.restored_at(folder), integrity.last_written_at(store)
    return say(
        "This computer stands by, to look only. Its data came {moment}; the last thing saved in"
        " them is from {saved}.",
        moment=spoken().moment(shop.local(utc_time(brought))) if brought else "–",
        saved=spoken().moment(shop.local(utc_time(saved))) if saved else "–",
    )


def drop(data_dir: Path) -> None:
    """Leaves nothing of it here: who is erased later would not be erased from it."""
    shutil.rmtree(data_dir / ROOM, ignore_errors=True)
    if not has_shop(data_dir):
        shutil.rmtree(data_dir / off_site_settings.STAGE, ignore_errors=True)
