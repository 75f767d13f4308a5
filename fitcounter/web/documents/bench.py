"""The bench's papers: the card of a job, the strip of trees for the wall, tags for the trees."""

from __future__ import annotations

from flask import flash, g, redirect, request, url_for
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
def card(ticket_id: int) -> Response:
    """Both boots side by side, with rows for a pencil."""
    return printed(
        lambda: documents_bench.card_pdf(
            documents_bench.bench_card(
                store(), the_shop(), ticket_id, base_url(), the_shop().today(g.now)
            )
        ),
        "bench-card",
    )


@bp.get("/bench/wall.pdf")
@allow(*STAFF)
def wall() -> Response:
    """All trees with their codes, to hang where the trees hang."""
    return printed(
        lambda: documents_trees.wall_pdf(
            documents_trees.wall_strip(store(), the_shop(), base_url())
        ),
        "trees",
    )


@bp.get("/bench/trees/tags.pdf")
@allow(*STAFF)
def trees_tags() -> Response:
    """A label for every tree; ?paper=a4 or letter lays them on a sheet."""
    size = request.args.get("paper", "label")
    return printed(
        lambda: documents_ticket.tags_pdf(
            documents_trees.tree_tags(store(), the_shop(), base_url(), size)
        ),
        "tree-tags",
    )


@bp.post("/bench/trees/tags")
@allow(*STAFF)
def give_tags() -> Response:
    """A tag for every tree that has none."""
    flash(f"{bench_trees.give_tags(store(), act()).words}.")
    return redirect(url_for("bench.trees"), 303)
