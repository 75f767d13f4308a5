"""How the shop's data stand and what somebody has to do: one list for the health page and for
`fitcounter check`.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fitcounter.desk.common.translation import say, say_n, told
from fitcounter.desk.data import (
    audit_anchors,
    damaged_file,
    machine_clock,
    nightly_copy_and_evening_sheet,
    started_by_systemd,
)
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.health import copies, languages, mail, off_site, push
from fitcounter.desk.health.line import HealthLine, moment
from fitcounter.desk.shop import Shop, read
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.errors import Unavailable
from fitcounter.store import audit_key, drafts, integrity, job_log
from fitcounter.store.database import Store, dbapi, journal, utc_text, utc_time
from fitcounter.store.job_log import Duty

LOW_DISK_BYTES = 500 * 1024 * 1024
SHEET_LATE = timedelta(hours=1)
CERTIFICATE_DAYS = (
    20  # a start renews it before; so few left say that nobody has started the program for long
)
WRITTEN = datetime(
    2026, 1, 1, tzinfo=UTC
)  # no clock that is right shows less: this program was written after


def look(
    store: Store, data_dir: Path, now: datetime, certificate_days: int | None = None
) -> list[HealthLine]:
    """Every line, in the order of the page.

    now: aware UTC. certificate_days: whole days until the shop's own certificate ends; None without
    one.
    """
    done = job_log.read(data_dir)
    if integrity.damage(store):  # nothing more can be said of what is in it
        return [
            HealthLine(say("Data file"), say("damaged"), damaged_file.sentence()),
            _room(data_dir),
            off_site.look(data_dir, now, elsewhere=True),
            _by_itself(data_dir, done),
            _certificate(certificate_days),
        ]
    shop = read(store)
    return [
        _database(),
        _room(data_dir),
        copies.last_copy(store, shop, data_dir, done, now),
        off_site.look(data_dir, now, elsewhere=copies.lies_elsewhere(store, data_dir, done)),
        _clock(store, shop, now),
        _audit(store, data_dir, done),
        _waiting(store, now),
        _by_itself(data_dir, done),
        _evening(shop, done, now),
        mail.look(store, data_dir),
        push.look(store),
        _papers(),
        _languages(store, shop),
        _certificate(certificate_days),
    ]


def _database() -> HealthLine:
    mode, synchronous = journal()
    version = dbapi.sqlite_version
    if mode == "wal":
        details = say(
            "SQLite {version}, write-ahead log, {sync}", version=version, sync=synchronous
        )
    else:
        details = say(
            "SQLite {version}, rollback journal, {sync}", version=version, sync=synchronous
        )
    return HealthLine(say("Data file"), say("sound"), details=details)


def _room(data_dir: Path) -> HealthLine:
    free = shutil.disk_usage(data_dir).free
    todo = say("Make room: move other files off this disk.") if free <= LOW_DISK_BYTES else ""
    return HealthLine(say("Room on the disk"), say("{size} free", size=_size(free)), todo)


def _size(n_bytes: int) -> str:
    """As a person reads it: 75 GB, and MB where it grows tight."""
    gib = n_bytes / 1024**3
    return f"{gib:.0f} GB" if gib >= 10 else f"{n_bytes // 1024**2} MB"


def _clock(store: Store, shop: Shop, now: datetime) -> HealthLine:
    last = integrity.last_written_at(store)
    leap, todo = machine_clock.leap(store, now), ""
    if now < WRITTEN or (last is not None and utc_text(now) < last):
        todo = say("Set this computer’s clock: it shows a time before the last save.")
    elif leap is not None:
        todo = say(
            "Nothing was saved from {start} to {end}. Nothing is deleted for its age until the"
            " owner says on Shop, Health that the clock is right.",
            start=moment(shop, utc_text(leap.last)),
            end=moment(shop, utc_text(leap.next)),
        )
    saved = say("Last save: {when}", when=moment(shop, last)) if last else say("Nothing saved yet")
    return HealthLine(say("Clock"), moment(shop, utc_text(now)), todo, saved)


def _audit(store: Store, data_dir: Path, done: Mapping[str, Duty]) -> HealthLine:
    what, key = say("Log of who did what"), audit_key.of_folder(data_dir)
    todo = say("The file was changed from outside. Restore a copy with “fitcounter restore”.")
    broken = integrity.broken_link(store, key)
    if broken is not None:
        return HealthLine(what, say("changed from row {row} on", row=broken), todo)
    made = done.get(nightly_copy_and_evening_sheet.COPY, Duty()).made
    compared = audit_anchors.compare(store, data_dir, *([Path(made).parent] if made else []))
    if compared.differs:
        return HealthLine(what, say("not as {copy} noted it", copy=compared.differs), todo)
    if not compared.agree:
        details = say("No copy to compare it with yet.")
    else:
        details = say_n(
            "It agrees with {count} copy.", "It agrees with {count} copies.", compared.agree
        )
    if key is not None and key.unproved:
        lost = say(
            "The key of rows 1 to {row} is lost: only that none is missing was checked.",
            row=key.unproved,
        )
        details = f"{details} {lost}"
    return HealthLine(what, say("complete, nobody changed it"), details=details)


def _waiting(store: Store, now: datetime) -> HealthLine:
    late = len(staff_signed_out_forms.everything(store, now))
    begun = drafts.how_many_but(store, staff_signed_out_forms.KIND)
    return HealthLine(
        say("Forms not saved yet"),
        say("{late} sent after signing out, {begun} only begun", late=late, begun=begun),
        say("Sign in and save yours under My passphrase and PIN. They are kept for 14 days.")
        if late
        else "",
        say("What is waiting on a phone is shown on that phone."),
    )


def _by_itself(data_dir: Path, done: Mapping[str, Duty]) -> HealthLine:
    words = (
        say("running: copies and the evening sheet are made on time")
        if job_log.is_open(data_dir)
        else say("not running: copies and the evening sheet are not made")
    )
    faults = [
        say("{job}: {fault}", job=name, fault=one.fault) for name, one in done.items() if one.fault
    ]
    unit = started_by_systemd.of_shop(data_dir)
    details = (
        say("The computer starts it by itself ({unit}).", unit=unit)
        if unit
        else say("After a power cut somebody has to start it. “fitcounter service install” does.")
    )
    return HealthLine(say("Program"), words, " ".join(faults), details)


def _evening(shop: Shop, done: Mapping[str, Duty], now: datetime) -> HealthLine:
    held = done.get(nightly_copy_and_evening_sheet.EVENING, Duty())
    closing = nightly_copy_and_evening_sheet.last_closing(shop, now)
    late = now - closing > SHEET_LATE and (not held.done_at or utc_time(held.done_at) < closing)
    words = (
        say("{when}, {file}", when=moment(shop, held.done_at), file=held.made)
        if held.done_at
        else say("none yet: it is made at closing, while the program runs")
    )
    todo = say("Print it from Shop, Papers. Was the program running at closing?") if late else ""
    return HealthLine(say("Evening sheet"), words, todo)


def _languages(store: Store, shop: Shop) -> HealthLine:
    found = languages.look(store, shop)
    return HealthLine(say("Languages"), found.words, found.todo)


def _papers() -> HealthLine:
    try:
        missing = told(documents_ticket.ready())
    except Unavailable as why:  # the process that makes them gave no answer
        missing = told(why.sentence)
    return HealthLine(
        say("Papers"), say("print pages only") if missing else say("PDFs can be made"), missing
    )


def _certificate(left: int | None) -> HealthLine:
    what = say("Certificate")
    if left is None:
        return HealthLine(what, say("none of the shop’s own"))
    todo = "" if left >= CERTIFICATE_DAYS else say("Start the program again: that renews it.")
    return HealthLine(what, say_n("{count} day left", "{count} days left", left), todo)
