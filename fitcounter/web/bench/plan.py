"""The bench plan: who is on which tree when, who is late and why; away days, trees kept for boots
at home, a shorter hold.
"""

from __future__ import annotations

from collections.abc import Callable

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.bench import plan_page
from fitcounter.desk.common.fields import read_day, read_whole
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.plan import kept_for_boots_at_home, plan_changes, plan_keeping
from fitcounter.desk.shop import Written
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.web.bench.board import bp
from fitcounter.web.bench.plan_forms import AwayForm, HoldForm, SlotForm
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop

STEP_WORDS = {
    "prepare": say_later("prepare"),
    "on": say_later("put on tree"),
    "off": say_later("take off"),
    "read": say_later("measure"),
    "finish": say_later("finish"),
    "shaper": say_later("on a shaper, shelf"),
}


@bp.get("/bench/plan")
@allow(*STAFF)
def plan() -> str:
    """The plan as it was kept, and what would help.

    ?pair=: also who becomes late if that one is agreed.
    """
    return page(AwayForm(formdata=None), SlotForm(formdata=None))


@bp.post("/bench/plan")
@allow(*STAFF)
def renew() -> Response:
    """Makes the plan again."""
    plan_keeping.renew(store(), act())
    flash(say("The plan is up to date."))
    return redirect(url_for("bench.plan"), 303)


@bp.post("/bench/away")
@allow(*STAFF)
def add_away() -> Response | tuple[str, int]:
    """Nobody at the bench for some days; asks first where a promised day would move."""
    form = AwayForm()
    return saved(form, lambda: _away(form), lambda: page(form, SlotForm(formdata=None)))


@bp.post("/bench/away/<int:closure_id>/strike")
@allow(*STAFF)
def drop_away(closure_id: int) -> Response:
    """Opens closed days again."""
    plan_changes.back_early(store(), act(), the_shop(), closure_id)
    back = "owner.closings" if request.form.get("back") == "closings" else "bench.plan"
    return redirect(url_for(back), 303)


@bp.post("/bench/slots")
@allow(*STAFF)
def add_slot() -> Response | tuple[str, int]:
    """Reserves trees for boots that are still at home."""
    form = SlotForm()
    return saved(form, lambda: _slot(form), lambda: page(AwayForm(formdata=None), form))


@bp.post("/bench/slots/<int:booking_id>/strike")
@allow(*STAFF)
def drop_slot(booking_id: int) -> Response:
    """Releases reserved trees."""
    kept_for_boots_at_home.drop_slot(store(), act(), the_shop(), booking_id)
    return redirect(url_for("bench.plan"), 303)


@bp.post("/bench/hold/<int:fit_id>")
@allow(*STAFF)
def hold(fit_id: int) -> Response | tuple[str, int]:
    """Another hold for a pair's rounds to come."""
    form = HoldForm()
    return saved(
        form,
        lambda: _hold(form, fit_id),
        lambda: page(AwayForm(formdata=None), SlotForm(formdata=None), form),
    )


def page(away: AwayForm, slot: SlotForm, held: HoldForm | None = None) -> str:
    seen = plan_page.plan_page(store(), the_shop(), g.now, bool(request.args.get("ask")))
    pair = request.args.get("pair", type=int)
    added = plan_page.made_late(store(), the_shop(), g.now, pair) if pair else None
    words = {"step_words": STEP_WORDS}
    return render_template(
        "bench/plan.html", seen=seen, added=added, away=away, slot=slot, held=held, **words
    )


def saved(
    form: SavedForm, work: Callable[[], Written], again: Callable[[], str]
) -> Response | tuple[str, int]:
    """Saves and goes back to the plan; a promised day that would move is asked on a page of its
    own.
    """
    try:
        if not form.validate():
            return again(), 422
        written = work()
    except FitCounterError as error:
        if error.field == "confirmed":
            typed = [
                (key, value)
                for key, value in request.form.items(multi=True)
                if key not in ("csrf_token", "confirmed")
            ]
            return (
                render_template(
                    "bench/day_moves.html",
                    sentence=error.sentence,
                    typed=typed,
                    url=request.path,
                ),
                422,
            )
        if isinstance(error, Conflict) and error.theirs:
            raise  # both texts have a page of their own
        form.take(error)
        return again(), 422
    flash(f"{written.words[:1].upper()}{written.words[1:]}.")
    return redirect(url_for("bench.plan"), 303)


def _away(form: AwayForm) -> Written:
    today = the_shop().today(g.now)
    first, last = (
        read_day(form.from_day.data, today, "from_day"),
        read_day(form.to_day.data, today, "to_day"),
    )
    if first is None:
        raise BadInput(say("Type the first day."), field="from_day")
    return plan_changes.away(
        store(),
        act(),
        the_shop(),
        first,
        last or first,
        form.why.data,
        bool(form.confirmed.data),
        shop_closed=bool(form.shop_closed.data),
    )


def _slot(form: SlotForm) -> Written:
    first = read_day(form.first.data, the_shop().today(g.now), "first")
    if first is None:
        raise BadInput(say("Type the day the boots come in."), field="first")
    goes = read_whole(form.goes.data or "", 1, 6, "goes", say("the rounds"))
    return kept_for_boots_at_home.book_slot(
        store(), act(), the_shop(), form.words.data, form.sides.data or "", first, goes
    )


def _hold(form: HoldForm, fit_id: int) -> Written:
    hold_h = read_whole(form.hold_h.data, 12, 720, "hold_h", say("the hours"))
    return plan_changes.set_hold(
        store(), act(), the_shop(), fit_id, form.seen_version, hold_h, bool(form.confirmed.data)
    )
