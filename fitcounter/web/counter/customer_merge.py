"""One person entered twice: who may be meant, both side by side, merged, and undone."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, HiddenField, RadioField

from fitcounter.desk.common.translation import say_later
from fitcounter.desk.customer import merge as customer_merge
from fitcounter.desk.customer.merge import CustomerEntry, MergeInput, MergePage
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.web.counter.today import bp
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import act, allow, store, the_shop


class MergeForm(SavedForm):
    keep = RadioField(say_later("Whose details stay"), validate_choice=False)
    sure = BooleanField(say_later("They are the same person"))
    stamp = HiddenField()


@bp.get("/tickets/<int:ticket_id>/merge")
@allow("counter", "owner")
def duplicates(ticket_id: int) -> str:
    """Entries that may be the same person; ?q= a name to look for."""
    typed = request.args.get("q", "")[:80].strip()
    return render_template(
        "counter/customer_duplicates.html",
        seen=customer_merge.suggestions(store(), the_shop(), ticket_id, typed),
        typed=typed,
    )


@bp.route("/tickets/<int:ticket_id>/merge/<int:customer_id>", methods=["GET", "POST"])
@allow("counter", "owner")
def merge(ticket_id: int, customer_id: int) -> Response | tuple[str, int]:
    """Both entries side by side; a second tap makes them one."""
    form = MergeForm()
    page = customer_merge.look(store(), ticket_id, customer_id)
    form.keep.choices = [(str(one.customer.id), _called(one)) for one in page.entries]
    if form.validate_on_submit() and _saved(form, ticket_id, customer_id):
        return redirect(url_for(".ticket", ticket_id=ticket_id), 303)
    if not form.is_submitted():
        form.keep.data, form.stamp.data = str(page.entries[0].customer.id), page.stamp
    return render_template(
        "counter/customer_merge.html", form=form, page=page, undo_days=customer_merge.UNDO_DAYS
    ), (422 if form.is_submitted() else 200)


@bp.post("/tickets/<int:ticket_id>/merge/undo")
@allow("counter", "owner")
def undo_merge(ticket_id: int) -> Response:
    """What was merged last is two customers again."""
    flash(customer_merge.undo(store(), act(), ticket_id).words)
    return redirect(url_for(".ticket", ticket_id=ticket_id), 303)


def _called(entry: CustomerEntry) -> str:
    """Name and number, so that two of the same name are told apart."""
    return ", ".join(part for part in (entry.customer.name, entry.customer.phone_typed) if part)


def _saved(form: MergeForm, ticket_id: int, customer_id: int) -> bool:
    """Whether they are one now; if not, the form says why. Raises Conflict with what stands now."""
    keep = str(form.keep.data or "")
    typed = MergeInput(
        int(keep) if keep.isascii() and keep.isdigit() and len(keep) < 12 else 0,
        str(form.stamp.data or ""),
        bool(form.sure.data),
    )
    try:
        flash(customer_merge.merge(store(), act(), ticket_id, customer_id, typed).words)
    except Conflict as error:
        theirs = error.theirs or _stands(customer_merge.look(store(), ticket_id, customer_id))
        raise Conflict(error.sentence, theirs=theirs, ticket_id=ticket_id) from error
    except FitCounterError as error:
        form.take(error)
        return False
    return True


def _stands(page: MergePage) -> dict[str, str]:
    """Both entries as they are now."""
    return {
        f"{one.customer.name} ({number})": ", ".join(
            part for part in (one.customer.phone_typed, one.customer.email) if part
        )
        or "–"
        for number, one in enumerate(page.entries, 1)
    }
