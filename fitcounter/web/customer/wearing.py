"""What a customer says about wearing the boots in: worn, not today, another hour, undone."""

from __future__ import annotations

from datetime import datetime, timedelta

from flask import flash, g, redirect, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.aftercare import wear_calendar, wear_doubts, wear_feelings
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.translation import say
from fitcounter.desk.customer import page as customer_page
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.web.customer.page import HourForm, WearForm, bp, show
from fitcounter.web.guards.access import act, allow, store
from fitcounter.web.offline.waited_on_phone import typed_at

LONGEST_MINUTES = 24 * 60
SAME_HOUR = timedelta(minutes=2)  # both are told in whole minutes
_AGO_DIGITS = 4


@bp.post("/wear")
@allow("anyone")
def wear(token: str) -> Response:
    """Saves what was worn as it was told; far more or less than planned is asked about first."""
    form = WearForm()
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        minutes = _whole(form.minutes.data or "", 1, LONGEST_MINUTES)
        n = _whole(str(form.n.data or "0"), 0, 99)
        if not _is_sure(form.sure.data):
            wear_doubts.ask_minutes(store(), ticket.id, n, minutes)
        started = _started(form, ticket.id, minutes)
        wear_calendar.record_wear(store(), act(), ticket.id, n, started, minutes)
    except FitCounterError as error:
        return show(token, error)
    flash(say("Saved. Now let your boots rest."))
    return redirect(url_for(".page", token=token), 303)


@bp.post("/not-today")
@allow("anyone")
def not_today(token: str) -> Response:
    """Moves today's wear, and all after it, to tomorrow."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        wear_calendar.not_today(store(), act(), ticket.id, _whole(request.form.get("n", ""), 0, 99))
    except FitCounterError as error:
        return show(token, error)
    return redirect(url_for(".page", token=token), 303)


@bp.post("/hour")
@allow("anyone")
def hour(token: str) -> Response:
    """Moves the wears still to come to another time of day; one at night is asked about first."""
    form = HourForm()
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        at = form.evening.data
        if at is None:
            raise BadInput(say("Type a time, like 18:30."), field="evening")
        if not _is_sure(form.sure.data):
            wear_doubts.ask_hour(at)
        wear_calendar.choose_hour(store(), act(), ticket.id, at.hour, at.minute)
    except FitCounterError as error:
        return show(token, error)
    return redirect(url_for(".page", token=token), 303)


@bp.post("/zone")
@allow("anyone")
def zone(token: str) -> Response:
    """Moves the wears still to come to the clock of the phone."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        chosen = request.form.get("zone", "")[:60]
        wear_calendar.choose_zone(store(), act(), ticket.id, chosen)
    except FitCounterError as error:
        return show(token, error)
    return redirect(url_for(".page", token=token), 303)


@bp.post("/undo")
@allow("anyone")
def undo(token: str) -> Response:
    """Takes back the last change of the calendar."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        wear_calendar.undo(store(), act(), ticket.id)
    except FitCounterError as error:
        return show(token, error)
    flash(say("Undone."))
    return redirect(url_for(".page", token=token), 303)


@bp.post("/again")
@allow("anyone")
def again(token: str) -> Response:
    """After a week without boots: begins again, or goes on; the shop is told."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    try:
        from_first = request.form.get("again") == "yes"
        wear_calendar.answer_slipped(store(), act(), ticket.id, again=from_first)
    except FitCounterError as error:
        return show(token, error)
    return redirect(url_for(".page", token=token), 303)


@bp.post("/felt")
@allow("anyone")
def felt(token: str) -> Response:
    """How one boot felt after the last wear, in one tap."""
    ticket = customer_page.ticket_of_link(store(), token, g.now)
    side, _, feel = request.form.get("felt", "").partition("-")
    try:
        wear_feelings.tell(store(), act(), ticket.id, side, feel)
    except FitCounterError as error:
        return show(token, error)
    if feel == "sore":
        flash(say("Sore? Look at your skin, and tell the shop below what you feel."))
    return redirect(url_for(".page", token=token), 303)


def _is_sure(sure: str | None) -> bool:
    """Whether what is unusual was meant; what waited on a phone has nobody to ask any more."""
    return bool(sure) or request.headers.get("Outbox") == "later"


def _started(form: WearForm, ticket_id: int, minutes: int) -> datetime:
    """When the boots were put on. Raises BadInput."""
    ended = typed_at()
    if form.put_on.process_errors:
        raise BadInput(str(form.put_on.process_errors[0]), field="put_on")
    if not form.put_on.data:
        return ended - timedelta(minutes=minutes)
    zone = wear_calendar.current(store(), ticket_id, g.now).plan.clock.zone
    local, at = ended.astimezone(zone), form.put_on.data
    day = read_day(form.day.data or "", local.date(), "day", past_ok=True)
    started = local.replace(hour=at.hour, minute=at.minute, second=0, microsecond=0)
    if day is not None:
        return started.replace(year=day.year, month=day.month, day=day.day)
    started -= timedelta(days=1) if started > ended else timedelta()
    return _counted(form.ago.data or "", ended, started)


def _counted(ago: str, ended: datetime, started: datetime) -> datetime:
    """When the boots were put on: by how long ago that was, where the phone counted it and its
    clock tells another hour than ours.
    """
    if not (ago.isascii() and ago.isdigit() and len(ago) <= _AGO_DIGITS):
        return started
    counted = ended - timedelta(minutes=int(ago))
    return started if abs(counted - started) <= SAME_HOUR else counted


def _whole(typed: str, least: int, most: int) -> int:
    """A small whole number from least to most. Raises BadInput."""
    text = typed.strip()
    is_number = text.isascii() and text.isdigit() and len(text) <= 4
    if not (is_number and least <= int(text) <= most):
        words = say("Type the minutes as a number, like 30.")
        raise BadInput(words, typed=typed, field="minutes")
    return int(text)
