"""No page reads a table that grows with the years from end to end."""

from __future__ import annotations

import pytest
from support.query_plans import asked, scanned
from support.whole_shop import WholeShop, addresses, rules

GROWS = {
    *("audit", "boot_readings", "calls", "comebacks", "consents", "customers", "findings", "fits"),
    *("follow_ups", "gap_readings", "incidents", "items", "leg_readings", "links", "payments"),
    *("photos", "predictions", "price_lines", "rounds", "steps", "tags", "tickets", "turns"),
    *("wears", "wear_plans"),
}
# Health proves the whole log of who did what, from its first row, each time it is asked.
ON_PURPOSE = {("/shop/health", "audit")}


def test_no_page_reads_a_growing_table_from_end_to_end(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every address that can be looked at, by the owner, and each statement it asks."""
    owner, whole_tables = whole.signed_in("owner"), set()
    looked_at: set[str] = set()
    with asked(monkeypatch) as seen:
        for rule in rules(whole.app):
            if "GET" in (rule.methods or ()):
                for address in addresses(whole, rule):
                    owner.get(address)
                    for statement in set(seen) - looked_at:
                        tables = scanned(whole.store, seen[statement], GROWS)
                        whole_tables |= {(rule.rule, table) for table in tables}
                    looked_at |= set(seen)
    assert len(looked_at) > 100
    assert whole_tables == ON_PURPOSE


def test_a_table_that_is_read_from_end_to_end_is_seen(whole: WholeShop) -> None:
    by_ticket, by_words = (
        f"SELECT * FROM comebacks c WHERE c.{column} = 1" for column in ("ticket_id", "said")
    )
    assert scanned(whole.store, by_ticket, GROWS) == set()
    assert scanned(whole.store, by_words, GROWS) == {"comebacks"}
