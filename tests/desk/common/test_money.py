"""The sums of a ticket in whole minor units, and amounts as they are typed and said."""

from __future__ import annotations

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import speech
from fitcounter.errors import BadInput
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store


@pytest.mark.parametrize(
    ("basis_points", "included", "tax", "total"),
    [
        (0, 0, 0, 9000),
        (825, 0, 743, 9743),  # 742.5 is rounded up
        (2100, 1, 1562, 9000),
    ],
)
def test_tax_is_added_or_contained_and_rounded_once(
    store: Store, act: Act, basis_points: int, included: int, tax: int, total: int
) -> None:
    """A line of 90.00; a deposit of 30.00 and a refund of 5.00."""
    job = make_job(store, act)
    with store.write_tx():
        bills.pay(store, act, job.ticket_id, "refund", 500)
    ticket = tickets.get(store, job.ticket_id)._replace(
        tax_basis_points=basis_points, tax_included=included
    )
    lines, payments = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    assert money.sums(ticket, lines, payments) == money.Sums(tax, total, 2500, total - 2500)


@pytest.mark.parametrize(
    ("typed", "currency", "minor"),
    [
        ("", "USD", 0),
        ("45", "USD", 4500),
        ("45.00", "USD", 4500),
        ("45,5", "EUR", 4550),
        ("$ 45", "USD", 4500),
        ("45.", "USD", 4500),
        ("4500", "JPY", 4500),
        ("1.234", "KWD", 1234),
        ("999999", "USD", 99_999_900),
    ],
)
def test_an_amount_is_read_as_people_type_it(typed: str, currency: str, minor: int) -> None:
    assert money.read_amount(typed, currency, "price") == minor


@pytest.mark.parametrize(
    ("typed", "currency"),
    [
        ("a lot", "USD"),
        ("-5", "USD"),
        ("1.234", "USD"),
        ("4.5", "JPY"),
        ("1000000", "USD"),
        ("٤٥", "USD"),
        (".", "USD"),
        ("1,000.00", "USD"),
    ],
)
def test_what_is_no_amount_is_asked_for_again(typed: str, currency: str) -> None:
    with pytest.raises(BadInput) as refused:
        money.read_amount(typed, currency, "price")
    assert (refused.value.field, refused.value.typed) == ("price", typed)


@pytest.mark.parametrize(
    ("minor", "currency", "typed"),
    [
        (9000, "USD", "90"),
        (9050, "USD", "90.50"),
        (-500, "USD", "-5"),
        (4500, "JPY", "4500"),
        (5, "USD", "0.05"),
    ],
)
def test_an_amount_that_is_typed_again_is_the_same(minor: int, currency: str, typed: str) -> None:
    assert money.plain(minor, currency) == typed
    if minor > 0:
        assert money.read_amount(typed, currency, "price") == minor


def test_a_sum_is_said_as_the_language_writes_it() -> None:
    assert money.say(4500, "USD", speech("en", "en_US")) == "$45.00"
    assert money.say(123_450, "EUR", speech("es", "es_ES")) == "1.234,50\u00a0€"
    assert money.say(4500, "JPY", speech("en", "en_US")) == "¥4,500"
