"""No page reads a table that grows with the years from end to end."""

from __future__ import annotations

from collections import Counter

import pytest
from support.query_plans import asked, scanned, told, without_values
from support.whole_shop import WholeShop, addresses, rules

from fitcounter.store.integrity import tables

# Tables that stay as long as the shop is large, however old it is: its people, trees, choices and
# prices, its days off, what is planned and booked now, and what is tidied away after some days.
STAYS = {
    *("_sqlite_migrations", "settings", "staff", "trees", "tree_calibration", "price_list"),
    *("closures", "bench_days", "bench_plan", "bookings", "promised_slots", "phones"),
    *("push_phones", "drafts", "throttle"),
}
# Health proves the whole log of who did what, from its first row, each time it is asked.
# The newest first: the last copy that was good and the last closing are found in the first row.
ON_PURPOSE = {("/shop/health", "audit"), ("/shop/health", "backups"), ("/till", "tills")}


def test_no_page_reads_a_growing_table_from_end_to_end(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every address that can be looked at, by the owner, and each statement it asks."""
    owner, whole_tables = whole.signed_in("owner"), set()
    grows = set(tables(whole.store)) - STAYS
    looked_at: set[str] = set()
    with asked(monkeypatch) as seen:
        for rule in rules(whole.app):
            if "GET" in (rule.methods or ()):
                for address in addresses(whole, rule):
                    owner.get(address)
                    for statement in set(seen) - looked_at:
                        read = scanned(whole.store, seen[statement], grows)
                        whole_tables |= {(rule.rule, table) for table in read}
                    looked_at |= set(seen)
    assert len(looked_at) > 100
    assert whole_tables == ON_PURPOSE


def test_a_table_that_is_read_from_end_to_end_is_seen(whole: WholeShop) -> None:
    by_ticket, by_words = (
        f"SELECT * FROM comebacks c WHERE c.{column} = 1" for column in ("ticket_id", "said")
    )
    assert scanned(whole.store, by_ticket, {"comebacks"}) == set()
    assert scanned(whole.store, by_words, {"comebacks"}) == {"comebacks"}


@pytest.mark.parametrize("page", ["/", "/bench", "/bench/trees", "/bench/plan"])
def test_what_is_asked_for_every_boot_or_tree_is_asked_once_for_all(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch, page: str
) -> None:
    owner, asked_for = whole.signed_in("owner"), Counter[str]()
    owner.get(page)
    with told(monkeypatch, lambda statement: asked_for.update([without_values(statement)])):
        owner.get(page)
    trees = whole.store.value("SELECT count(*) FROM trees WHERE state <> 'retired'")
    assert asked_for.most_common(1)[0][1] <= 6 < trees
