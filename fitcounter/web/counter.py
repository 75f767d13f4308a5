"""The counter: what is open, and one ticket."""

from __future__ import annotations

from flask import Blueprint, render_template

from fitcounter.desk import ticket_page
from fitcounter.web.access import STAFF, allow, store

bp = Blueprint("counter", __name__)


@bp.get("/")
@allow(*STAFF)
def today() -> str:
    """Every open ticket as one line, by promised day."""
    return render_template("counter/today.html", rows=ticket_page.open_rows(store()))


@bp.get("/tickets/<int:ticket_id>")
@allow(*STAFF)
def ticket(ticket_id: int) -> str:
    """One ticket: whose, what is on it and where it stands, money, papers, and what comes next."""
    return render_template("counter/ticket.html", page=ticket_page.look(store(), ticket_id))
