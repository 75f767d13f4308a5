"""The bench: trees and what is on them, what is to be done, and the scanner that stays open."""

from __future__ import annotations

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from fitcounter.desk import board
from fitcounter.fit import progress
from fitcounter.web.access import STAFF, allow, store, the_shop
from fitcounter.web.bench_forms import now

bp = Blueprint("bench", __name__)


@bp.get("/bench")
@allow(*STAFF)
def bench() -> str:
    """The queue in the order of work, and every tree."""
    return render_template("bench/bench.html", board=board.board(store(), the_shop(), now()), state_words=progress.WORDS)


@bp.get("/bench/trees/<int:tree_id>")
@allow(*STAFF)
def tree(tree_id: int) -> Response | str:
    """A tree: what is on it, what it measures."""
    seen = board.tree(store(), tree_id)
    if seen.on_it is not None:
        return redirect(url_for("items.item", item_id=seen.on_it.id), 303)
    return render_template("bench/tree.html", seen=seen)
