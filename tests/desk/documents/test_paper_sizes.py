"""What claim checks and receipts are printed on is chosen once."""

from __future__ import annotations

from typing import get_args

from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.settings.setting_groups import FEW
from fitcounter.desk.shop import Shop
from fitcounter.papers.records import Paper


def test_each_size_that_can_be_chosen_is_a_paper():
    for size in FEW["slip_paper"]:
        shop = Shop(slip_paper=size, paper="a4")
        assert paper_sizes.of_slips(shop) == (size or "a4")
        assert paper_sizes.of_slips(shop) in get_args(Paper)
        assert paper_sizes.of_pages(shop) == "a4"
