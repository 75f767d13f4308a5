"""The claim check, filled from the stored rows."""

from __future__ import annotations

from pathlib import Path

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.documents import claim_check_and_tags
from fitcounter.store import tags
from fitcounter.store.database import Act, Store


def test_a_claim_check_counts_the_items_and_takes_the_deposit_off(
    store: Store, clock: Clock, tmp_path: Path
):
    job, at = make_job(store, Act(clock.now, 1)), "https://bench.example"
    check = claim_check_and_tags.claim_check(
        store, shop.read(store), job.ticket_id, at, tmp_path, clock.now
    )
    assert (check.total, check.deposit, check.due) == ("$90.00", "−$30.00", "$60.00")
    assert [one.count for one in check.items] == [2, 1]
    assert check.boots, "so the page of the code is said to show boots"


def test_a_tag_says_whose_it_is_where_the_shop_wants_it_and_only_there(store: Store, clock: Clock):
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        tags.make(store, act, 1, "left", job.left)

    def names() -> list[str]:
        sheet = claim_check_and_tags.tag_sheet(
            store, shop.read(store), job.ticket_id, "https://bench.example"
        )
        return [one.name for one in sheet.labels]

    assert names() == [""]
    shop.choose(store, act, name_on_tag=True)
    assert names() == ["Marisol Okafor-Lind"]
