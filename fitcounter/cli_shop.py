"""Commands that keep a shop's data: copy, prove, bring back, check. `cli.COMMANDS` names them."""

from __future__ import annotations

import argparse
import os
from datetime import UTC, datetime
from pathlib import Path

from fitcounter.settings import Settings, prepare_data_dir


def folder_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument("--data", metavar="FOLDER", help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)")
    to.add_argument("--to", metavar="FOLDER", help="where the copies lie, best on another disk (default: copies, beside the data)")


def file_arguments(to: argparse.ArgumentParser) -> None:
    folder_arguments(to)
    to.add_argument("file", metavar="COPY", nargs="?", help="the copy (default: the newest)")


def backup(given: argparse.Namespace) -> int:
    """Make a copy of the shop, read it back, and say where it lies."""
    from fitcounter.desk import safety

    data_dir = _data(given)
    copy = safety.make_copy(data_dir, _folder(given), datetime.now(UTC))
    print(f"{copy.path}\nread back and good, content {copy.content_hash[:16]}")
    return 0


def verify(given: argparse.Namespace) -> int:
    """Read a copy to its end and hold it against its note."""
    from fitcounter.desk import safety

    print(safety.proof(_copy(given)))
    return 0


def restore(given: argparse.Namespace) -> int:
    """Put a copy in the place of the shop's file; the old files are moved aside."""
    from fitcounter.desk import safety

    print(safety.bring_back(_copy(given), _data(given), datetime.now(UTC)))
    return 0


def export_arguments(to: argparse.ArgumentParser) -> None:
    to.add_argument("--data", metavar="FOLDER", help="where the shop's data lie (default: FITCOUNTER_DATA, or your own data folder)")
    to.add_argument("file", metavar="FILE.json", help="the file to write or to read")


def export(given: argparse.Namespace) -> int:
    """Write the whole shop to one JSON file, pictures too."""
    from fitcounter.desk import taking_out

    print(taking_out.export(_data(given), Path(given.file).expanduser().absolute(), datetime.now(UTC)))
    return 0


def bring_in(given: argparse.Namespace) -> int:
    """Put such a file into a folder that holds no shop yet."""
    from fitcounter.desk import taking_out

    print(taking_out.bring_in(Path(given.file).expanduser().absolute(), prepare_data_dir(_data(given))))
    return 0


def check(given: argparse.Namespace) -> int:
    """Say how the shop's data stand; exits 1 when something wants a hand."""
    from fitcounter.desk import safety
    from fitcounter.desk.shop import open_store

    data_dir = prepare_data_dir(_data(given))
    store = open_store(data_dir / "shop.db")
    try:
        findings = safety.health(store, data_dir, datetime.now(UTC))
    finally:
        store.close()
    for one in findings:
        print(f"{'   ' if one.good else '!  '}{one.what}: {one.words}")
    return 0 if all(one.good for one in findings) else 1


def _data(given: argparse.Namespace) -> Path:
    return Settings.from_environment(os.environ, {"data": given.data}).data_dir


def _folder(given: argparse.Namespace) -> Path | None:
    return Path(given.to).expanduser().absolute() if given.to else None


def _copy(given: argparse.Namespace) -> Path:
    from fitcounter.desk import safety

    return Path(given.file).expanduser().absolute() if given.file else safety.newest(_data(given), _folder(given))
