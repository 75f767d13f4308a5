"""Pages made of the shared templates alone, with one invented job: what the look is held to, apart
from any view.
"""

from __future__ import annotations

import secrets
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import wtforms
from flask import Flask, render_template, request
from flask_wtf import CSRFProtect, FlaskForm
from flask_wtf.csrf import generate_csrf
from jinja2 import ChoiceLoader, FileSystemLoader, PrefixLoader
from support.paths import CHECKOUT, TESTS
from werkzeug.serving import make_server

from fitcounter.desk.measuring.sheet import Row, cell_name
from fitcounter.fit.drawings.pair import profile_drawing
from fitcounter.fit.drawings.rounds_chart import rounds_drawing
from fitcounter.fit.drawings.rounds_words import RoundReadings
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint
from fitcounter.web.pages import filters
from fitcounter.web.responses import security_headers
from fitcounter.web.responses.static_text import WithStaticText

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

INCH = 25.4
HEIGHTS = (114.3, 165.1, 215.9, 266.7, 317.5, 368.3)
ROWS = tuple(
    Row(height, station)
    for height, station in (
        ("4 1/2", "small"),
        ("6 1/2", "achilles"),
        ("8 1/2", ""),
        ("10 1/2", "rise"),
        ("12 1/2", "calf"),
        ("14 1/2", "below-knee"),
    )
)
PLACES = (
    ("today", "Today"),
    ("new_job", "New job"),
    ("bench", "Bench"),
    ("pickup", "Pickup"),
    ("measure", "Book"),
    ("verdict", "Shop"),
)


class SampleForm(FlaskForm):  # type: ignore[misc]
    submission_id = wtforms.HiddenField(default="a-submission")
    version = wtforms.HiddenField(default="3")
    phone = wtforms.TelField(
        "Phone number",
        [wtforms.validators.InputRequired("Type her phone number, such as 555 0142.")],
    )
    needed_by = wtforms.DateField("Needed by", [wtforms.validators.Optional()])
    leather = wtforms.RadioField(
        "Leather",
        [wtforms.validators.InputRequired("Choose the leather, or: do not know.")],
        choices=["supple", "firm", "suede", "do not know"],
    )
    closure = wtforms.RadioField(
        "Closure", [wtforms.validators.Optional()], choices=["zip", "zip and elastic", "pull-on"]
    )
    lining = wtforms.SelectField("Lining", choices=["leather", "textile"], default="leather")
    seen = wtforms.SelectMultipleField(
        "What we saw",
        choices=["cracked grain", "open seam"],
        widget=wtforms.widgets.ListWidget(prefix_label=False),
        option_widget=wtforms.widgets.CheckboxInput(),
    )
    note = wtforms.TextAreaField("Note")
    nothing = wtforms.BooleanField("Nothing seen on either boot")
    price = wtforms.StringField("Price")
    girth = wtforms.StringField("On the tree, 10 1/2 up")


SAMPLES = TESTS / "browser" / "pages" / "samples"
PAGES = tuple(sorted(page.stem for page in SAMPLES.iterdir()))


def _drawing() -> Any:
    inside = tuple(girth * INCH for girth in (10.5, 11.875, 13.25, 14.375, 15.25, 15.0))
    need = (-22.0, -22.0, 3.2, 28.575, 25.4, 3.2)
    left = BootProfile(
        tuple(ShaftPoint(*one) for one in zip(HEIGHTS, inside, need, strict=True)),
        HEIGHTS[3],
        (60, 360),
    )
    return profile_drawing(left, left, unit="in", marks=HEIGHTS)


def sample_app() -> Flask:
    app = WithStaticText(
        "sample",
        root_path=str(CHECKOUT),
        static_folder=str(CHECKOUT / "static"),
    )
    app.jinja_loader = ChoiceLoader(
        [
            FileSystemLoader(CHECKOUT / "templates"),
            PrefixLoader({"samples": FileSystemLoader(SAMPLES)}),
        ]
    )
    # the shop keeps its files for a year: asked for again on every page, they were half of the work
    app.config.update(SECRET_KEY=secrets.token_hex(16), SEND_FILE_MAX_AGE_DEFAULT=3600)
    CSRFProtect(app)
    security_headers.wire(app)
    filters.wire(app)
    app.jinja_env.globals.update(
        cell_name=cell_name, submission_id=lambda: secrets.token_urlsafe(16), who_is_it=lambda: None
    )
    app.context_processor(lambda: {"places": PLACES, "shop_name": "Quillmarsh Leather Bench"})
    chart = rounds_drawing(
        [RoundReadings(365.1, 382.6, 376.2), RoundReadings(376.2, 395.3, None)], 393.7, unit="in"
    )
    for name in PAGES:
        app.add_url_rule(
            f"/{name}",
            name,
            _view(name, {"drawing": _drawing(), "chart": chart}),
            methods=["GET", "POST"],
        )
    # the shell's worker and list are tried in test_shell; here they only answer, so that no console
    # complains
    app.add_url_rule(
        "/ready.json", "ready", lambda: app.response_class("[]", mimetype="application/json")
    )
    app.add_url_rule("/api/csrf", "token", lambda: {"token": generate_csrf()})
    app.add_url_rule("/sw.js", "worker", lambda: app.response_class("", mimetype="text/javascript"))
    return app


def _view(name: str, given: dict[str, Any]) -> Any:
    def view() -> str:
        form = SampleForm()
        if "wrong" in request.args:
            form = SampleForm(formdata=None, meta={"csrf": False})
            form.validate()
        values = dict(request.form) or {
            key: value for key, value in request.args.items() if "_" in key
        }
        wrong = {"leg_left_2": "The fraction is less than one."} if "wrong" in request.args else {}
        again = tuple(request.args.getlist("again"))
        boots = "boots" in request.args
        return render_template(
            f"samples/{name}.html",
            form=form,
            rows=ROWS,
            values=values,
            errors=wrong,
            again=again,
            boots=boots,
            **given,
        )

    return view


def _whole(app: Flask) -> WSGIApplication:
    """Each answer is read before any of it is sent: the framework's own server leaves a file open
    when a browser hangs up in the midst of it.
    """

    def answer(environ: WSGIEnvironment, start_response: StartResponse) -> list[bytes]:
        parts = app(environ, start_response)
        try:
            return [b"".join(parts)]
        finally:
            getattr(parts, "close", lambda: None)()

    return answer


@contextmanager
def sample_site() -> Iterator[str]:
    """Serves the sample pages on a free port and gives the address."""
    server = make_server("127.0.0.1", 0, _whole(sample_app()), threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
