"""The papers of the trees: the strip for the wall, and their tags."""

from __future__ import annotations

from typing import Literal

from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tagcode import tag_address
from fitcounter.papers import records as paper
from fitcounter.store import tags, trees
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Store


def wall_strip(store: Store, shop: Shop, base_url: str) -> paper.WallStrip:
    """Every tree that has a tag. Raises NotFound where none has."""
    held = [
        (row, tag.code)
        for row in trees.everyone(store)
        if (tag := tags.of_tree(store, row.id)) is not None
    ]
    if not held:
        raise NotFound(say("No tree has a tag yet. Make them under Bench, Trees."))
    strip = [
        paper.WallTree(
            row.label, code, tag_address(base_url, code), _side_of(row), _size(row, shop), row.note
        )
        for row, code in held
    ]
    return paper.WallStrip(head(shop), tuple(strip), paper_sizes.of_pages(shop))


def tree_tags(store: Store, shop: Shop, base_url: str, size: str = "label") -> paper.TagSheet:
    """A label for every tree that has a tag. Raises NotFound as wall_strip."""
    strip = wall_strip(store, shop, base_url)
    labels = [
        paper.TagLabel(
            one.label,
            one.code,
            one.address,
            "" if one.side == "either" else one.side,
            "tree",
            one.size,
        )
        for one in strip.trees
    ]
    kept: paper.Paper = "a4" if size == "a4" else "letter" if size == "letter" else "label"
    return paper.TagSheet(head(shop), tuple(labels), kept)


def wall_pdf(strip: paper.WallStrip) -> bytes:
    """Raises Unavailable."""
    from fitcounter.papers import bench_papers

    return bench_papers.wall_strip(strip, spoken().say, spoken().locale)


def _side_of(row: TreeRow) -> Literal["left", "right", "either"]:
    return "left" if row.side == "left" else "right" if row.side == "right" else "either"


def _size(row: TreeRow, shop: Shop) -> str:
    girths = [
        say_length(um / UM_PER_MM, shop.unit)
        for um in (row.closed_um, row.open_um)
        if um is not None
    ]
    if row.size or len(girths) < 2:
        return row.size or "".join(girths)
    return say("{least} to {most}", least=girths[0], most=girths[1])
