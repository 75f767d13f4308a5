"""A paper on its way to the browser, and the address that papers and links carry."""

from __future__ import annotations

from collections.abc import Callable

from flask import current_app, make_response, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.documents import claim_check_and_tags as documents_ticket


def printed(make: Callable[[], bytes], name: str) -> Response:
    """The PDF, or a page that says what is missing to make one."""
    missing = documents_ticket.ready()
    if missing:
        return make_response(render_template("documents/no_paper.html", missing=missing))
    return as_pdf(make(), name)


def as_pdf(made: bytes, name: str) -> Response:
    """A PDF that the browser shows, called `name`.pdf where it is kept."""
    answer = make_response(made)
    answer.headers["Content-Type"] = "application/pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


def customers_paper(make: Callable[[documents_ticket.Press], bytes], name: str) -> Response:
    """A paper in the customer's language: the PDF, or where none can be made the same as a page to
    print. name: of the file.
    """
    made = make(documents_ticket.press(url_for("static", filename="print.css")))
    return make_response(made.decode()) if documents_ticket.ready() else as_pdf(made, name)


def base_url() -> str:
    """The shop's own address, as a scanned tag or a customer's link needs it."""
    return str(current_app.config["SETTINGS"].base_url)
