"""The second place: a folder on another disk that follows the shop's file within seconds, and all
that a new machine needs besides.

    SECOND/live-20260317T140000000000Z/   what Litestream writes (https://litestream.io, Apache
    2.0), and shop.json: whose shop it is SECOND/photos  signatures  evening  keys.json
    audit.key  audit-head.json  erased.jsonl

Each start, and each erasing, begins a new live folder; the one before goes once the new one is
whole (after an erasing) or is two days old, so that no fault of one start can take the only copy
along.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from contextlib import AbstractContextManager, suppress
from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.desk.common.translation import say, told
from fitcounter.desk.data import audit_anchors, copy_and_bring_back, erasure, off_site_settings
from fitcounter.desk.shop import open_store
from fitcounter.errors import Conflict, NotAllowed, NotFound, Unavailable
from fitcounter.store import audit_key, backup, erased_list, integrity, job_log
from fitcounter.store.database import journal, utc_text
from fitcounter.store.job_log import Duty

NAME = "second place"
OLD_DAYS = 2
MARK = "shop.json"


def check(data_dir: Path, folder: Path) -> None:
    """Raises a sentence where this shop cannot be copied on there as it is written."""
    if not (data_dir / backup.SHOP).is_file():
        raise NotFound(
            say("There is no shop in that folder yet. Name the one it lies in with --data.")
        )
    inside = folder.resolve().is_relative_to(data_dir.resolve())
    if inside and folder != data_dir / off_site_settings.STAGE:
        raise NotAllowed(
            say(
                "The off-site copy would be inside the shop's own folder. Name one on another"
                " disk with --to."
            ),
            field="to",
        )
    if journal()[0] != "wal":
        raise Unavailable(
            say(
                "This machine's SQLite has no safe log to follow. Keep nightly copies on"
                " another disk instead: serve --copies FOLDER."
            )
        )
    own = _whose(data_dir)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise Unavailable(
            say(
                "The off-site copy {folder} cannot be made: {strerror}. Is its disk there?",
                folder=folder,
                strerror=error.strerror,
            )
        ) from error
    if any(_mark(live) not in ("", own) for live in live_folders(folder)):
        raise Conflict(
            say(
                "That folder is the off-site copy of another shop. Name another one, or bring"
                " that shop back from it first."
            ),
            field="to",
        )


def _whose(data_dir: Path) -> str:
    """The first row of the audit tells one shop from another.

    Raises Unavailable for a shop that nobody has set up.
    """
    store = open_store(data_dir / backup.SHOP)
    try:
        found = integrity.first_link(store)
    finally:
        store.close()
    if found is None:
        raise Unavailable(
            say("Nobody has set this shop up yet. Do that first, then give it an off-site copy.")
        )
    return found


def _mark(live: Path) -> str:
    try:
        return str(json.loads((live / MARK).read_text(encoding="utf-8"))["first"])
    except (OSError, ValueError, KeyError, TypeError):
        return ""


def live_folders(folder: Path) -> list[Path]:
    """Newest first."""
    return sorted((one for one in folder.glob("live-*") if one.is_dir()), reverse=True)


def _live_name(now: datetime) -> str:
    return (  # to the microsecond: an erasing may come in the second of a start
        f"live-{now:%Y%m%dT%H%M%S%f}Z"
    )


def begin(data_dir: Path, folder: Path, now: datetime) -> Path:
    """A new live folder, and no trace of how far an earlier one had come."""
    live = folder / _live_name(now)
    live.mkdir(mode=0o700, parents=True)
    (live / MARK).write_text(json.dumps({"first": _whose(data_dir)}), encoding="utf-8")
    shutil.rmtree(data_dir / f".{backup.SHOP}-litestream", ignore_errors=True)
    return live


def drop_others(folder: Path, live: Path, now: datetime, *, all_of_them: bool) -> None:
    """Older live folders, once this one is whole.

    all_of_them: also young ones, because somebody was erased.
    """
    oldest = _live_name(now - timedelta(days=OLD_DAYS))
    for one in live_folders(folder):
        if one != live and (all_of_them or one.name < oldest):
            shutil.rmtree(one, ignore_errors=True)


def mirror(data_dir: Path, folder: Path) -> None:
    """Pictures, keys, the list of who was erased and the newest evening sheet: what the shop's file
    does not hold.
    """
    backup.copy_files(data_dir, folder)
    mirror_notes(data_dir, folder)
    _mirror_evening(data_dir, folder)


def mirror_notes(data_dir: Path, folder: Path) -> None:
    """The keys and the list of who was erased."""
    backup.renew_keys(data_dir, folder)
    key = audit_key.of_folder(data_dir)
    if key is not None and key != audit_key.of_folder(folder):
        audit_key.write(folder, key, replace=True)
    erased_list.join_lists(data_dir, folder)


def _mirror_evening(data_dir: Path, folder: Path) -> None:
    newest = max((data_dir / job_log.EVENINGS).glob("evening-*.[ph]*"), default=None)
    target = folder / job_log.EVENINGS
    if newest is not None and not (target / newest.name).exists():
        target.mkdir(mode=0o700, exist_ok=True)
        backup.make_private(target / newest.name)
        shutil.copyfile(newest, target / newest.name)
    for old in target.glob("evening-*"):
        if newest is None or old.name != newest.name:
            old.unlink()


def wants_sweep(data_dir: Path, folder: Path) -> bool:
    """Was somebody erased, or something forgotten, that may still be in the second place?"""
    return (data_dir / erased_list.UNSWEPT).exists() or not set(erased_list.noted(data_dir)) <= set(
        erased_list.noted(folder)
    )


def sweep(data_dir: Path, folder: Path) -> None:
    """Writes the shop's file anew without what was erased, while nobody follows it, and takes its
    pictures out of the second place.
    """
    store = open_store(data_dir / backup.SHOP)
    try:
        erasure.sweep(store, data_dir, folder, by_follower=True)
    finally:
        store.close()


def only_one(data_dir: Path) -> AbstractContextManager[bool]:
    """False where another process follows this shop already."""
    return job_log.alone(data_dir, wait=False, name=job_log.FOLLOWED)


def is_followed(data_dir: Path) -> bool:
    """Does a process make the off-site copy of this shop now?"""
    return job_log.is_followed(data_dir)


def same_disk(data_dir: Path, folder: Path) -> bool:
    """Then it helps against a slip of the hand, not against a dead disk."""
    return folder.exists() and data_dir.stat().st_dev == folder.stat().st_dev


def note(data_dir: Path, where: Path | str, now: datetime, fault: str = "") -> None:
    """Up to when everything is in the second place, for the health page. where: its address."""
    at = utc_text(now)
    before = job_log.read(data_dir, job_log.SECOND).get(NAME, Duty())
    with suppress(OSError):  # a full disk: the page then says that nothing was heard
        job_log.write(
            data_dir,
            {NAME: Duty(at, before.done_at if fault else at, fault, str(where))},
            job_log.SECOND,
        )


def prove(data_dir: Path, live: Path, fetch: Callable[[Path, Path], None], now: datetime) -> None:
    """Makes the file anew from the live folder, reads it to its end, and notes where its audit
    ends.

    Raises Unavailable when it is not good, or does not hold what was noted before.
    """
    draft = data_dir / "second-place-proof"
    shutil.rmtree(draft, ignore_errors=True)
    draft.mkdir(mode=0o700)
    try:
        fetch(live, draft / backup.SHOP)
        found = integrity.look(draft / backup.SHOP, key=audit_key.of_folder(data_dir))
        follows = found.sound and audit_anchors.renew_off_site(
            live.parent, draft / backup.SHOP, data_dir, now
        )
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    if found.sound and not follows:
        raise Unavailable(
            say(
                "The log of who did what was changed from outside since the off-site copy was last"
                " checked."
            )
        )
    if not found.sound:
        raise Unavailable(
            say(
                "The off-site copy was checked and is not good, so it is made again. {faults}",
                faults=told(found.faults[0]),
            )
        )


def bring_back(
    folder: Path, data_dir: Path, now: datetime, fetch: Callable[[Path, Path], None]
) -> str:
    """The shop out of its second place, on a machine with nothing on it. fetch: makes a file from a
    live folder.

    Takes the newest live folder that gives a whole file. Raises NotFound, Unavailable, Conflict.
    """
    found = live_folders(folder)
    if not found:
        raise NotFound(
            say(
                "No off-site copy in {folder}. Name the folder that `fitcounter replicate` was"
                " given.",
                folder=folder,
            )
        )
    draft = data_dir / "from-second-place"
    last = ""
    for live in found:
        shutil.rmtree(draft, ignore_errors=True)
        draft.mkdir(mode=0o700, parents=True)
        try:
            fetch(live, draft / backup.SHOP)
            if integrity.look(draft / backup.SHOP, key=audit_key.of_folder(folder)).sound:
                return copy_and_bring_back.bring_back(
                    draft / backup.SHOP, data_dir, now, beside=folder
                )
        except Unavailable as error:
            last = told(error.sentence)
        finally:
            shutil.rmtree(draft, ignore_errors=True)
    raise Unavailable(
        say(
            "Nothing in {folder} gives a whole file. {last} Take a copy instead:"
            " fitcounter restore --to FOLDER.",
            folder=folder,
            last=last,
        )
    )
