"""A new tag for a thing, two tags exchanged after a look at both things, and a free tag struck
off.
"""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.tickets import tag_replaced_or_swapped
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.web.forms.saved_form import SavedForm, TextField
from fitcounter.web.guards.access import STAFF, act, allow, store
from fitcounter.web.items.item import bp

SCAN_IT = say_later("Scan the other tag, or type the nine letters and numbers on it.")


class OtherTagForm(SavedForm):
    code = TextField(say_later("Scan or type the tag on the other item"), most=120, needed=SCAN_IT)


@bp.route("/items/<int:item_id>/tag", methods=["GET", "POST"])
@allow(*STAFF)
def retag_page(item_id: int) -> str | tuple[str, int] | Response:
    """What is wrong with the tag of this thing? Posted: the other tag, answered with both things
    side by side.
    """
    form = OtherTagForm()
    seen = tag_replaced_or_swapped.look(store(), item_id)
    if form.validate_on_submit():
        try:
            there = tag_replaced_or_swapped.other(store(), seen.item, form.code.data)
            return redirect(url_for(".swap_page", item_id=item_id, other_id=there.item.id), 303)
        except FitCounterError as error:
            form.take(error)
    page = render_template(
        "items/tag_replaced_or_swapped.html",
        seen=seen,
        form=form,
        partner=tag_replaced_or_swapped.partner(store(), seen.item),
    )
    return (page, 422) if form.is_submitted() else page


@bp.post("/items/<int:item_id>/tag/new")
@allow(*STAFF)
def new_tag(item_id: int) -> Response:
    """The old code dies; the new tag is printed from the page."""
    flash(tag_replaced_or_swapped.new_tag(store(), act(), item_id).words)
    return redirect(url_for(".retag_page", item_id=item_id), 303)


@bp.get("/items/<int:item_id>/tag/swap/<int:other_id>")
@allow(*STAFF)
def swap_page(item_id: int, other_id: int) -> str:
    """Both things large, each with the tag it is down with, before anything is changed."""
    return render_template(
        "items/swap.html",
        here=tag_replaced_or_swapped.look(store(), item_id),
        there=tag_replaced_or_swapped.look(store(), other_id),
    )


@bp.post("/items/<int:item_id>/tag/swap/<int:other_id>")
@allow(*STAFF)
def swap_tags(item_id: int, other_id: int) -> Response:
    """Both get new tags; each old code leads to the thing it really hung on."""
    if not request.form.get("confirmed"):
        raise BadInput(
            say("Nothing was changed. To swap the tags, press the button under the two items."),
            field="confirmed",
        )
    flash(tag_replaced_or_swapped.swap(store(), act(), item_id, other_id).words)
    return redirect(url_for(".retag_page", item_id=item_id), 303)


@bp.post("/tags/<code>/strike")
@allow(*STAFF)
def retire_tag(code: str) -> Response:
    """A free tag that was spoiled opens nothing any more."""
    flash(tag_replaced_or_swapped.retire(store(), act(), code).words)
    return redirect(url_for("papers.shelf"), 303)
