"""What claim checks and receipts are printed on is chosen once."""

from __future__ import annotations

from typing import get_args

from fitcounter.desk.documents.ticket import paper_of, slip_paper_of
from fitcounter.desk.settings.choice_groups import FEW
from fitcounter.desk.shop import Shop
from fitcounter.papers.records import Paper


def test_each_size_that_can_be_chosen_is_a_paper():
    for size in FEW["slip_paper"]:
        shop = Shop(slip_paper=size, paper="a4")
        assert slip_paper_of(shop) == (size or "a4")
        assert slip_paper_of(shop) in get_args(Paper)
        assert paper_of(shop) == "a4"
