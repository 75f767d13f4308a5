"""`demo` and `serve`: a shop on the network until it is stopped."""

from __future__ import annotations

import argparse
import os
import shutil
from contextlib import ExitStack
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from fitcounter.cli import damaged_file, how_far
from fitcounter.desk.common.translation import say
from fitcounter.desk.data import backups, off_site_setup, stand_by_fetch
from fitcounter.desk.data import damaged_file as data_damage
from fitcounter.desk.data import take_over as data_lease
from fitcounter.desk.demo import scenario
from fitcounter.desk.documents.stop_work import stop_work
from fitcounter.desk.shop import KeptOpen, also_told_to, open_store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.serving import off_site_process, server, upkeep
from fitcounter.settings import Settings, prepare_data_dir
from fitcounter.web import create_app
from fitcounter.web.responses import opening_page


def demo(given: argparse.Namespace) -> int:
    """Load the invented shop into a folder of its own, say how to get in, and serve it."""
    given.port = given.port or server.free_port(given.host or "127.0.0.1", 8000)
    shop = Settings.from_environment(os.environ, vars(given))
    data_dir = shop.data_dir / "demo"
    settings = Settings.from_environment(os.environ, vars(given) | {"data": data_dir})
    if data_dir.exists() and not given.keep:
        shutil.rmtree(data_dir)
    fresh = not data_dir.exists()
    prepare_data_dir(data_dir)
    if fresh:
        scenario.load(data_dir, datetime.now(UTC))
    settings = replace(settings, copies=None)  # never among the copies of the real shop
    application, welcome = (
        create_app(settings, connections=KeptOpen),
        scenario.welcome(settings.base_url),
    )
    if given.no_serve:
        print(welcome)
    else:
        with upkeep.keeping(settings):
            server.serve(application, settings, welcome, stop_work)
    return 0


@damaged_file.named
def serve(given: argparse.Namespace) -> int:
    """Serve the shop until it is told to stop."""
    settings = settings_of(given)
    prepare_data_dir(settings.data_dir)
    data_damage.look(settings.data_dir)
    off_site_setup.still_here(settings.data_dir)
    stand_by_fetch.drop(settings.data_dir)
    with ExitStack() as begun:
        _serve(settings, begun)
    data_lease.refuse(settings.data_dir)
    return 0


def _serve(settings: Settings, opens: ExitStack) -> None:
    """opens: closed when the shop is."""
    begun, renewed = _opened(settings, opens)
    greeting = say(
        "The shop is open at {address} (its data: {folder}). Stop with Ctrl-C.",
        address=settings.base_url,
        folder=settings.data_dir,
    )
    days_left = partial(_days_left, settings.data_dir / "certificate")
    application = create_app(settings, connections=KeptOpen, certificate_days=days_left)
    words = "\n".join([*([renewed] if renewed else []), greeting, *first_run_words(settings)])
    with upkeep.keeping(settings), off_site_process.following(settings.data_dir):
        server.serve(application, settings, words, stop_work, begun)


def _opened(settings: Settings, opens: ExitStack) -> tuple[server.Begun | None, str]:
    """Brings the shop's file up to date; where there is something to bring, whoever asks for a page
    meanwhile is told how far it is.

    Returns the server that tells it, None where nobody had to wait; and a sentence, '' for none.
    """
    if not backups.is_behind(settings.data_dir):
        open_store(settings.data_dir / "shop.db").close()
        return None, ""
    page = opening_page.OpeningPage()
    begun = opens.enter_context(server.meanwhile(page.application(), settings))
    with how_far.showing(), also_told_to(page.follow):
        renewed = backups.copy_before_renewal(settings.data_dir, settings.copies, datetime.now(UTC))
        open_store(settings.data_dir / "shop.db").close()
    return begun, renewed


def settings_of(given: argparse.Namespace) -> Settings:
    """Those of the shop, with its own certificate where it has one; only then the library for
    certificates is loaded.
    """
    settings = Settings.from_environment(os.environ, vars(given))
    if not (settings.data_dir / "certificate").is_dir():
        return settings
    from fitcounter.serving import certificate

    return certificate.with_own_certificate(given, os.environ, datetime.now(UTC))


def _days_left(folder: Path, now: datetime) -> int | None:
    if not folder.is_dir():
        return None
    from fitcounter.serving import certificate

    return certificate.days_left_if_any(folder, now)


def first_run_words(settings: Settings) -> list[str]:
    """The line that says where a shop without people is set up, good for an hour; none for one that
    has its people.
    """
    store = open_store(settings.data_dir / "shop.db")
    try:
        token = staff_first_run.new_setup_token(store, datetime.now(UTC))
    finally:
        store.close()
    if not token:
        return []
    address = f"{settings.base_url}/first-run?setup_token={token}"
    return [say("Set the shop up within an hour, once: {address}", address=address)]
