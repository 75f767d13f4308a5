"""The papers of a ticket: as PDF, or as a page to print where PDFs cannot be made."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from flask import Blueprint, current_app, g, render_template, request
from flask.typing import ResponseReturnValue

from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.shop import Store
from fitcounter.web.guards.access import allow, store, the_shop
from fitcounter.web.responses import how_far
from fitcounter.web.responses.pdf import as_pdf, base_url, customers_paper

bp = Blueprint("papers", __name__)


@bp.get("/tickets/<int:ticket_id>/tags.pdf")
@allow("counter", "bench", "owner")
def tags(ticket_id: int) -> ResponseReturnValue:
    """One label of 62 by 100 mm an item; ?paper=a4 or letter lays them on a sheet."""
    sheet = documents_ticket.tag_sheet(
        store(), the_shop(), ticket_id, base_url(), request.args.get("paper", "label")
    )

    def work(held: Store) -> tuple[str, bytes]:
        missing = documents_ticket.ready()
        return missing, b"" if missing else documents_ticket.tags_pdf(sheet)

    def then(made: Callable[[], tuple[str, bytes]]) -> ResponseReturnValue:
        missing, pdf = made()
        if missing:
            return render_template("documents/print_tags.html", paper=sheet, missing=missing)
        return as_pdf(pdf, f"tags-{sheet.labels[0].number}")

    return how_far.answered(work, then)


@bp.get("/tickets/<int:ticket_id>/claim.pdf")
@allow("counter", "owner")
def claim(ticket_id: int) -> ResponseReturnValue:
    """What the customer takes home today."""
    check = documents_ticket.claim_check(
        store(), the_shop(), ticket_id, base_url(), _data_dir(), g.now
    )
    return customers_paper(
        lambda _, press: documents_ticket.claim_paper(check, press), f"claim-check-{check.number}"
    )


@bp.get("/tickets/<int:ticket_id>/consent.pdf")
@allow("counter", "owner")
def consent(ticket_id: int) -> ResponseReturnValue:
    """What was agreed, as it was signed; ?copy= an earlier agreement."""
    copy = request.args.get("copy", "")
    which = int(copy) if copy.isascii() and copy.isdigit() and len(copy) < 12 else None
    record = documents_ticket.consent_record(store(), the_shop(), ticket_id, _data_dir(), which)
    return customers_paper(
        lambda _, press: documents_ticket.consent_paper(record, press), f"agreed-{record.number}"
    )


def _data_dir() -> Path:
    return Path(current_app.config["SETTINGS"].data_dir)
