"""Back for another look: read again, compared with pickup, the answer in one sentence, and in the
queue.
"""

from __future__ import annotations

from flask import flash, g, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField

from fitcounter.desk.aftercare import comeback
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.intake import returning
from fitcounter.errors import FitCounterError
from fitcounter.web.access import act, allow, store, the_shop
from fitcounter.web.fields import LongText
from fitcounter.web.forms import SavedForm, TextField
from fitcounter.web.pickup.pickup import bp


@bp.post("/tickets/<int:ticket_id>/again")
@allow("counter", "owner")
def same_again(ticket_id: int) -> Response:
    """The same boots again: a new ticket that knows the old one."""
    written = returning.take_in_again(store(), act(), the_shop(), ticket_id)
    return redirect(url_for("counter.measure", fit_id=written.row_id), 303)


READ_AGAIN = say_later("Measure the boot at its mark, the same way as at pickup.")


class ComeBackForm(SavedForm):
    said = LongText(say_later("What the customer says"), most=500)
    boot = TextField(
        say_later("Boot at the mark, measured as at pickup"), most=24, needed=READ_AGAIN
    )
    leg = TextField(say_later("Leg at the same height"), most=24)
    other_goes_on = BooleanField(say_later("The boot at home may be worn on as planned"))


@bp.route("/items/<int:item_id>/back", methods=["GET", "POST"])
@allow("counter", "owner")
def come_back(item_id: int) -> Response | tuple[str, int]:
    """Two readings against pickup's, and whether the guarantee pays for the round."""
    form = ComeBackForm()
    shown = comeback.page(store(), the_shop(), item_id, g.now)
    if form.validate_on_submit():
        typed = comeback.ComebackInput(
            g.now,
            form.said.data or "",
            form.boot.data,
            form.leg.data,
            the_shop().unit,
            form.other_goes_on.data,
        )
        try:
            flash(comeback.come_back(store(), act(), item_id, typed, the_shop()).words)
            return redirect(url_for("items.item", item_id=item_id), 303)
        except FitCounterError as error:
            form.take(error)
    page = render_template(
        "pickup/comeback.html", form=form, shown=shown, thing=pickup.name(shown.item)
    )
    return page, 422 if form.is_submitted() else 200
