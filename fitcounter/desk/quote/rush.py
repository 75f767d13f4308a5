"""A rush job: marked on its ticket, with a price line of its own, until it is done or taken off."""

from __future__ import annotations

from collections.abc import Iterable

from fitcounter.desk.common.translation import marked
from fitcounter.store.records import PriceLine

NO_MORE = marked("No rush any more")
LINE = marked("Rush job")  # as it is kept; desk.customer.phrases says it in another language


def is_charged(lines: Iterable[PriceLine]) -> bool:
    """Whether the rush is among these price lines, were it for nothing."""
    return any(one.what == LINE for one in lines)
