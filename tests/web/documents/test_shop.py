"""Papers of a payment and of a part that was handed over, asked for by their address; and which
paper they are printed on.
"""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.store.database import Act, Store


@pytest.mark.parametrize("asked", ["payment=99", "handover=1", "", "payment=x"])
def test_a_receipt_of_nothing_is_not_found(
    counter: Counter, store: Store, clock: Clock, asked: str
):
    job = make_job(store, Act(clock.now, 1))
    answer = counter.get(f"/tickets/{job.ticket_id}/receipt.pdf?{asked}")
    assert answer.status_code == 404
    assert "No such payment" in answer.text or "Nothing is picked up yet" in answer.text


def test_the_papers_page_says_what_claim_checks_are_printed_on(
    counter: Counter, store: Store, clock: Clock
):
    assert "Paper: Like the other papers." in counter.get("/papers").text
    shop.choose(store, Act(clock.now, 1), slip_paper="roll58")
    assert "Paper: Till roll, 58 mm." in counter.get("/papers").text
