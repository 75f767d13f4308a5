"""The customer's page, behind a link that nobody can guess: no account, nothing private on it."""

from __future__ import annotations

from pathlib import Path

from flask import (
    Blueprint,
    Response,
    current_app,
    flash,
    g,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response as AnyResponse
from wtforms import HiddenField, RadioField, SelectMultipleField

from fitcounter.desk.aftercare import not_right as wear_not_right
from fitcounter.desk.aftercare import wear_feelings
from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.link_token import typed_address
from fitcounter.desk.common.translation import marked, say, say_later, speech_at, spoken
from fitcounter.desk.customer import calendar as customer_calendar
from fitcounter.desk.customer import link_new_or_closed as customer_link
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer import sharing
from fitcounter.desk.documents.calendar import CalendarRequest, calendar_file
from fitcounter.errors import BadInput, FitCounterError, Unavailable
from fitcounter.web.customer import page_language
from fitcounter.web.forms.fields import LongText
from fitcounter.web.forms.saved_form import HourField, SavedForm, TextField
from fitcounter.web.guards import link_throttle
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pages import link_address

bp = Blueprint("customer", __name__, url_prefix="/c/<token>")

SIDES = {"left": marked("Left boot"), "right": marked("Right boot")}
# From the top of the drawn boot down.
PLACES = {
    "top": marked("At the top"),
    "calf": marked("At the calf"),
    "zip": marked("At the zipper"),
    "ankle": marked("At the ankle"),
    "foot": marked("At the foot"),
}
NOT_SURE = marked("Both, or not sure")


class WearForm(SavedForm):
    """What was worn: minutes, and when the boots were put on (on the calendar's clock, that day or
    the day it was typed), else then minus the minutes. sure: for what was asked about. ago: minutes
    since they were put on, where the phone's clock counted them.
    """

    n = HiddenField()
    sure = HiddenField()
    ago = HiddenField()
    day = HiddenField()
    minutes = TextField(say_later("Minutes in your boots"), most=4)
    put_on = HourField(say_later("Put on at"))


class HourForm(SavedForm):
    sure = HiddenField()
    evening = HourField(say_later("What time suits you?"))


class NotRightForm(SavedForm):
    """spot: a place on the drawn boots, left-calf; "" is both, or not sure. felt: signs by boot."""

    felt = SelectMultipleField(say_later("What do you feel?"), choices=[], validate_choice=False)
    spot = RadioField(
        say_later("Where?"),
        validate_choice=False,
        choices=("", *(f"{side}-{place}" for side in SIDES for place in PLACES)),
    )
    said = LongText(say_later("What do you feel?"), most=500)


@bp.after_request
def keep_it_private(response: Response) -> Response:
    """No other site learns the address, no search engine keeps it."""
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    return response


page_language.wire(bp)
bp.before_request(link_throttle.refuse_many_forms)


def show(token: str, wrong: FitCounterError | None = None) -> AnyResponse:
    """The page; with an error, the sentence stands at the top and everything typed is still in its
    form.
    """
    if isinstance(wrong, Unavailable):
        raise wrong  # a page of its own keeps what was typed
    page = customer_page.page_of_link(store(), the_shop(), token, g.now, spoken().code)
    words = speech_at(the_shop(), page.language)
    forms = {"wear": WearForm(), "hour": HourForm(), "not_right": NotRightForm()}
    lines = (
        customer_calendar.lines(store(), the_shop(), token, g.now, page.language)
        if page.calendar
        else ()
    )
    boots = {"boots": SIDES, "spots": PLACES, "not_sure": NOT_SURE}
    boots |= {"signs": wear_not_right.SIGNS, "urgent": wear_not_right.URGENT}
    boots |= {"feels": wear_feelings.FEELS}
    language = {
        "say": words.say,
        "say_known": words.known,
        "lang": words.locale.replace("_", "-"),
        "languages": languages(),
    }
    html = render_template(
        "customer/page.html",
        page=page,
        lines=lines,
        token=token,
        forms=forms,
        feed=_feed(token, page),
        shared=_shared(page.ticket.id),
        wrong=wrong,
        prints_pages=_prints_pages(),
        **boots,
        **language,
    )
    answer = make_response(html, 422 if wrong else 200)
    if request.args.get("language"):
        page_language.remember(answer, page.language)
    return answer


@bp.get("")
@allow("anyone")
def page(token: str) -> AnyResponse:
    """Where each thing is; later today's wear and the days ahead; later the guarantee.

    What a message program took for the end of the link is left out of the address too: what a
    phone keeps of the page is kept by it.
    """
    if token.endswith(customer_page.AFTER_A_LINK):
        return redirect(_clean(token[:-1]))
    return show(token)


@bp.get("/")
@allow("anyone")
def with_a_stroke(token: str) -> AnyResponse:
    """The link with a stroke at its end."""
    customer_page.ticket_of_link(store(), token, g.now)
    return redirect(_clean(token))


@bp.post("/language")
@allow("anyone")
def language(token: str) -> AnyResponse:
    """The language chosen, for this page and for the papers the shop prints for the customer."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    chosen = request.form.get("language", "")
    try:
        customer_link.choose_language(store(), act(), ticket.id, chosen)
    except FitCounterError as error:
        return show(token, error)
    answer = redirect(url_for(".page", token=token), 303)
    page_language.remember(answer, chosen)
    return answer


@bp.post("/not-right")
@allow("anyone")
def not_right(token: str) -> AnyResponse:
    """Something does not feel right: the shop's list has it."""
    form = NotRightForm()
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        if not form.validate():
            words = say("Write at most 500 characters. Call the shop about the rest.")
            raise BadInput(words, field="said")
        today = the_shop().today(g.now)
        wear_not_right.report(store(), act(), ticket.id, _report(form), today)
    except FitCounterError as error:
        return show(token, error)
    flash(say("The shop has your message. Leave your boots off until the shop has answered."))
    return redirect(url_for(".page", token=token), 303)


@bp.get("/calendar.<form>")
@allow("anyone")
def calendar(token: str, form: str) -> AnyResponse:
    """The same dates for the phone's own calendar, on paper, and as one page to save."""
    wanted = CalendarRequest(
        token=token,
        file_format=form,
        language=spoken().code,
        paper=request.args.get("paper", ""),
        address=_own_address(token),
        typed=_typed_address(token),
        large=request.args.get("letters") == "large",
        link=link_address.at_home(_own_address(token)),
    )
    file = calendar_file(store(), the_shop(), wanted, g.now)
    answer = current_app.response_class(file.content, content_type=file.mimetype)
    how = "inline" if form == "pdf" or (form == "html" and _prints_pages()) else "attachment"
    if file.policy:
        answer.headers["Content-Security-Policy"] = f"{file.policy}; frame-ancestors 'none'"
    answer.headers["Content-Disposition"] = f'{how}; filename="boots-calendar.{form}"'
    return answer


def _prints_pages() -> bool:
    """Whether this phone opens no saved page but prints an open one: an iPhone or iPad."""
    return any(name in request.user_agent.string for name in ("iPhone", "iPad"))


def _clean(token: str) -> str:
    """The address of the page, in the language that was asked for."""
    return url_for(".page", token=token, language=request.args.get("language"))


def _typed_address(token: str) -> str:
    """The short address of the page, for who cannot scan; "" where there is none."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    settings = current_app.config["SETTINGS"]
    return typed_address(store(), ticket, settings.base_url, settings.data_dir)


def _shared(ticket_id: int) -> str:
    """The address that somebody else may look at, "" where there is none."""
    token = sharing.token_of(store(), ticket_id, data_dir())
    base = str(current_app.config["SETTINGS"].base_url).rstrip("/")
    return f"{base}{url_for('customer_look.look', token=token)}" if token else ""


def data_dir() -> Path:
    """Where the keys of the links lie."""
    return Path(current_app.config["SETTINGS"].data_dir)


def _own_address(token: str) -> str:
    """The page as the customer's phone reaches it, for the QR code on the paper."""
    base = str(current_app.config["SETTINGS"].base_url).rstrip("/")
    return f"{base}{url_for('.page', token=token)}"


def _feed(token: str, page: customer_page.CustomerPage) -> str:
    """The address of the calendar that follows, "" where it opens nothing at home."""
    language = page.language if page.language != page.own_language else None
    path = url_for(".feed", token=token, language=language)
    base = str(current_app.config["SETTINGS"].base_url)
    return link_address.at_home(f"{base}{path}")


def _spot(typed: str) -> tuple[str | None, str]:
    """Side and place of a spot such as "left-calf"; (None, "") for both, or not sure."""
    side, _, place = typed.partition("-")
    return (side, place) if side in SIDES and place in PLACES else (None, "")


def _report(form: NotRightForm) -> wear_not_right.NotRightReport:
    """What was ticked, tapped and written; ticks that no page offers are left out."""
    side, place = _spot(form.spot.data or "")
    offered = {f"{one}-{sign}" for one in SIDES for sign in wear_not_right.SIGNS}
    felt = tuple(one for one in dict.fromkeys(form.felt.data or ()) if one in offered)
    return wear_not_right.NotRightReport(
        felt=felt, side=side, place=place, text=form.said.data or ""
    )
