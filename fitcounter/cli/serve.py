"""`demo` and `serve`: a shop on the network until it is stopped."""

from __future__ import annotations

import argparse
import os
import shutil
import time
from contextlib import ExitStack
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from fitcounter.cli import damaged_file, how_far
from fitcounter.desk.common.translation import say
from fitcounter.desk.data import copy_and_bring_back, off_site_setup, stand_by_fetch
from fitcounter.desk.data import damaged_file as data_damage
from fitcounter.desk.data import take_over as data_lease
from fitcounter.desk.demo import scenario
from fitcounter.desk.documents.stop_work import stop_work
from fitcounter.desk.shop import KeptOpen, also_told_to, open_store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.serving import background_thread, off_site_process, server
from fitcounter.settings import Settings, prepare_data_dir
from fitcounter.web import create_app
from fitcounter.web.responses import opening_page

LOOK_S = 0.5


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
        with background_thread.keeping(settings):
            server.serve(application, settings, welcome, stop_work)
    return 0


@damaged_file.named
def serve(given: argparse.Namespace) -> int:
    """Serve the shop until it is told to stop."""
    settings = settings_of(given)
    prepare_data_dir(settings.data_dir)
    with ExitStack() as opens:
        meanwhile = _Meanwhile(settings, opens)
        meanwhile.wait_for_restore()
        data_damage.look(settings.data_dir)
        off_site_setup.still_here(settings.data_dir)
        stand_by_fetch.drop(settings.data_dir)
        _serve(settings, meanwhile)
    data_lease.refuse(settings.data_dir)
    return 0


class _Meanwhile:
    """Where whoever asks for a page has to wait for the shop: a server that tells them how far it
    is. opens: closed when the shop is.
    """

    def __init__(self, settings: Settings, opens: ExitStack) -> None:
        self.settings, self.opens = settings, opens
        self.page = opening_page.OpeningPage()
        self.begun: server.Begun | None = None  # once somebody has to wait

    def _begin(self) -> None:
        if self.begun is None:
            answers = server.meanwhile(self.page.application(), self.settings)
            self.begun = self.opens.enter_context(answers)

    def wait_for_restore(self) -> None:
        """Until a restore by another program is at its end."""
        stands = copy_and_bring_back.restore_stands(self.settings.data_dir)
        if stands is None:
            return
        self.page.follow(*stands)  # before anybody can ask for the page
        self._begin()
        print(say("A copy is being restored. The shop opens when that is done."), flush=True)
        while stands is not None:
            self.page.follow(*stands)
            time.sleep(LOOK_S)
            stands = copy_and_bring_back.restore_stands(self.settings.data_dir)

    def bring_up_to_date(self) -> str:
        """The shop's file, where it is of an older program. Returns a sentence, '' for none."""
        data_dir = self.settings.data_dir
        if not copy_and_bring_back.is_behind(data_dir):
            open_store(data_dir / "shop.db").close()
            return ""
        self._begin()
        with how_far.showing(), also_told_to(self.page.follow):
            said = copy_and_bring_back.copy_before_renewal(
                data_dir, self.settings.copies, datetime.now(UTC)
            )
            open_store(data_dir / "shop.db").close()
        return said


def _serve(settings: Settings, meanwhile: _Meanwhile) -> None:
    renewed = meanwhile.bring_up_to_date()
    greeting = say(
        "The shop is open at {address} (its data: {folder}). Stop with Ctrl-C.",
        address=settings.base_url,
        folder=settings.data_dir,
    )
    days_left = partial(_days_left, settings.data_dir / "certificate")
    application = create_app(settings, connections=KeptOpen, certificate_days=days_left)
    words = "\n".join([*([renewed] if renewed else []), greeting, *first_run_words(settings)])
    with background_thread.keeping(settings), off_site_process.following(settings.data_dir):
        server.serve(application, settings, words, stop_work, meanwhile.begun)


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
