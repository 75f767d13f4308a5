"""Commands about a shop's data: copy, prove, bring back, follow, take out, put in, check."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import threading
from datetime import UTC, datetime
from pathlib import Path

from fitcounter.cli import damaged_file, how_far
from fitcounter.desk import shop as desk_shop
from fitcounter.desk.common.translation import say, say_n
from fitcounter.desk.data import (
    copy_and_bring_back,
    export_and_import,
    off_site_settings,
    stand_by_fetch,
)
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import take_over as lease
from fitcounter.desk.health import page as health
from fitcounter.desk.intake import paper_list
from fitcounter.desk.intake.paper_list_csv import decode, read_list
from fitcounter.errors import NotFound
from fitcounter.serving import certificate, off_site_place
from fitcounter.serving import off_site_copy_follows_shop as serving_replica
from fitcounter.settings import Settings, prepare_data_dir


@how_far.shown
@damaged_file.named
def backup(given: argparse.Namespace) -> int:
    """Make a copy of the shop, read it back, and say where it lies."""
    copy = copy_and_bring_back.make_copy(_data_dir(given), _copies(given), datetime.now(UTC))
    print(copy.path)
    print(say("checked and good, content {hash}", hash=copy.content_hash[:16]))
    return 0


@how_far.shown
def verify(given: argparse.Namespace) -> int:
    """Read a copy to its end and hold it against its note."""
    print(copy_and_bring_back.proof(_copy(given)))
    return 0


@how_far.shown
@damaged_file.named
def restore(given: argparse.Namespace) -> int:
    """Put a copy, or the off-site copy, in the place of the shop's file; the old files
    are moved aside.
    """
    now = datetime.now(UTC)
    if given.off_site:
        data_dir = prepare_data_dir(_data_dir(given))
        place = off_site_place.of(
            data_dir, off_site_settings.from_address(given.off_site, os.environ)
        )
        with off_site_place.brought_here(place):
            print(data_replica.bring_back(place.folder, data_dir, now, place.fetch))
    else:
        print(copy_and_bring_back.bring_back(_copy(given), _data_dir(given), now))
    return 0


@how_far.shown
@damaged_file.named
def take_over(given: argparse.Namespace) -> int:
    """Bring the shop to this computer from the off-site copy; the one before serves no more."""
    now, data_dir = datetime.now(UTC), prepare_data_dir(_data_dir(given))
    if given.off_site:
        named: off_site_settings.OffSite | None = off_site_settings.from_address(
            given.off_site, os.environ
        )
    else:
        named = off_site_settings.read(data_dir)
    if named is None:
        raise NotFound(say("Name the off-site copy with --from, as the owner set it up."))
    place = off_site_place.of(data_dir, named)
    with (
        stand_by_fetch.alone(data_dir),
        off_site_place.brought_here(place),
        off_site_place.taken(place, now),
    ):
        print(data_replica.bring_back(place.folder, data_dir, now, place.fetch))
    off_site_settings.keep(data_dir, off_site_settings.draft(data_dir, named))
    lease.won(data_dir)
    print(say("This computer has the shop now. Start it: fitcounter serve"))
    return 0


@how_far.shown
@damaged_file.named
def export(given: argparse.Namespace) -> int:
    """Write the whole shop to one file."""
    print(export_and_import.export(_data_dir(given), _path(given.file), datetime.now(UTC)))
    return 0


@how_far.shown
def bring_in(given: argparse.Namespace) -> int:
    """Put such a file into a folder that holds no shop yet."""
    print(export_and_import.bring_in(_path(given.file), prepare_data_dir(_data_dir(given))))
    return 0


@damaged_file.named
def replicate(given: argparse.Namespace) -> int:
    """Let an off-site copy follow the shop within seconds, until stopped."""
    enough = threading.Event()
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: enough.set())
    data_dir = _data_dir(given)
    named = (
        off_site_settings.from_address(given.to, os.environ)
        if given.to
        else off_site_settings.read(data_dir)
    )
    if named is None:
        raise NotFound(say("Name where the off-site copy goes with --to, or set it up under Shop."))
    place = off_site_place.of(data_dir, named)
    if not off_site_settings.is_remote(place.where):
        place.begin()
    print(say("The off-site copy {folder} follows the shop. Stop with Ctrl-C.", folder=place.where))
    if data_replica.same_disk(data_dir, Path(place.where)):
        print(say("It is on the same disk: it helps after a mistake, not when the disk dies."))
    sys.stdout.flush()
    serving_replica.follow(data_dir, place, enough)
    return 0


@how_far.shown
@damaged_file.named
def paper_jobs(given: argparse.Namespace) -> int:
    """Show a list of paper jobs as it is understood, or put all of them in; exits 1 when a line
    cannot be taken.
    """
    try:
        text = decode(Path(given.file).expanduser().read_bytes())
    except OSError as error:
        raise NotFound(
            say(
                "{file} cannot be read: {strerror}. Write the name of a CSV file.",
                file=given.file,
                strerror=error.strerror,
            )
        ) from error
    data_dir, now = prepare_data_dir(_data_dir(given)), datetime.now(UTC)
    store = desk_shop.open_store(data_dir / "shop.db")
    try:
        shop, act = desk_shop.read(store), desk_shop.Act(now)
        jobs = read_list(text, shop, shop.today(now))
        lines = paper_list.rehearse(store, act, shop, jobs, data_dir)
        for line in lines:
            words = line.sentence or (line.job and line.job.words)
            words = say("line {number}: {words}", number=line.n, words=words)
            print(f"{'!' if line.sentence else ' '}  {words}")
        good = not any(line.sentence for line in lines)
        if given.put_in and good:
            written = paper_list.put_in(store, act, shop, lines, data_dir)
            print(say_n("{count} job is added.", "{count} jobs are added.", written.row_id or 0))
        elif not good:
            print(say("Nothing was added. Correct these lines and start again."))
    finally:
        store.close()
    return 0 if good else 1


@damaged_file.named
def check(given: argparse.Namespace) -> int:
    """Say how the shop's data stand; exits 1 when something wants a hand."""
    data_dir, now = prepare_data_dir(_data_dir(given)), datetime.now(UTC)
    store = desk_shop.open_store(data_dir / "shop.db")
    try:
        days_left = certificate.days_left_if_any(data_dir / "certificate", now)
        findings = health.look(store, data_dir, now, days_left)
    finally:
        store.close()
    for finding in findings:
        if finding.good:
            print(f"ok  {finding.what}: {finding.words}")
        else:
            print(f"!   {finding.what}: {finding.words}. {finding.todo}")
    return 0 if all(finding.good for finding in findings) else 1


def _data_dir(given: argparse.Namespace) -> Path:
    """Where the shop's data lie."""
    return Settings.from_environment(os.environ, {"data": given.data}).data_dir


def _copies(given: argparse.Namespace) -> Path | None:
    """The folder of the copies; None for beside the data."""
    return _path(given.to) if given.to else None


def _copy(given: argparse.Namespace) -> Path:
    """The copy that was named, else the newest. Raises NotFound."""
    return (
        _path(given.file)
        if given.file
        else copy_and_bring_back.newest(_data_dir(given), _copies(given))
    )


def _path(typed: str) -> Path:
    return Path(typed).expanduser().absolute()
