"""Download the whole shop: what is taken out, and what stays behind.

The owner's; on the shop's phones behind the PIN.
"""

from __future__ import annotations

from collections.abc import Callable

from flask import g, render_template
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.data import export_and_import
from fitcounter.desk.data.whole_shop import HeldFile
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import act, allow
from fitcounter.web.responses import how_far

SHORT_PATIENCE_S = 0.2  # of a year or more it takes longer anyhow


@bp.get("/shop/everything")
@allow("owner")
def everything() -> str:
    """What is taken out with the whole shop, and what stays behind."""
    return render_template("shop/whole_shop.html")


@bp.post("/shop/everything/<any(json, csv):kind>")
@allow("owner")
def take_everything(kind: str) -> ResponseReturnValue:
    """The whole shop as a file; that it went out is in the audit."""
    sent, ending = act(), "json" if kind == "json" else "zip"
    name = f"shop-{g.now:%Y-%m-%d}.{ending}"

    def then(made: Callable[[], HeldFile]) -> Response:
        held = made()
        answer = Response(held.pieces(), mimetype=f"application/{ending}")
        answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
        answer.content_length = held.size
        return answer

    return how_far.answered(
        lambda own: export_and_import.take_everything(own, sent, kind), then, SHORT_PATIENCE_S
    )
