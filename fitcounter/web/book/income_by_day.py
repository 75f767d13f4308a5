"""Income: by day, week and month, each figure a link to its payments; a file for the accountant."""

from __future__ import annotations

from datetime import date

from flask import Response, g, render_template, request

from fitcounter.desk.book import accountant_csv, income_by_day
from fitcounter.desk.common.translation import say
from fitcounter.desk.tickets import payments
from fitcounter.errors import BadInput
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import allow, store, the_shop


@bp.get("/book/income")
@allow("owner")
def the_income() -> str:
    """?by=day, week or month; ?first= and ?last=: the payments of these days."""
    days = _days() if request.args.get("first") else None
    page = income_by_day.look(store(), the_shop(), g.now, request.args.get("by", "day"), days)
    return render_template(
        "book/income_by_day.html",
        page=page,
        by=income_by_day.BY,
        said=payments.SAID,
        methods=payments.METHODS,
        most=income_by_day.MOST_PAYMENTS,
    )


@bp.get("/book/income.csv")
@allow("owner")
def income_table() -> Response:
    """Payments and price lines of some days, a row each."""
    first, last = _days()
    answer = Response(accountant_csv.parts(store(), the_shop(), first, last), mimetype="text/csv")
    name = f"income-{first.isoformat()}-{last.isoformat()}.csv"
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def _days() -> tuple[date, date]:
    """The days of the address; this year until today where it names none. Raises BadInput."""
    return asked_days(the_shop().today(g.now).replace(month=1, day=1))


def asked_days(usual_first: date) -> tuple[date, date]:
    """The days of the address; from usual_first until today where it names none. Raises
    BadInput.
    """
    usual = {"first": usual_first, "last": the_shop().today(g.now)}
    asked = {name: request.args.get(name) or usual[name].isoformat() for name in usual}
    try:
        first, last = (date.fromisoformat(asked[name]) for name in ("first", "last"))
    except ValueError:
        raise BadInput(say("Pick a first and a last day within one year."), field="first") from None
    if not date(2000, 1, 1) <= first <= last <= date(2200, 1, 1):
        raise BadInput(say("Pick a first and a last day within one year."), field="first")
    return first, last
