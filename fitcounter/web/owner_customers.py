"""Shop: a customer's own copy of what is kept, and erasing. The owner's; on a phone of the shop behind the PIN."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk import erasing
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.access import act, allow, store
from fitcounter.web.forms import SavedForm, TextField
from fitcounter.web.owner_access import bp


class EraseForm(SavedForm):
    name = TextField("The customer’s name, typed again", most=120, needed="Type the name as it stands above.")


@bp.get("/shop/customers")
@allow("owner")
def customers() -> str:
    """One field that finds a customer by a piece of the name."""
    typed = request.args.get("q", "")[:80].strip()
    return render_template("owner/customers.html", typed=typed, found=erasing.find(store(), typed) if typed else [])


@bp.get("/shop/customers/<int:customer_id>")
@allow("owner")
def customer(customer_id: int) -> tuple[str, int]:
    """What is kept of one customer, and the way to take it all out."""
    return _customer(customer_id, EraseForm(formdata=None), 200)


@bp.post("/shop/customers/<int:customer_id>/erase")
@allow("owner")
def erase_customer(customer_id: int) -> Response | tuple[str, int]:
    """Erased for good, and looked for afterwards."""
    form = EraseForm()
    code = 422
    if form.validate_on_submit():
        try:
            flash(erasing.erase(store(), act(), customer_id, form.name.data).words)
            return redirect(url_for(".customers"), 303)
        except FitCounterError as error:
            form.take(error)
            code = 409 if isinstance(error, Conflict) else 422
    return _customer(customer_id, form, code)


def _customer(customer_id: int, form: EraseForm, code: int) -> tuple[str, int]:
    return render_template("owner/customer.html", seen=erasing.look(store(), customer_id), form=form), code
