"""Shop: a customer's own copy of what is kept, and erasing.

The owner's; on the shop's phones behind the PIN.
"""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say_later
from fitcounter.desk.data import erasure, export_and_import
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import act, allow, store


class EraseForm(SavedForm):
    name = TextField(
        say_later("Type the customer’s name again"),
        most=120,
        needed=say_later("Type the name exactly as above."),
    )


@bp.get("/shop/customers")
@allow("owner")
def customers() -> str:
    """One field that finds a customer by a piece of the name."""
    typed = request.args.get("q", "")[:80].strip()
    return render_template(
        "shop/customers.html", typed=typed, found=erasure.find(store(), typed) if typed else []
    )


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
            flash(erasure.erase(store(), act(), customer_id, form.name.data).words)
            return redirect(url_for(".customers"), 303)
        except FitCounterError as error:
            form.take(error)
            code = 409 if isinstance(error, Conflict) else 422
    return _customer(customer_id, form, code)


@bp.get("/shop/customers/<int:customer_id>/everything.<any(json, csv):kind>")
@allow("owner")
def customer_copy(customer_id: int, kind: str) -> Response:
    """The customer's own copy of all that is kept; the file's name is a number, so that no folder
    of downloads tells who.
    """
    content = (
        export_and_import.customer_json(store(), customer_id)
        if kind == "json"
        else export_and_import.customer_csv(store(), customer_id)
    )
    answer = Response(content, mimetype="application/json" if kind == "json" else "text/csv")
    answer.headers["Content-Disposition"] = f'attachment; filename="customer-{customer_id}.{kind}"'
    return answer


def _customer(customer_id: int, form: EraseForm, code: int) -> tuple[str, int]:
    return (
        render_template("shop/customer.html", seen=erasure.look(store(), customer_id), form=form),
        code,
    )
