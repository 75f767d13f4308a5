"""Book: estimate and result, and what each leather keeps.

Every picture has its table.
"""

from __future__ import annotations

from flask import Response, g, render_template, request

from fitcounter.desk.book import estimate_and_result, estimate_csv
from fitcounter.desk.book import estimate_boots as desk_boots
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import allow, store, the_shop


@bp.get("/book", endpoint="book")
@allow("owner")
def the_book() -> str:
    """Pictures an owner would rather look at than read, each with its table under it."""
    shop, today = the_shop(), the_shop().today(g.now)
    rows = ticket_rows.open_rows(store(), shop, today)
    return render_template(
        "book/estimate_and_result.html",
        page=estimate_and_result.look(store(), shop, g.now),
        waiting=calls_and_reminders.not_fetched(rows, shop, today),
    )


@bp.get("/book/boots/<figure>")
@allow("owner")
def book_boots(figure: str) -> str:
    """The boots that a figure counts; ?estimate=: only those with so many rounds estimated."""
    asked = request.args.get("estimate", "")
    estimate = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 3 else None
    behind = desk_boots.behind(store(), the_shop(), figure, estimate)
    return render_template("book/estimate_boots.html", behind=behind)


@bp.get("/book/said-and-took.csv")
@allow("owner")
def said_and_took() -> Response:
    """Estimate and result, a boot a line."""
    answer = Response(estimate_csv.parts(store(), the_shop()), mimetype="text/csv")
    answer.headers["Content-Disposition"] = 'attachment; filename="said-and-took.csv"'
    return answer
