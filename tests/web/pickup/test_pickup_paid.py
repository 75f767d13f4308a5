"""What is paid at pickup: how, how much of it, in which currency, and a receipt for each part
handed over.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.cast import Counter
from support.ticket_rows import Job
from web.pickup.pickup_form import all_of

from fitcounter.desk.documents.receipt_and_letters import ReceiptOf, receipt
from fitcounter.desk.shop import read
from fitcounter.errors import NotFound
from fitcounter.papers.pdf import Document
from fitcounter.store import bills, tills
from fitcounter.store.database import Store


def test_cash_and_card_and_a_tip_are_rows_of_their_own(
    counter: Counter, store: Store, shelved: Job
):
    sent = {**all_of(shelved), "paid": "40", "second": "20", "second_method": "cash", "tip": "3"}
    counter.get(f"/pickup/{shelved.ticket_id}")
    assert counter.post(f"/pickup/{shelved.ticket_id}", **sent).status_code == 303
    assert [
        (one.amount_minor, one.method, one.tip_minor)
        for one in bills.payments(store, shelved.ticket_id)[1:]
    ] == [(4000, "card", 300), (2000, "cash", 0)]
    page = counter.get(f"/tickets/{shelved.ticket_id}").text
    assert "Tip, apart: $3.00" in page
    assert "Paid</dt>" in page, "a tip pays nothing of the price"


def test_how_it_is_paid_and_more_than_the_balance_are_asked(
    counter: Counter, store: Store, shelved: Job
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    page = f"/pickup/{shelved.ticket_id}"
    answer = counter.post(page, **{**all_of(shelved), "method": ""})
    assert answer.status_code == 422
    assert "Pick how it was paid" in answer.text
    answer = counter.post(page, **{**all_of(shelved), "paid": "61"})
    assert answer.status_code == 422
    assert "$61.00 is more than the balance of $60.00." in answer.text
    assert len(bills.payments(store, shelved.ticket_id)) == 1
    sent = {**all_of(shelved), "paid": "61", "above": "y"}
    assert counter.post(page, **sent).status_code == 303


def test_each_part_handed_over_has_its_receipt_with_who_took_it(
    counter: Counter, store: Store, shelved: Job, tmp_path: Path
):
    counter.get(f"/pickup/{shelved.ticket_id}")
    first = {**all_of(shelved), "items": [str(shelved.bag)], "part": "y", "collected_by": "Ada"}
    assert counter.post(f"/pickup/{shelved.ticket_id}", **first).status_code == 303
    page = counter.get(f"/tickets/{shelved.ticket_id}").text
    assert "Receipt of Tue, Mar 17, Ada" in page
    (row,) = tills.handovers(store, shelved.ticket_id)
    printed: list[Any] = []

    def press(document: Document, **given: Any) -> bytes:
        printed.append(given["receipt"])
        return b""

    for of in (ReceiptOf(handover_id=row.id), ReceiptOf(payment_id=1)):
        address = ("https://bench.example", tmp_path)
        receipt(store, read(store), shelved.ticket_id, address, press, of)
    part, deposit = printed
    assert (part.collected_by, [one.what for one in part.items]) == ("Ada", ["tan bag"])
    assert deposit.received == "Received on Tue, Mar 17: $30.00."
    assert part.shows == deposit.shows == "boots", "they are still here"
    boots = {**all_of(shelved), "items": [str(shelved.left), str(shelved.right)], "paid": ""}
    assert counter.post(f"/pickup/{shelved.ticket_id}", **boots).status_code == 303
    receipt(store, read(store), shelved.ticket_id, address, press, ReceiptOf())
    assert printed[-1].shows == "calendar"
    with pytest.raises(NotFound):
        receipt(store, read(store), shelved.ticket_id, address, press, ReceiptOf(payment_id=99))


def test_what_is_usual_stands_in_the_fields_already(counter: Counter, shelved: Job):
    page = counter.get(f"/pickup/{shelved.ticket_id}").text
    for words in ('value="Marisol"', 'value="60.00"', 'value="18:00"', "Hand over and take $60"):
        assert words in page


def test_what_is_taken_is_counted_in_the_tickets_own_currency(
    counter: Counter, store: Store, shelved: Job
):
    """A ticket from before the shop chose another one: yen have no cents."""
    with store.write_tx():
        store.change("tickets", shelved.ticket_id, currency="JPY")
    assert 'value="6000"' in counter.get(f"/pickup/{shelved.ticket_id}").text
    assert (
        counter.post(
            f"/pickup/{shelved.ticket_id}",
            submission_id="hand-over-yen",
            **{**all_of(shelved), "paid": "6000"},
        ).status_code
        == 303
    )
    assert bills.payments(store, shelved.ticket_id)[-1].amount_minor == 6000


def test_the_button_names_no_sum_but_the_one_that_is_typed(counter: Counter, shelved: Job):
    page = f"/pickup/{shelved.ticket_id}"
    assert "Hand over and take $60" in counter.get(page).text
    again = counter.post(page, **{**all_of(shelved), "paid": "12", "items": []})
    assert again.status_code == 422
    assert "take $60" not in again.text
    assert "Pays 12" in again.text
