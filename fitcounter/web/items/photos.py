"""Photos: taken at the ticket, the item or New job, and shown to whoever is signed in."""

from __future__ import annotations

from flask import Blueprint, Response, g, redirect, url_for
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as AnyResponse
from wtforms import FileField, HiddenField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.front_desk import photos, photos_by_view
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import STAFF, act, allow, store
from fitcounter.web.guards.initials_and_pin import with_pin
from fitcounter.web.guards.request_size import PHOTO_BYTES, sent_photo, takes_bytes
from fitcounter.web.offline.waited_on_phone import typed_at

bp = Blueprint("photos", __name__)


class PhotoForm(SavedForm):
    photo = FileField(say_later("Photo"))
    moment = HiddenField(default="before")
    view = HiddenField(default="")


def _shot(form: PhotoForm) -> photos.Shot:
    return photos.Shot(form.moment.data or "", sent_photo(), typed_at(), form.view.data or "")


class NotYet(HTTPException):
    """The form that a photo belongs to is not saved yet; the phone keeps the photo and asks again
    (RFC 8470).
    """

    code = 425
    description = say_later("The ticket of this photo is not open yet.")


@bp.post("/items/<int:item_id>/photos")
@allow(*STAFF)
@takes_bytes(PHOTO_BYTES)
def of_item(item_id: int) -> AnyResponse:
    """Keeps a photo of one item."""
    form = PhotoForm()
    photos.keep_of_item(store(), act(), item_id, _shot(form))
    return redirect(url_for("items.item", item_id=item_id), 303)


@bp.post("/tickets/<int:ticket_id>/photos")
@allow(*STAFF)
@takes_bytes(PHOTO_BYTES)
def of_ticket(ticket_id: int) -> AnyResponse:
    """Keeps a photo of a whole ticket, such as a paper slip."""
    form = PhotoForm()
    photos.keep(store(), act(), ticket_id, None, _shot(form))
    return redirect(url_for("counter.ticket", ticket_id=ticket_id), 303)


@bp.post("/new/<form_id>/photos")
@allow("counter", "owner")
@takes_bytes(PHOTO_BYTES)
def of_new_job(form_id: str) -> AnyResponse:
    """A photo taken before the ticket was open: it belongs to the ticket that New job opened with
    this submission id.
    """
    ticket_id = photos.ticket_of_form(store(), form_id)
    if ticket_id is None:
        raise NotYet
    return of_ticket(ticket_id)


@bp.get("/photos/<int:photo_id>")
@allow(*STAFF)
def show(photo_id: int) -> Response:
    """The picture itself; it never changes, and signing out wipes it from the phone."""
    answer = Response(photos.show(store(), photo_id), mimetype="image/jpeg")
    answer.headers["Content-Disposition"] = 'inline; filename="photo.jpg"'
    answer.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    answer.headers["Cache-Control"] = "private, max-age=3600"
    return answer


@bp.post("/photos/<int:photo_id>/erase")
@allow("counter", "owner")
@with_pin()
def erase(photo_id: int) -> AnyResponse:
    """Takes one away for good."""
    gone = photos.erase(store(), act(), photo_id)
    return redirect(url_for("counter.ticket", ticket_id=gone.ticket_id), 303)


@bp.app_template_global()
def photo_of(item_id: int) -> str | None:
    """The address of an item's last photo, for the pages that show it large."""
    found = photos.newest(store(), item_id) if g.get("signed_in") else None
    return url_for("photos.show", photo_id=found.id) if found else None


@bp.app_template_filter()
def photos_compared(item_id: int) -> bool:
    """Whether a view of an item has more than one photo."""
    return any(len(view.pictures) > 1 for view in photos_by_view.views(store(), item_id))


@bp.app_template_global()
def photo_views(item_id: int) -> tuple[photos_by_view.View, ...]:
    """Every view of an item with its photos, for the pages that show then and now."""
    return photos_by_view.views(store(), item_id)


@bp.app_template_global()
def photos_of_ticket(ticket_id: int) -> list[tuple[int, str, str]]:
    """Id, address and moment in words of every photo of a ticket, newest first."""
    return [
        (one.id, url_for("photos.show", photo_id=one.id), say(photos.MOMENTS[one.moment]))
        for one in photos.of_ticket(store(), ticket_id)
    ]
