"""One application for a whole worker, given another shop's folder for each test: making one, with
its two hundred addresses and its templates, took an eighth of a test of a page.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from flask import Flask

from fitcounter.desk.shop import EachOpens, KeptOpen
from fitcounter.settings import Settings
from fitcounter.web import create_app, of_the_shop
from fitcounter.web.responses import how_far
from fitcounter.web.responses.made_once import Sessions


@cache
def _made() -> Flask:
    """As create_app makes it, on a shop of its own; nobody ever asks it for a page."""
    with TemporaryDirectory() as folder:
        return create_app(Settings(data_dir=Path(folder), testing=True))


def serving(
    settings: Settings,
    clock: Callable[[], datetime],
    connections: Callable[[Path], EachOpens] = KeptOpen,
) -> Flask:
    """The application on the file of settings.data_dir, which is up to date and behind no proxy.

    All it knows of a shop, and what somebody waits for, is its own. Connections stay open, as a
    server's do, until it is shut.
    """
    made = _made()
    app = copy.copy(made)
    app.config = type(made.config)(made.root_path, made.config)
    app.config.update(of_the_shop(settings, clock, connections))
    app.session_interface = Sessions()
    app.view_functions = dict(made.view_functions)
    app.extensions = dict(made.extensions)
    how_far.wire(app)
    return app


def shut(app: Flask) -> None:
    """Closes the connections that wait for the next request."""
    file = app.config["SHOP_FILE"]
    while isinstance(file, KeptOpen) and file.free:
        file.free.pop().close()
