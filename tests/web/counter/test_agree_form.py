"""The fields of Price and agreement: lines changed, added and emptied, and what cannot be taken."""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import agreement, errors, measured, value

from fitcounter.store import bills, items, tickets
from fitcounter.store.database import Store


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"agreed": ""}, "when the customer has read"),
        ({"name": ""}, "stands for their yes"),
        ({"deposit": "lots"}, "Type an amount"),
        ({"deposit": "20", "method": ""}, "Pick how it was paid"),
        ({"deposit": "91"}, "more than the price"),
        ({"line_0_amount": ""}, "Type the price, or 0 if it is free."),
        ({"line_0_amount": "9000"}, "Tick this if it is right."),
        ({"deposit": "12.345"}, "Type an amount"),
        ({"deposit": "٣"}, "Type an amount"),
        ({"promise": "soon"}, "year-month-day"),
        ({"promise": "2026-03-01"}, "has passed"),
        ({"line_0_amount": "-5"}, "Type an amount"),
        ({"line_1_amount": "5"}, "what this amount is for"),
        ({"tag_1": "7K3M-9QXW-F"}, "not as on the tag"),
        ({"tag_1": "7K3M-9QXW-E"}, "No tag"),
        ({"signature": "data:text/html,x"}, "Sign again"),
    ],
)
def test_what_cannot_be_taken_is_said_and_all_that_was_typed_is_still_there(
    counter: Counter, store: Store, changes: dict[str, object], says: str
):
    measured(counter)
    form = agreement(counter, 1, initials="MO", **changes)
    answer = counter.post("/tickets/1/agree", **form)
    assert answer.status_code == 422
    assert says in " ".join(errors(answer)), errors(answer)
    for name in (
        "deposit",
        "promise",
        "initials",
        "line_0_what",
        "line_0_amount",
        "line_1_amount",
        "tag_1",
        "name",
    ):
        assert value(answer.text, name) == str(form.get(name, ""))
    assert tickets.consents(store, 1) == []
    assert bills.lines(store, 1) == []
    assert items.get(store, 1).state == "counter"


def test_a_line_can_be_changed_added_and_emptied(counter: Counter, store: Store):
    measured(counter)
    form = agreement(
        counter,
        1,
        line_0_amount="99,50",
        line_1_what="Straps, as she likes",
        line_1_amount="$40",
        deposit="",
    )
    assert counter.post("/tickets/1/agree", **form).status_code == 303
    assert [(line.what, line.amount_minor) for line in bills.lines(store, 1)] == [
        ("Stretching the pair, up to 2 rounds", 9950),
        ("Straps, as she likes", 4000),
    ]
    assert bills.payments(store, 1) == []
