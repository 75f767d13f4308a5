"""On a computer that stands by: every page says so and from when its data are, and no form is
taken but those to sign in and out.
"""

from __future__ import annotations

from collections.abc import Callable

from flask import current_app, g, request

from fitcounter.desk.common.translation import say
from fitcounter.desk.data import stand_by_fetch
from fitcounter.desk.shop import Shop, Store
from fitcounter.errors import Unavailable

ALLOWED = ("owner.sign_in", "owner.sign_out")
OF_THE_MACHINE = ("owner.health", "owner.off_site")
LOOKS = ("GET", "HEAD", "OPTIONS")


def refuse() -> None:
    """Raises Unavailable for what would be stored: who typed it finds it on the page again."""
    if not current_app.config["STANDS_BY"] or request.endpoint in ALLOWED:
        return
    if request.endpoint in OF_THE_MACHINE:
        raise Unavailable(say("This page is about the shop’s own computer. Open it there."))
    if request.method not in LOOKS:
        raise Unavailable(say("This computer stands by. The shop is on the other one."))


def words(store: Callable[[], Store], shop: Callable[[], Shop]) -> str:
    """For the head of every page; '' where the shop is on this computer."""
    if not current_app.config["STANDS_BY"]:
        return ""
    if "stands_by" not in g:
        g.stands_by = stand_by_fetch.words(store(), shop(), current_app.config["SETTINGS"].data_dir)
    return str(g.stands_by)
