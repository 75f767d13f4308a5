"""The wearing-in calendar that a phone asks again by itself."""

from __future__ import annotations

import hashlib

from flask import current_app, g, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.common.translation import spoken
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.documents.calendar import CalendarRequest, calendar_feed
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.web.customer.page import bp
from fitcounter.web.guards.access import allow, store, the_shop
from fitcounter.web.pages import link_address


@bp.get("/feed.ics")
@allow("anyone")
def feed(token: str) -> Response:
    """The calendar as it stands; 304 for whoever has it so already.

    Asked too often, it answers that it is too often before it looks at anything.
    """
    customer_page.ticket_of_link(store(), token, g.now)
    key = f"feed:{token_hash(token)}"
    staff_throttle.check(store(), key, staff_throttle.FEED, g.now)
    staff_throttle.missed(store(), key, staff_throttle.FEED, g.now)
    page = f"{current_app.config['SETTINGS'].base_url}{url_for('.page', token=token)}"
    wanted = CalendarRequest(
        token=token,
        file_format="ics",
        language=spoken().code if request.args.get("language") else "",
        link=link_address.at_home(page),
    )
    file = calendar_feed(store(), the_shop(), wanted, g.now)
    answer = current_app.response_class(file.content, content_type=file.mimetype)
    answer.headers["Cache-Control"] = "private, no-cache"
    answer.set_etag(hashlib.sha256(file.content).hexdigest()[:32])
    return answer.make_conditional(request)
