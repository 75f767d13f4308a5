"""The bill of a job as its customer sees it."""

from __future__ import annotations

from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.customer.agreed import agreed_page
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store


def test_it_says_what_for_how_much_what_is_paid_and_what_is_owed(store: Store, act: Act) -> None:
    ticket_id = make_job(store, act).ticket_id
    page = agreed_page(store, shop.read(store), tickets.get(store, ticket_id), "en")
    assert [amount for _, amount in page.rows] == ["$90.00"]
    assert (page.total, page.due, page.credit) == ("$90.00", "$60.00", "")
    assert page.paid == (("Deposit", "$30.00"),)


def test_a_shop_that_owes_says_so(store: Store, act: Act) -> None:
    ticket_id = make_job(store, act).ticket_id
    with store.write_tx():
        bills.pay(store, act, ticket_id, "payment", 7500)
        bills.pay(store, act, ticket_id, "refund", 500)
    page = agreed_page(store, shop.read(store), tickets.get(store, ticket_id), "en")
    assert (page.due, page.credit) == ("$0.00", "$10.00")
    refund = ("Refund", "\N{MINUS SIGN}$5.00")
    assert page.paid == (("Deposit", "$30.00"), ("Paid", "$75.00"), refund)
