"""Turns every error into a page with one sentence: 422 values and questions, 409 two people at
once, 403, 404, 410, 413, 429, 503, 507.
"""

from __future__ import annotations

import logging
import secrets
from collections.abc import Sequence

from flask import Flask, current_app, g, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, MethodNotAllowed, SecurityError
from werkzeug.wrappers import Response

from fitcounter import errors
from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.translation import marked, say, speech_at
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.data import damaged_file
from fitcounter.web.forms import signed_out_forms
from fitcounter.web.forms.saved_form import SentTwice, has_files, is_shown, typed, unlabelled
from fitcounter.web.guards import request_size
from fitcounter.web.guards.access import speak_here, the_shop
from fitcounter.web.guards.action_words import FROM_ITS_OWN_PAGE, action_words

log = logging.getLogger("fitcounter")
BUSY_S = 5

# First match wins, so the narrower error stands before the wider one.
CODES: tuple[tuple[type[errors.FitCounterError], int], ...] = (
    (errors.Expired, 410),
    (errors.NotFound, 404),
    (errors.TooManyTries, 429),
    (errors.NotAllowed, 403),
    (errors.Conflict, 409),
    (errors.NoRoom, 507),
    (errors.Unavailable, 503),
    (errors.FitCounterError, 422),
)

# What the framework itself refuses, in our words.
WORDS = {
    400: marked("The form did not arrive whole, so nothing was saved. Go back and save it again."),
    401: marked("You are signed out. Sign in, then save again: what you typed is kept."),
    404: marked("There is no such page. Scan the tag or type the number."),
    405: marked("This page cannot be opened like that. Go back and use its button."),
    413: marked("Too large to save. A photo may have 12 MB, a form less: send a smaller one."),
    415: marked("This was not sent as a form, so nothing was saved. Use the page’s own button."),
}
# Travels with a form and was never typed.
UNSAID = ("submission_id", "version", "catch_up")
# After these, "Save again" may well help.
AGAIN = (400, 401, 413, 429, 500, 503, 507)
_LINKS = ("/c/", "/s/", "/b/")  # of customers, of who may look, of who types what a paper says


def code_of(error: errors.FitCounterError) -> int:
    return next(code for kind, code in CODES if isinstance(error, kind))


def wire(app: Flask) -> None:
    app.register_error_handler(errors.FitCounterError, _ours)
    app.register_error_handler(CSRFError, _token)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _unforeseen)
    app.after_request(_two_at_once)


def page(code: int, sentence: str, **more: object) -> Response:
    """The error page; where even its own parts cannot be read from the shop's file, the sentence
    and what was typed.
    """
    g.setdefault("signed_in", None)
    try:
        return current_app.response_class(_page(code, sentence, **more), code)
    except Exception as error:
        if damaged_file.shown_by(error) is None:
            raise
        own = request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")
        shown = _in_words(_typed(503)) if own else []
        lines = [damaged_file.sentence(), *(f"{label}: {value}" for label, value in shown)]
        return Response("\n".join(lines), 503, mimetype="text/plain")


def _page(code: int, sentence: str, **more: object) -> str:
    """What was typed is shown again, where the form is our own, with a fresh token and the same
    submission id.
    """
    own = request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")
    shown = _typed(code) if own and code != 403 else []
    signed_out = code in (400, 401)  # whoever signs in next may be somebody else
    below_a_link = code in (404, 410) and _is_customers()
    if below_a_link:
        more |= {"shop": the_shop(), "shop_name": the_shop().name}
    return render_template(
        "customer/dead.html" if below_a_link else "errors/error.html",
        code=code,
        sentence=sentence,
        typed=shown,
        said=_in_words(shown),
        again=code in AGAIN and not (signed_out and request.endpoint in FROM_ITS_OWN_PAGE),
        does=action_words(current_app, request.path) if signed_out else "",
        files=code != 413 and has_files(),
        kept=signed_out_forms.keep() if own and code == 401 else "",
        nav=False,
        sent_to=g.get("sent_to", ""),
        **more,
    )


