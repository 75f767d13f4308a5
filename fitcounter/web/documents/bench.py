"""The bench's papers: the card of a job, the strip of trees for the wall, tags for the trees."""

from __future__ import annotations

from flask import flash, g, redirect, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.wrappers import Response

from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents import tree_tags as documents_trees
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.web.bench.board import bp
from fitcounter.web.guards.access import STAFF, act, allow, store, the_shop
from fitcounter.web.responses.pdf import base_url, printed


@bp.get("/tickets/<int:ticket_id>/bench-card.pdf")
@allow(*STAFF)
def card(ticket_id: int) -> ResponseReturnValue:
    """Both boots side by side, with rows for a pencil."""
    shop, base, today = the_shop(), base_url(), the_shop().today(g.now)
    return printed(
        lambda held: documents_bench.card_pdf(
            documents_bench.bench_card(held, shop, ticket_id, base, today)
        ),
        "bench-card",
    )


@bp.get("/bench/wall.pdf")
@allow(*STAFF)
def wall() -> ResponseReturnValue:
    """All trees with their codes, to hang where the trees hang."""
    shop, base = the_shop(), base_url()
    return printed(
        lambda held: documents_trees.wall_pdf(documents_trees.wall_strip(held, shop, base)),
        "trees",
    )


@bp.get("/bench/trees/tags.pdf")
@allow(*STAFF)
def trees_tags() -> ResponseReturnValue:
    """A label for every tree; ?paper=a4 or letter lays them on a sheet."""
    shop, base, size = the_shop(), base_url(), request.args.get("paper", "label")
    return printed(
        lambda held: documents_ticket.tags_pdf(documents_trees.tree_tags(held, shop, base, size)),
        "tree-tags",
    )


@bp.post("/bench/trees/tags")
@allow(*STAFF)
def give_tags() -> Response:
    """A tag for every tree that has none."""
    flash(f"{bench_trees.give_tags(store(), act()).words}.")
    return redirect(url_for("bench.trees"), 303)
