"""Today: short lists in words that empty themselves, and one field that finds."""

from __future__ import annotations

from flask import Blueprint, g, jsonify, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from fitcounter.desk.aftercare import follow_ups, not_right
from fitcounter.desk.bench import board
from fitcounter.desk.bench.pair_in_one_row import together
from fitcounter.desk.common import item_words
from fitcounter.desk.front_desk import search as front_desk_search
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.messages import mail_wanted
from fitcounter.errors import RetiredTag
from fitcounter.web.guards.access import STAFF, allow, store, the_shop

bp = Blueprint("counter", __name__)


@bp.get("/")
@allow(*STAFF)
def today() -> str:
    """What is to be done today, at the bench and at the counter; nothing that is done stays on it.

    ?all=1: every row, due or not.
    """
    day = the_shop().today(g.now)
    rows = ticket_rows.open_rows(store(), the_shop(), day)
    return render_template(
        "counter/today.html",
        rows=rows,
        most=None if request.args.get("all") == "1" else front_desk_today.MOST_ROWS,
        day=day,
        desk=front_desk_today.desk_lists(store(), the_shop(), rows, g.now),
        bench=board.board(store(), the_shop(), g.now),
        together=together,
        stands=lambda row: item_words.stands(row, row.problem),
        follow_ups=follow_ups.due_by(store(), day),
        signs=not_right.signs_in_words,
        undelivered=mail_wanted.undelivered(store(), g.now),
    )


@bp.get("/find")
@allow(*STAFF)
def find() -> Response | str:
    """What the one field finds, each row an answer; a scanned tag opens its item at once."""
    typed = request.args.get("q", "")[:200]
    try:
        day = the_shop().today(g.now)
        rows = front_desk_search.find(store(), the_shop(), typed, day) if typed.strip() else []
    except RetiredTag as error:
        return redirect(url_for("items.tag", code=error.code), 303)
    return render_template("counter/find.html", typed=typed, rows=rows)


@bp.get("/ready.json")
@allow(*STAFF)
def ready() -> Response:
    """Number, words and shelf of every open ticket, without names: what a shop's phone may keep for
    when there is no network.
    """
    rows = ticket_rows.open_rows(store(), the_shop(), the_shop().today(g.now))
    return jsonify(
        [{"number": row.ticket.number, "words": row.bare_words, "ready": row.ready} for row in rows]
    )
