"""A good list of paper jobs as CSV."""

from __future__ import annotations

from fitcounter.store.database import Store

HEAD = "number,name,phone,what,where,promised\n"


GOOD = (
    HEAD + "41,Marisol Okafor,(412) 555-0142,chestnut boots + bag: new zip,tree 4 and"
    " 9,2026-03-27\n42,Tobias Renwick,,left boot,shelf C2,2026-03-10\n,Ines Quarrington,,belt:"
    " new hole + gloves,bench,\n"
)


def count(store: Store) -> int:
    return int(
        store.value(
            "SELECT (SELECT count(*) FROM tickets) + (SELECT count(*) FROM customers) + (SELECT"
            " count(*) FROM bookings)"
        )
    )
