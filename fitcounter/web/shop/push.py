"""Shop: whether messages go to phones, and through which services."""

from __future__ import annotations

from flask import current_app, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField

from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.health import push as push_health
from fitcounter.desk.messages import push_allowed_services
from fitcounter.errors import FitCounterError, Unavailable
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.fields import LongText
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import act, allow, store
from fitcounter.web.pages import link_address


class PushForm(SavedForm):
    on = BooleanField(say_later("Send messages to phones that ask for them"))
    hosts = LongText(say_later("Services they may go through, one on each line"), most=4000)


@bp.route("/shop/push", methods=["GET", "POST"])
@allow("owner")
def push() -> Response | tuple[str, int]:
    """The choice, the services and how it goes."""
    form, choice = PushForm(), push_allowed_services.of_shop(store())
    if form.is_submitted() and form.validate():
        try:
            base_url = str(current_app.config["SETTINGS"].base_url)
            push_allowed_services.keep(
                store(), act(), form.hosts.data or "", base_url, on=form.on.data
            )
            flash(say("Saved."))
            return redirect(url_for(".push"), 303)
        except Unavailable:
            raise
        except FitCounterError as error:
            form.take(error)
    elif not form.is_submitted():
        form.on.data, form.hosts.data = choice.on, "\n".join(choice.hosts)
    page = render_template(
        "shop/push.html",
        form=form,
        known=push_allowed_services.KNOWN,
        whose=push_allowed_services.WHOSE,
        line=push_health.look(store()),
        unreachable=link_address.own_address(),
    )
    return page, 422 if form.errors else 200
