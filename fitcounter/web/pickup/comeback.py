"""Back for another look: read again, compared with pickup, free or charged, promised, and in the
queue.
"""

from __future__ import annotations

from flask import flash, g, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import RadioField

from fitcounter.desk.aftercare import back_together
from fitcounter.desk.aftercare.back_together import BackPage, BackTogether
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.intake import same_boots_again
from fitcounter.errors import FitCounterError
from fitcounter.web.forms.fields import LongText
from fitcounter.web.forms.saved_form import SavedForm, clean
from fitcounter.web.guards.access import act, allow, store, the_shop
from fitcounter.web.pickup.pickup import bp


@bp.post("/tickets/<int:ticket_id>/again")
@allow("counter", "owner")
def same_again(ticket_id: int) -> Response:
    """The same boots again: a new ticket that knows the old one."""
    written = same_boots_again.take_in_again(store(), act(), the_shop(), ticket_id)
    return redirect(url_for("counter.measure", fit_id=written.row_id), 303)


class ComeBackForm(SavedForm):
    """Beside these, boot-3 and leg-3 for each boot of the ticket that is out."""

    said = LongText(say_later("What the customer says"), most=500)
    pays = RadioField(
        say_later("Who pays for this round"),
        choices={
            "guarantee": say_later("Free, by the guarantee"),
            "customer": say_later("The customer"),
        },
        validate_choice=False,
    )
    other = RadioField(
        say_later("Keep wearing the other boot?"),
        choices={"no": say_later("No, wait for both"), "yes": say_later("Yes, wear it in")},
        default="no",
        validate_choice=False,
    )


@bp.route("/tickets/<int:ticket_id>/back", methods=["GET", "POST"])
@allow("counter", "owner")
def come_back(ticket_id: int) -> Response | tuple[str, int]:
    """Each boot that is back against pickup, who pays for the round, and the day it is promised."""
    form = ComeBackForm()
    shown = back_together.page(store(), the_shop(), ticket_id, g.now)
    if not form.is_submitted():
        form.pays.data = "guarantee" if shown.covered else "customer"
    if form.validate_on_submit():
        try:
            typed = _typed(form, shown)
            flash(back_together.come_back(store(), act(), the_shop(), ticket_id, typed).words)
            return redirect(url_for("counter.ticket", ticket_id=ticket_id), 303)
        except FitCounterError as error:
            form.take(error)
    page = render_template(
        "pickup/comeback.html", form=form, shown=shown, name_of=pickup.name, typed=_lengths(shown)
    )
    return page, 422 if form.is_submitted() else 200


def _typed(form: ComeBackForm, shown: BackPage) -> BackTogether:
    read = _lengths(shown)
    return BackTogether(
        g.now,
        form.said.data or "",
        {
            one.item.id: (read[f"boot-{one.item.id}"], read[f"leg-{one.item.id}"])
            for one in shown.boots
        },
        form.pays.data != "guarantee",
        form.other.data == "yes",
        the_shop().unit,
    )


def _lengths(shown: BackPage) -> dict[str, str]:
    """What came for each boot, by the names of the fields."""
    names = [f"{what}-{one.item.id}" for one in shown.boots for what in ("boot", "leg")]
    return {name: clean(request.form.get(name, ""))[:24] for name in names}
