"""The language of the customer's page: chosen on this phone, else the customer's or the phone's."""

from __future__ import annotations

from flask import Blueprint, g, request
from werkzeug.wrappers import Response

from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.translation import speech_at
from fitcounter.desk.customer import page as customer_page
from fitcounter.errors import FitCounterError
from fitcounter.web.guards.access import speak_here, store, the_shop

LANGUAGE_COOKIE = "her-language"


def wire(bp: Blueprint) -> None:
    """Whatever a request says is said in the language of the page."""
    bp.before_request(_speak)


def remember(answer: Response, code: str) -> None:
    """Sets the cookie that holds the language chosen on this phone."""
    answer.set_cookie(
        LANGUAGE_COOKIE,
        code,
        max_age=365 * 86400,
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
    )


def _speak() -> None:
    code = _language(str((request.view_args or {}).get("token", "")))
    speak_here(speech_at(the_shop(), code))


def _language(token: str) -> str:
    """The language chosen on this phone; before one is chosen, the customer's or the phone's."""
    chosen = request.args.get("language") or request.cookies.get(LANGUAGE_COOKIE)
    if chosen:
        return chosen
    phone = request.accept_languages.best_match(language_codes(), "")
    try:
        return customer_page.language_of_link(store(), token, g.now, phone)
    except FitCounterError:  # the view says what is wrong with the link
        return phone
