"""`stand-by`: the shop on a second computer, to look only, until it is taken over."""

from __future__ import annotations

import argparse
import os
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from fitcounter.cli import damaged_file
from fitcounter.cli.serve import settings_of
from fitcounter.desk.common.translation import say
from fitcounter.desk.data import off_site_settings
from fitcounter.desk.data import stand_by_fetch as data_stand_by
from fitcounter.desk.documents.stop_work import stop_work
from fitcounter.errors import BadInput, NotFound
from fitcounter.serving import off_site_place, server
from fitcounter.serving import stand_by_timer as serving_stand_by
from fitcounter.settings import prepare_data_dir
from fitcounter.web import create_app


@damaged_file.named
def stand_by(given: argparse.Namespace) -> int:
    """Follow the off-site copy and show the shop, to look only, until told to stop or the shop is
    taken over.
    """
    every_s, settings = 60 * _minutes(given.every), settings_of(given)
    data_dir = prepare_data_dir(settings.data_dir)
    data_stand_by.check(data_dir)
    _follow_from(data_dir, given.off_site or "")
    if given.once:
        return _bring(data_dir)
    try:
        serving_stand_by.first(data_dir)
        application = create_app(
            replace(settings, data_dir=data_stand_by.copy_folder(data_dir)),
            connections=lambda _: data_stand_by.opened(data_dir),
            stands_by=True,
        )
        greeting = say(
            "This computer stands by at {address}, to look only. To have the shop here, type:"
            " fitcounter take-over",
            address=settings.base_url,
        )
        with serving_stand_by.following(data_dir, every_s):
            server.serve(application, settings, greeting, stop_work)
    finally:
        data_stand_by.drop(data_dir)
    if data_stand_by.has_shop(data_dir):
        print(say("This computer has the shop now. Start it: fitcounter serve"))
    return 0


def _minutes(typed: str | None) -> int:
    typed = typed or "5"
    if not (typed.isascii() and typed.isdigit() and 1 <= int(typed) <= 1440):
        raise BadInput(say("Write the minutes as a whole number from 1 to 1440."), field="every")
    return int(typed)


def _follow_from(data_dir: Path, where: str) -> None:
    """Keeps where the off-site copy is, so that taking over needs no words. Raises NotFound."""
    if where:
        off_site_settings.keep(
            data_dir,
            off_site_settings.draft(data_dir, off_site_settings.from_address(where, os.environ)),
        )
    if off_site_settings.read(data_dir) is None:
        raise NotFound(say("Name the off-site copy with --from, as the owner set it up."))


def _bring(data_dir: Path) -> int:
    named = off_site_settings.read(data_dir)
    if named is not None:
        place = off_site_place.of(data_dir, named)
        print(serving_stand_by.bring(data_dir, place, datetime.now(UTC)))
    return 0
