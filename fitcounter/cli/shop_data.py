"""Commands that keep a shop's data: copy, prove, bring back, check. `cli.COMMANDS` names them."""

from __future__ import annotations

import argparse
import os
from datetime import UTC, datetime
from pathlib import Path

from fitcounter.errors import NotFound
from fitcounter.settings import Settings, prepare_data_dir


def folder_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "--data",
        metavar="FOLDER",
        help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)",
    )
    to.add_argument(
        "--to",
        metavar="FOLDER",
        help="where the copies lie, best on another disk (default: copies, beside the data)",
    )


def file_arguments(to: argparse.ArgumentParser) -> None:
    folder_arguments(to)
    to.add_argument("file", metavar="COPY", nargs="?", help="the copy (default: the newest)")


def backup(given: argparse.Namespace) -> int:
    """Make a copy of the shop, read it back, and say where it lies."""
    from fitcounter.desk.data import backups

    data_dir = _data(given)
    copy = backups.make_copy(data_dir, _folder(given), datetime.now(UTC))
    print(f"{copy.path}\nread back and good, content {copy.content_hash[:16]}")
    return 0


def verify(given: argparse.Namespace) -> int:
    """Read a copy to its end and hold it against its note."""
    from fitcounter.desk.data import backups as data_backups

    print(data_backups.proof(_copy(given)))
    return 0


def restore_arguments(to: argparse.ArgumentParser) -> None:
    file_arguments(to)
    to.add_argument(
        "--second-place",
        metavar="FOLDER",
        help="take it out of the second place of `fitcounter replicate`, not from a copy",
    )


def restore(given: argparse.Namespace) -> int:
    """Put a copy, or what is in the second place, in the place of the shop's file; the old files
    are moved aside.
    """
    from fitcounter.desk.data import backups as safety

    if given.second_place:
        from fitcounter.desk.data import replica as second_place
        from fitcounter.serving import replica

        print(
            second_place.bring_back(
                _path(given.second_place),
                prepare_data_dir(_data(given)),
                datetime.now(UTC),
                replica.fetch,
            )
        )
        return 0
    print(safety.bring_back(_copy(given), _data(given), datetime.now(UTC)))
    return 0


def export_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "--data",
        metavar="FOLDER",
        help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)",
    )
    to.add_argument(
        "file",
        metavar="FILE",
        help=(
            "NAME.json, with pictures, to be put in again; export also writes NAME.zip, a CSV a"
            " table"
        ),
    )


def export(given: argparse.Namespace) -> int:
    """Write the whole shop to one file."""
    from fitcounter.desk.data import export as data_export

    print(data_export.export(_data(given), _path(given.file), datetime.now(UTC)))
    return 0


def bring_in(given: argparse.Namespace) -> int:
    """Put such a file into a folder that holds no shop yet."""
    from fitcounter.desk.data import export as taking_out

    print(taking_out.bring_in(_path(given.file), prepare_data_dir(_data(given))))
    return 0


def replicate_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "--data",
        metavar="FOLDER",
        help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)",
    )
    to.add_argument(
        "--to",
        metavar="FOLDER",
        required=True,
        help="the second place: on another disk, or a folder of another machine",
    )


def replicate(given: argparse.Namespace) -> int:
    """Let a second place follow the shop within seconds, until stopped."""
    import signal
    import threading

    from fitcounter.desk.data import replica as data_replica
    from fitcounter.serving import replica

    enough = threading.Event()
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: enough.set())
    data_dir, folder = _data(given), _path(given.to)
    data_replica.check(data_dir, folder)
    warning = (
        " It is on the same disk: that helps against a slip of the hand, not against a dead disk."
    )
    print(
        f"{folder} follows the shop. Stop with"
        f" Ctrl-C.{warning if data_replica.same_disk(data_dir, folder) else ''}",
        flush=True,
    )
    replica.follow(data_dir, folder, enough)
    return 0


def paper_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "--data",
        metavar="FOLDER",
        help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)",
    )
    to.add_argument(
        "--put-in",
        action="store_true",
        help="store the jobs; without it they are only shown as they were understood",
    )
    to.add_argument(
        "file",
        metavar="FILE.csv",
        help="lines of number,name,phone,what,where,promised; the first names the columns",
    )


def paper_jobs(given: argparse.Namespace) -> int:
    """Show a list of paper jobs as it is understood, or put all of them in; exits 1 when a line
    cannot be taken.
    """
    from fitcounter.desk import shop
    from fitcounter.desk.intake import paper_import as jobs
    from fitcounter.desk.intake.paper_csv import decode, read_list

    try:
        text = decode(Path(given.file).expanduser().read_bytes())
    except OSError as error:
        raise NotFound(
            f"{given.file} cannot be read: {error.strerror}. Write the name of a CSV file."
        ) from error
    data_dir, now = prepare_data_dir(_data(given)), datetime.now(UTC)
    store = shop.open_store(data_dir / "shop.db")
    try:
        the_shop, act = shop.read(store), shop.Act(now)
        lines = jobs.rehearse(
            store, act, the_shop, read_list(text, the_shop, the_shop.today(now)), data_dir
        )
        for line in lines:
            print(
                f"{'!' if line.sentence else ' '}  line {line.n}:"
                f" {line.sentence or (line.job and line.job.words)}"
            )
        good = not any(line.sentence for line in lines)
        if given.put_in and good:
            print(f"{jobs.put_in(store, act, the_shop, lines, data_dir).row_id} jobs are in.")
        elif not good:
            print("Nothing was stored. Put these lines right and start again.")
    finally:
        store.close()
    return 0 if good else 1


def check(given: argparse.Namespace) -> int:
    """Say how the shop's data stand; exits 1 when something wants a hand."""
    from fitcounter.desk.data import health
    from fitcounter.desk.shop import open_store
    from fitcounter.serving import certificate

    data_dir, now = prepare_data_dir(_data(given)), datetime.now(UTC)
    store = open_store(data_dir / "shop.db")
    try:
        left = certificate.days_left_if_any(data_dir / "certificate", now)
        findings = health.look(store, data_dir, now, left)
    finally:
        store.close()
    for one in findings:
        print(
            f"ok  {one.what}: {one.words}"
            if one.good
            else f"!   {one.what}: {one.words}. {one.todo}"
        )
    return 0 if all(one.good for one in findings) else 1


def _data(given: argparse.Namespace) -> Path:
    return Settings.from_environment(os.environ, {"data": given.data}).data_dir


def _folder(given: argparse.Namespace) -> Path | None:
    return _path(given.to) if given.to else None


def _path(typed: str) -> Path:
    return Path(typed).expanduser().absolute()


def _copy(given: argparse.Namespace) -> Path:
    from fitcounter.desk.data import backups as safety

    return _path(given.file) if given.file else safety.newest(_data(given), _folder(given))
