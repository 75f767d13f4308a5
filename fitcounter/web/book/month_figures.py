"""The owner's figures of some days, each a link to the rows it is made of."""

from __future__ import annotations

from datetime import date

from flask import g, render_template, request

from fitcounter.desk.book import month_figure_rows, month_figures
from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.book.income_by_day import asked_days
from fitcounter.web.guards.access import allow, store, the_shop

MOST_DAYS = 366


@bp.get("/book/figures")
@allow("owner")
def the_figures() -> str:
    """?first= and ?last=: of these days; this month where none are named."""
    page = month_figures.look(store(), the_shop(), g.now, *_days())
    return render_template("book/month_figures.html", page=page)


@bp.get("/book/figures/<name>")
@allow("owner")
def figure(name: str) -> str:
    """The rows behind one figure; ?of=: of one group alone."""
    days, of = _days(), request.args.get("of")
    behind = month_figure_rows.behind(store(), the_shop(), g.now, name, days, of)
    return render_template("book/month_figure.html", behind=behind, days=days)


def _days() -> tuple[date, date]:
    """Raises BadInput where they are more than a year."""
    first, last = asked_days(the_shop().today(g.now).replace(day=1))
    if (last - first).days >= MOST_DAYS:
        raise BadInput(say("Pick a first and a last day within one year."), field="first")
    return first, last
