"""Turns every error into a page with one sentence: 422 values and questions, 409 two people at once, 403, 404, 410, 413, 429, 503, 507."""

from __future__ import annotations

import logging
import secrets

from flask import Flask, g, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from fitcounter import errors

log = logging.getLogger("fitcounter")

# First match wins, so the narrower error stands before the wider one.
CODES: tuple[tuple[type[errors.FitCounterError], int], ...] = (
    (errors.Expired, 410), (errors.NotFound, 404), (errors.TooManyTries, 429), (errors.NotAllowed, 403), (errors.Conflict, 409),
    (errors.NoRoom, 507), (errors.Unavailable, 503), (errors.FitCounterError, 422),
)  # fmt: skip

# What the framework itself refuses, in our words.
WORDS = {
    400: "That did not arrive whole. Go back, look at the form and send it again; nothing was saved.",
    401: "You are signed out. Sign in, then save again; what you typed is kept on this page.",
    404: "There is no such page. Scan the tag or type the number.",
    405: "That address only takes a form. Go back and use the button.",
    413: "That is too large to take. A photo may be 12 MB, a form far less; send a smaller one.",
}


def code_of(error: errors.FitCounterError) -> int:
    return next(code for kind, code in CODES if isinstance(error, kind))


def wire(app: Flask) -> None:
    app.register_error_handler(errors.FitCounterError, _ours)
    app.register_error_handler(CSRFError, _token)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _unforeseen)


def page(code: int, sentence: str, **more: object) -> tuple[str, int]:
    """The error page. What was typed is shown again, where the form is our own, with a fresh token and the same submission id."""
    g.setdefault("signed_in", None)
    typed = (
        [(key, value) for key, values in request.form.lists() for value in values if key not in ("csrf_token", "passphrase", "pin")]
        if code != 413
        else []
    )
    own = request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")
    return render_template("errors/error.html", code=code, sentence=sentence, typed=typed if own else [], nav=False, **more), code


def _ours(error: errors.FitCounterError) -> tuple[str, int] | tuple[str, int, dict[str, str]]:
    text, code = page(code_of(error), error.sentence, question=isinstance(error, errors.OutOfOrder), theirs=getattr(error, "theirs", {}))
    if isinstance(error, errors.TooManyTries):
        return text, code, {"Retry-After": str(error.wait_s)}
    return text, code


def _token(_: CSRFError) -> tuple[str, int]:
    return page(400, "This page was open for long, so it was not saved yet. Press Save again: nothing was lost.", again=True)


def _http(error: HTTPException) -> tuple[str, int] | HTTPException:
    code = error.code or 500
    if code < 400:
        return error
    return page(code, WORDS.get(code, "That could not be done, and nothing was saved. Go back and try again."), again=code == 401)


def _unforeseen(error: Exception) -> tuple[str, int]:
    incident = secrets.token_hex(4)
    # the kind and the place, never what was typed: the log holds no names and no numbers of people
    log.error("incident %s at %s: %s", incident, request.endpoint, type(error).__name__, exc_info=bool(app_debugs()))
    return page(500, f"Something went wrong on our side, and nothing was saved. Tell the owner the word {incident}.", again=True)


def app_debugs() -> bool:
    return log.isEnabledFor(logging.DEBUG)
