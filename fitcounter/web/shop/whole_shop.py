"""Download the whole shop: what is taken out, and what stays behind.

The owner's; on the shop's phones behind the PIN.
"""

from __future__ import annotations

from flask import g, render_template
from werkzeug.wrappers import Response

from fitcounter.desk.data import export as data_export
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import act, allow, store


@bp.get("/shop/everything")
@allow("owner")
def everything() -> str:
    """What is taken out with the whole shop, and what stays behind.

    The owner's; on the shop's phones behind the PIN.
    """
    return render_template("shop/whole_shop.html")


@bp.post("/shop/everything/<any(json, csv):kind>")
@allow("owner")
def take_everything(kind: str) -> Response:
    """The whole shop as a file, sent while it is read; that it went out is in the audit."""
    pieces = data_export.take_everything(store(), act(), kind)
    answer = Response(pieces, mimetype="application/json" if kind == "json" else "application/zip")
    name = f"shop-{g.now:%Y-%m-%d}.{'json' if kind == 'json' else 'zip'}"
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