def _in_words(shown: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """What somebody typed or picked, by the labels of the form where one was read; what only
    travels along is left out.
    """
    form = g.get("form")
    picked = [
        (key, value)
        for key, value in shown
        if value and key not in UNSAID and not key.startswith("was_")
    ]
    return [
        (form.label_of(key), form.in_words(key, value)) if form else (unlabelled(key), value)
        for key, value in picked
    ]


def _typed(code: int) -> list[tuple[str, str]]:
    if code == 413:
        return [(key, value) for key, value in request_size.salvaged() if is_shown(key)]
    return [] if code in (405, 415) else typed()


def _ours(error: errors.FitCounterError) -> Response:
    if isinstance(error, errors.NotAllowed | errors.TooManyTries):
        refused(code_of(error))
    asks = (
        isinstance(error, errors.OutOfOrder) and error.field == "catch_up"
    )  # the rest is no question: it would be refused again
    stored = {
        "theirs": getattr(error, "theirs", {}),
        "settled_on": getattr(error, "ticket_id", None),
    }
    answer = page(code_of(error), error.sentence, question=asks, **stored)
    if isinstance(error, errors.TooManyTries):
        answer.headers["Retry-After"] = str(error.wait_s)
    elif answer.status_code == 503:
        answer.headers["Retry-After"] = str(BUSY_S)
    return answer


def _two_at_once(response: Response) -> Response:
    """A form that was sent back because of somebody else's writing says so in its code as well."""
    if response.status_code == 422 and g.get("conflict"):
        response.status_code = 409
    return response


def _token(_: CSRFError) -> Response:
    refused(400)
    return page(
        400,
        say("This page was open for a long time. Press Save again: nothing you typed is lost."),
    )


def _http(error: HTTPException) -> Response:
    if isinstance(
        error, SecurityError
    ):  # another host than ours: no page, because a page holds addresses
        return Response(say("This is not the shop’s address."), 400, mimetype="text/plain")
    code = error.code or 500
    if code < 400:
        return error.get_response()  # a redirect of the router's
    if code == 404 and _is_customers():
        phone = request.accept_languages.best_match(language_codes(), "")
        speak_here(speech_at(the_shop(), phone))
        return page(code, customer_page.no_such_link())
    if isinstance(error, SentTwice):
        words = str(error.description)
    elif code in WORDS:
        words = say(WORDS[code])
    else:
        words = say("This could not be done, and nothing was saved. Go back and try again.")
    answer = page(code, words)
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        answer.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return answer


def _is_customers() -> bool:
    """Whether the address is one that a customer may have typed, in whatever letters."""
    return request.path.lower().startswith(_LINKS)


def refused(code: int) -> None:
    """Logs a door that was tried: which one and by whom, by number; never the address, which may
    hold a customer's link.
    """
    signed_in = g.get("signed_in")
    log.warning(
        "refused %s at %s, person %s",
        code,
        request.endpoint,
        signed_in.person.id if signed_in else 0,
    )


def _unforeseen(error: Exception) -> Response:
    damaged = damaged_file.shown_by(error, g.get("store"))
    if damaged is not None:
        log.error("the file is damaged, seen at %s:%s", request.endpoint, _place(error))
        return _ours(damaged)
    incident = secrets.token_hex(4)
    # the kind and the place, never what was typed: the log holds no names and no numbers of people
    log.error(
        "incident %s at %s: %s%s", incident, request.endpoint, type(error).__name__, _place(error)
    )
    return page(
        500,
        say(
            "The program made a mistake and saved nothing. Try again, and tell the owner this"
            " code: {incident}.",
            incident=incident,
        ),
    )


def _place(error: Exception) -> str:
    """Files and lines, innermost last; never a value."""
    lines, step = [], error.__traceback__
    while step is not None:
        lines.append(f"{step.tb_frame.f_code.co_filename.rpartition('/')[2]}:{step.tb_lineno}")
        step = step.tb_next
    return " " + " > ".join(lines[-6:])
