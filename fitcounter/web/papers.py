"""The papers of a ticket: as PDF, or as a page to print where PDFs cannot be made."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from flask import Blueprint, current_app, make_response, render_template, request
from werkzeug.wrappers import Response

from fitcounter.desk import printing
from fitcounter.web.access import allow, store, the_shop

bp = Blueprint("papers", __name__)
Record = TypeVar("Record")


@bp.get("/tickets/<int:ticket_id>/tags.pdf")
@allow("counter", "bench", "owner")
def tags(ticket_id: int) -> Response:
    """One label of 62 by 100 mm an item; ?paper=a4 or letter lays them on a sheet."""
    sheet = printing.tag_sheet(store(), the_shop(), ticket_id, _base_url(), request.args.get("paper", "label"))
    return _print(sheet, printing.tags_pdf, "counter/print_tags.html", f"tags-{sheet.labels[0].number}.pdf")


@bp.get("/tickets/<int:ticket_id>/claim.pdf")
@allow("counter", "owner")
def claim(ticket_id: int) -> Response:
    """What the customer takes home today."""
    check = printing.claim_check(store(), the_shop(), ticket_id, _base_url(), _data_dir())
    return _print(check, printing.claim_pdf, "counter/print_claim.html", f"claim-check-{check.number}.pdf")


@bp.get("/tickets/<int:ticket_id>/consent.pdf")
@allow("counter", "owner")
def consent(ticket_id: int) -> Response:
    """What was agreed, as it was signed."""
    record = printing.consent_record(store(), the_shop(), ticket_id, _data_dir())
    return _print(record, printing.consent_pdf, "counter/print_consent.html", f"agreed-{record.number}.pdf")


def _print(record: Record, press: Callable[[Record], bytes], page: str, name: str) -> Response:
    missing = printing.ready()
    if missing:
        return make_response(render_template(page, paper=record, missing=missing))
    answer = make_response(press(record))
    answer.headers["Content-Type"] = "application/pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def _base_url() -> str:
    return str(current_app.config["SETTINGS"].base_url)


def _data_dir() -> Path:
    return Path(current_app.config["SETTINGS"].data_dir)
