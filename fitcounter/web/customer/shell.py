"""What a customer's phone keeps of the page: its own worker, its own page for no network, and its
place on the home screen. Nothing of the staff's stands below /c/.
"""

from __future__ import annotations

from flask import Response, current_app, g, jsonify, render_template, url_for

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.customer import page as customer_page
from fitcounter.web.customer.page import bp
from fitcounter.web.guards.access import allow, store, the_shop

# Every file that the page loads, by itself or through another.
FILES = (
    "app.css",
    "icons/favicon.svg",
    *(
        f"js/{name}.js"
        for name in (
            *("code_reader", "kept_typing", "offline_count", "offline_forms", "offline_not_sent"),
            *("offline_photos", "offline_send", "offline_store", "push_subscription"),
            *("wear_boots_off", "wear_clock", "wear_push", "wear_zone", "words"),
        )
    ),
)
ICONS = (
    ("boots-192.png", "192x192", "any"),
    ("boots-512.png", "512x512", "any"),
    ("boots-maskable-512.png", "512x512", "maskable"),
)


@bp.get("/manifest.webmanifest")
@allow("anyone")
def manifest(token: str) -> Response:
    """The page on a home screen: its own address, name and icon."""
    customer_page.ticket_of_link(store(), token, g.now)
    own = url_for(".page", token=token)
    answer = jsonify(
        id=own,
        start_url=own,
        scope=own,
        name=say("My boots"),
        short_name=say("My boots"),
        lang=spoken().locale.replace("_", "-"),
        dir="ltr",
        display="standalone",
        theme_color="#e7e1d1",
        background_color="#e7e1d1",
        icons=[
            {
                "src": url_for("static", filename=f"icons/{name}"),
                "sizes": sizes,
                "type": "image/png",
                "purpose": purpose,
            }
            for name, sizes, purpose in ICONS
        ],
    )
    answer.mimetype = "application/manifest+json"
    return answer


@bp.get("/sw.js")
@allow("anyone")
def worker(token: str) -> Response:
    """The worker of this page alone: it keeps the page at the first visit."""
    customer_page.ticket_of_link(store(), token, g.now)
    source = render_template(
        "customer/sw.js",
        version=current_app.config["VERSION"],
        page=url_for(".page", token=token),
        offline=url_for(".offline", token=token, language=spoken().code),
        files=[url_for("static", filename=name) for name in FILES],
    )
    headers = {
        "Cache-Control": "no-cache",
        "Service-Worker-Allowed": url_for(".page", token=token),
    }
    return current_app.response_class(source, mimetype="text/javascript", headers=headers)


@bp.get("/offline")
@allow("anyone")
def offline(token: str) -> str:
    """What the phone shows without network where it has nothing else: whom to call."""
    customer_page.ticket_of_link(store(), token, g.now)
    lang = spoken().locale.replace("_", "-")
    return render_template("customer/offline.html", token=token, lang=lang, shop=the_shop())
