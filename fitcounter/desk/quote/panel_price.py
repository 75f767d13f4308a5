"""What leather or elastic let into a pair costs, by the width that each boot needs."""

from __future__ import annotations

from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.verdict import Answer
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Store

PANEL = "panel"


def panel_minor(store: Store, shop: Shop, given: Answer, key: str = PANEL) -> int | None:
    """For all boots of the pair together, where the list of work has a price; for a panel else the
    shop's one price. key: of the list of work.
    """
    entry = price_list.get(store, key)
    panels = [side.verdict.panel for _, side in given.measured if side.verdict.panel]
    if entry.size_minor and panels:
        return sum(price_list.sized_minor(entry, shop, panel.widest_mm) for panel in panels)
    if key == PANEL:
        return shop.panel_minor
    each = None if entry.size_minor else entry.price_minor
    return None if each is None else each * len(panels)
