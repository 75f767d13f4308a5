"""Messages to a phone of somebody at the shop."""

from __future__ import annotations

from flask import flash, redirect, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import say
from fitcounter.desk.messages import push_asked_by_phone
from fitcounter.desk.messages.push_asked_by_phone import TypedPhone
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import STAFF, act, allow, store

LONGEST = 2000


@bp.post("/me/push")
@allow(*STAFF)
def ask_push() -> Response:
    """This phone is told what the bench and customers wait for."""
    parts = (request.form.get(name, "")[:LONGEST] for name in ("endpoint", "p256dh", "auth"))
    push_asked_by_phone.ask_for_staff(store(), act(), TypedPhone(*parts))
    return Response(status=204)


@bp.post("/me/push/end")
@allow(*STAFF)
def end_push() -> Response:
    """No phone of this person is told any more."""
    push_asked_by_phone.end_for_staff(store(), act())
    flash(say("No more messages to phones."))
    return redirect(url_for(".me"), 303)


@bp.app_template_global()
def is_pushed_to(staff_id: int) -> bool:
    """Whether a phone of this person gets messages."""
    return push_asked_by_phone.is_on_for(store(), staff_id)
