"""What a line on the agreement is on, and what the list of work gives it."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.quote import picked_line, price_list
from fitcounter.desk.quote.picked_line import FreeLine
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.errors import BadInput
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_a_pair_comes_first_and_then_each_by_itself(store: Store, job: Job):
    held = items.of_ticket(store, job.ticket_id)
    assert [(words, len(on)) for _, words, on in picked_line.places(held)] == [
        ("both boots", 2),
        ("left boot", 1),
        ("right boot", 1),
        ("tan bag", 1),
    ]


def test_the_list_gives_price_tax_and_days_and_a_price_by_size_is_asked(
    store: Store, act: Act, job: Job
):
    tips = EntryInput(what="Heel tips", price_minor=900, days=2, taxable=False)
    price_list.save(store, act, "heel-tips", tips)
    strap = EntryInput(what="Strap by the inch", price_minor=500, size_minor=100)
    price_list.save(store, act, "", strap)
    held, own = items.of_ticket(store, job.ticket_id), shop.read(store)

    def line(what: str, on: str = "", amount: int | None = None):
        return picked_line.line_of(store, own, FreeLine(3, what, on, amount), held)

    both, bag = line("heel ti"), line("heel ti", str(job.bag))
    assert (both.what, both.amount_minor) == ("Heel tips, both boots", 1800)
    assert (both.taxable, both.days) == (0, 2)
    assert (bag.what, bag.amount_minor, bag.item_ids) == ("Heel tips, tan bag", 900, (job.bag,))
    assert line("strap by", amount=700).work == "Strap by the inch"
    for typed, field in (("strap by", "line_3_amount"), ("foot made", "asked")):
        with pytest.raises(BadInput) as wrong:
            line(typed)
        assert wrong.value.field == field
