"""What answers while it takes long to open the shop's file: one page that says how far it is and
refreshes itself, until it is the page that was asked for.
"""

from __future__ import annotations

from flask import Flask, make_response, render_template, request
from werkzeug.wrappers import Response

from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.translation import speaking
from fitcounter.settings import PROGRAM, STATIC, TEMPLATES
from fitcounter.web.offline import app_shell
from fitcounter.web.pages import filters
from fitcounter.web.responses import page_gzip, security_headers
from fitcounter.web.responses.how_far import LOOK_AGAIN_S, in_words


class OpeningPage:
    """stands: what is done, how much of it, and how much there is (how_far.Told)."""

    def __init__(self) -> None:
        self.stands = ("", 0, 0)

    def follow(self, what: str, done: int, of: int) -> None:
        self.stands = (what, done, of)

    def application(self) -> Flask:
        """It reads nothing of the shop: the language is that of the phone."""
        app = Flask(
            "fitcounter-opening",
            root_path=str(PROGRAM),
            template_folder=str(TEMPLATES),
            static_folder=str(STATIC),
            static_url_path=f"/static/{app_shell.version(PROGRAM)}",
        )
        for room in (page_gzip, security_headers, filters):
            room.wire(app)
        app.before_request(self._answer)
        return app

    def _answer(self) -> Response | None:
        """For every address but those of files."""
        if request.endpoint == "static":
            return None
        looks = request.method in ("GET", "HEAD")
        code = request.accept_languages.best_match(language_codes(), "en")
        with speaking(code):
            page = render_template(
                "opening.html",
                lang=code,
                stands=in_words(*self.stands),
                again_s=looks and LOOK_AGAIN_S,
            )
        answer = make_response(page, 503)
        answer.headers["Retry-After"] = str(LOOK_AGAIN_S)
        return answer
