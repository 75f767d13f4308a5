"""A paper on its way to the browser, and the address that papers and links carry."""

from __future__ import annotations

from collections.abc import Callable

from flask import current_app, make_response, render_template, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.shop import Store
from fitcounter.web.responses import how_far


def printed(make: Callable[[Store], bytes], name: str) -> ResponseReturnValue:
    """The PDF, or a page that says what is missing to make one.

    make: asks nothing of the request, which may be over by then.
    """

    def work(store: Store) -> tuple[str, bytes]:
        missing = documents_ticket.ready()
        return missing, b"" if missing else make(store)

    def then(made: Callable[[], tuple[str, bytes]]) -> Response:
        missing, pdf = made()
        if missing:
            return make_response(render_template("documents/no_paper.html", missing=missing))
        return as_pdf(pdf, name)

    return how_far.answered(work, then)


def as_pdf(made: bytes, name: str) -> Response:
    """A PDF that the browser shows, called `name`.pdf where it is kept."""
    answer = make_response(made)
    answer.headers["Content-Type"] = "application/pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


def customers_paper(
    make: Callable[[Store, documents_ticket.Press], bytes], name: str
) -> ResponseReturnValue:
    """A paper in the customer's language: the PDF, or where none can be made the same as a page to
    print. make: as in `printed`. name: of the file.
    """
    style = url_for("static", filename="print.css")

    def work(store: Store) -> bytes:
        return make(store, documents_ticket.press(style))

    def then(made: Callable[[], bytes]) -> Response:
        paper = made()
        return make_response(paper.decode()) if documents_ticket.ready() else as_pdf(paper, name)

    return how_far.answered(work, then)


def base_url() -> str:
    """The shop's own address, as a scanned tag or a customer's link needs it."""
    return str(current_app.config["SETTINGS"].base_url)
