"""Customer details: the form that corrects a customer's name, phone, e-mail, language and note."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField

from fitcounter.desk.common import mail, translation
from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.translation import say_later
from fitcounter.desk.customer import details as customer_details
from fitcounter.desk.customer import history
from fitcounter.desk.customer.details import Details, SeenDetails
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, both_texts, clean
from fitcounter.web.guards.access import act, allow, store, the_shop

NAMES = ("name", "phone", "email", "language", "note")


class DetailsForm(SavedForm):
    name = TextField(
        say_later("Name"),
        most=customer_details.LONGEST_NAME,
        needed=customer_details.NO_NAME,
    )
    phone = TextField(say_later("Phone number"), most=40)
    email = TextField(say_later("E-mail"), most=mail.LONGEST)
    language = SelectField(
        say_later("Customer’s language"),
        choices=lambda: list(languages().items()),
        validate_choice=False,
    )
    note = TextField(say_later("Note"), most=customer_details.LONGEST_NOTE)


@bp.route("/tickets/<int:ticket_id>/details", methods=["GET", "POST"])
@allow("counter", "owner")
def details(ticket_id: int) -> Response | tuple[str, int]:
    """The customer, corrected."""
    form = DetailsForm()
    if form.validate_on_submit():
        try:
            typed = Details(*(form[name].data or "" for name in NAMES))
            saved = customer_details.put_right(
                store(), act(), the_shop(), ticket_id, typed, _seen(form)
            )
            flash(saved.words)
            return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
        except Conflict as error:
            raise both_texts(error, form, _stored(ticket_id)) from error
        except FitCounterError as error:
            form.take(error)
    ticket, customer = customer_details.look(store(), ticket_id)
    if not form.is_submitted():
        form = DetailsForm(formdata=None, data={**_stored(ticket_id), "version": customer.version})
    stored = _stored(ticket_id)
    was = {name: request.form.get(f"was_{name}", value) for name, value in stored.items()}
    past = history.of_customer(store(), the_shop(), customer.id)
    return render_template(
        "counter/customer_details.html", form=form, ticket=ticket, was=was, history=past
    ), (422 if form.errors else 200)


def _seen(form: DetailsForm) -> SeenDetails:
    """What stood on the page, where the form says so."""
    was = [request.form.get(f"was_{name}") for name in NAMES]
    known = [clean(one) for one in was if one is not None]
    return SeenDetails(form.seen_version, Details(*known) if len(known) == len(NAMES) else None)


def _stored(ticket_id: int) -> dict[str, str]:
    """What stands now, by the form's fields."""
    now = customer_details.look(store(), ticket_id)[1]
    spoken = translation.speech(now.language).code
    return {
        "name": now.name,
        "phone": now.phone_typed,
        "email": now.email,
        "language": spoken,
        "note": now.note,
    }
