"""The price changes after it was agreed, with the customer's yes, and both agreements are kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.common import money
from fitcounter.desk.quote import agreed_price
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import price_change
from fitcounter.desk.tickets.price_change import LineInput, PriceChange
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def change(store: Store, act: Act, choices: Shop, job, tmp_path: Path):
    """Changes the price of the job, as its page sends it."""

    def write(amount: int = 9000, what: str = "Stretch", **typed: object):
        line = bills.lines(store, job.ticket_id)[0]
        lines = (LineInput(line.id, what, amount),)
        told: dict[str, object] = {"lines": lines, "why": "another round", **typed}
        return price_change.change(
            store,
            act,
            choices,
            job.ticket_id,
            PriceChange(**told),
            tmp_path,  # type: ignore[arg-type]
        )

    return write


def total(store: Store, job) -> int:
    ticket = tickets.get(store, job.ticket_id)
    return money.sums(ticket, bills.lines(store, job.ticket_id), ()).total_minor


def test_a_higher_price_needs_the_customers_yes_and_makes_a_new_copy(store: Store, job, change):
    with pytest.raises(BadInput, match="Ask the customer first") as error:
        change(12000)
    assert error.value.field == "yes"
    assert total(store, job) == 9000

    assert change(12000, yes="phone").words == "The total is $120.00 now."
    (new,) = tickets.consents(store, job.ticket_id)
    assert (new.how, new.why, new.staff_id) == ("phone", "another round", 1)
    agreed = agreed_price.of_consent(new)
    assert agreed is not None
    assert (agreed.total_minor, agreed.ceiling_minor) == (12000, 12000)


def test_the_agreement_of_before_keeps_its_price(store: Store, act: Act, job, change):
    with store.write_tx():
        tickets.add_consent(store, act, job.ticket_id, "2026-3", ["It may shrink."], name="Marisol")
    change(12000, yes="text")
    old, new = tickets.consents(store, job.ticket_id)
    kept, changed = agreed_price.of_consent(old), agreed_price.of_consent(new)
    assert kept is not None
    assert changed is not None
    assert (kept.total_minor, changed.total_minor) == (9000, 12000)
    assert new.sentences == old.sentences


def test_within_the_ceiling_nobody_is_asked_again(store: Store, act: Act, job, change):
    change(15000, yes="signed", name="Marisol")
    change(10000)  # lower: nobody is asked, and the ceiling stands
    change(14000, yes="within")
    assert total(store, job) == 14000
    with pytest.raises(BadInput, match=r"more than the \$150.00 that was agreed"):
        change(15001, yes="within")


@pytest.mark.parametrize(
    ("typed", "what", "minor"),
    [
        ("10%", "Discount, 10%", 900),
        ("12,5 %", "Discount, 12.5%", 1125),
        ("20", "Discount", 2000),
        ("100%", "Discount, 100%", 9000),
    ],
)
def test_a_discount_is_a_line_with_its_reason(
    store: Store, job, change, typed: str, what: str, minor: int
):
    change(what="Stretch, up to two goes", discount=typed, discount_why="a regular", why="")
    line = bills.lines(store, job.ticket_id)[-1]
    assert (line.what, line.kind, line.amount_minor, line.why) == (
        what,
        "reduction",
        -minor,
        "a regular",
    )
    assert total(store, job) == 9000 - minor


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"discount": "10%"}, "discount_why"),
        ({"discount": "-5", "discount_why": "so"}, "discount"),
        ({"discount": "0%", "discount_why": "so"}, "discount"),
        ({"discount": "101%", "discount_why": "so"}, "discount"),
        ({"discount": "90.01", "discount_why": "so"}, "discount"),
        ({"discount": "much", "discount_why": "so"}, "discount"),
        ({"why": ""}, "why"),
        ({"why": "4111 1111 1111 1111"}, "why"),
        ({"yes": "perhaps"}, "yes"),
        ({"yes": "signed"}, "name"),
        ({"what": "Stretch, up to two goes"}, "discount"),
    ],
)
def test_what_cannot_be_taken_changes_nothing(
    store: Store, job, change, typed: dict[str, str], field: str
):
    with pytest.raises(BadInput) as error:
        change(**typed)
    assert error.value.field == field
    assert total(store, job) == 9000
    assert tickets.consents(store, job.ticket_id) == []


def test_two_who_change_the_price_do_it_once(store: Store, job, change):
    seen = tickets.get(store, job.ticket_id).version
    change(8000, version=seen)
    with pytest.raises(Conflict):
        change(7000, version=seen)
    assert total(store, job) == 8000


def test_before_anything_is_agreed_there_is_no_price_to_change(
    store: Store, act: Act, choices: Shop, job, tmp_path: Path
):
    line = bills.lines(store, job.ticket_id)
    with store.write_tx():
        bills.remove_line(store, line[0])
    typed = PriceChange(lines=(), why="so")
    assert not price_change.may_change(store, tickets.get(store, job.ticket_id))
    with pytest.raises(OutOfOrder):
        price_change.change(store, act, choices, job.ticket_id, typed, tmp_path)
