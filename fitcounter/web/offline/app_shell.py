"""What a phone keeps of the program: the service worker, two pages for when there is no network,
and a fresh token for what waited.

Service Workers, W3C working draft; the worker is fetched from the root so that its scope is the
whole program.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from flask import (
    Blueprint,
    Flask,
    Response,
    current_app,
    g,
    jsonify,
    redirect,
    render_template,
    url_for,
)
from werkzeug.wrappers import Response as AnyResponse

from fitcounter.web.guards.access import allow
from fitcounter.web.guards.csrf_token import masked_token

bp = Blueprint("app_shell", __name__)

# Not kept on a phone: fonts are for papers; the reader of codes comes when a camera is first
# opened, the icons when it is installed or a page is first seen.
_NOT_AT_ONCE = (
    "css",  # goes out within app.css
    "fonts",
    "vendor",
    "print.css",
    "favicon.ico",
    "favicon.svg",
    "apple-touch-180.png",
    "icon-192.png",
    "icon-512.png",
    "maskable-512.png",
    "pickup.js",
    "agree_total.js",
    "till_count.js",
    "copy_answer.js",
    "signature.js",
    "wear_clock.js",
    "wear_boots_off.js",
    "push_subscription.js",
    "staff_push.js",
    "wear_push.js",
    "service_worker_shared.js",  # kept with the worker that imports it
    "wear_zone.js",
    "boots-192.png",
    "boots-512.png",
    "boots-maskable-512.png",
    "boots-touch-180.png",
)
_SERVED = (
    "offline/sw.js",
    "customer/sw.js",
    "customer/own.html",
    "offline/unsent.html",
    "offline/offline.html",
    "base.html",
)


def version(root: Path) -> str:
    """12 digits of SHA-256 over every file a phone may keep, so that one changed byte is another
    version.

    It stands in the address of every static file and in the service worker, so that old and new
    never mix.
    """
    digest = hashlib.sha256()
    static = [
        path for path in (root / "static").rglob("*") if path.is_file() and path.suffix != ".ttf"
    ]
    for path in [*sorted(static), *(root / "templates" / name for name in _SERVED)]:
        digest.update(f"{path.relative_to(root).as_posix()}\0".encode() + path.read_bytes() + b"\0")
    return digest.hexdigest()[:12]


def shell(app: Flask) -> list[str]:
    """Addresses of the files kept at once."""
    folder = Path(str(app.static_folder))
    names = [
        path.relative_to(folder)
        for path in sorted(folder.rglob("*"))
        if path.suffix in (".css", ".js", ".svg", ".png", ".webmanifest")
    ]
    return [
        f"{app.static_url_path}/{name.as_posix()}"
        for name in names
        if not set(name.parts) & set(_NOT_AT_ONCE)
    ]


@bp.get("/sw.js")
@allow("anyone")
def worker() -> Response:
    """The service worker of this version."""
    pages = [url_for(".offline"), url_for(".unsent")]
    source = render_template(
        "offline/sw.js",
        version=current_app.config["VERSION"],
        files=shell(current_app),
        pages=pages,
    )
    return current_app.response_class(
        source, mimetype="text/javascript", headers={"Cache-Control": "no-cache"}
    )


@bp.get("/offline")
@allow("anyone")
def offline() -> str:
    """The last page when the network is gone: nothing of anybody, the same for all."""
    return render_template("offline/offline.html", **_NOBODY)


@bp.get("/unsent")
@allow("anyone")
def unsent() -> str:
    """What waits on this phone; the list is the phone's own and never comes here."""
    return render_template("offline/unsent.html", **_NOBODY)


@bp.get("/api/csrf")
@allow("anyone")
def token() -> Response:
    """A fresh token for this session, and whose it is; whoever is signed out learns it from the
    form that is sent with it.
    """
    held = g.signed_in
    answer = jsonify(
        token=masked_token(), by=str(held.person.id) if held and held.phone_id is None else ""
    )
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.get("/static/<path:name>")
@allow("anyone")
def moved(name: str) -> AnyResponse:
    """A file asked for under an older version's address, by a page that was open while the program
    was renewed.
    """
    first, _, rest = name.partition("/")
    old = (
        len(first) == len(current_app.config["VERSION"])
        and rest
        and first != current_app.config["VERSION"]
    )
    return redirect(url_for("static", filename=rest if old else name), 302)


# The kept pages are fetched without a cookie; these stand here too so that they are the same for
# everybody.
_NOBODY = {"places": (), "signed_in": None, "shop_name": "", "plain_http": False}
