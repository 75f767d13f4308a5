"""A note that looks like a card's number is known by its check figure."""

from __future__ import annotations

import pytest

from fitcounter.desk.tickets import payments


@pytest.mark.parametrize(
    "text",
    [
        "4111111111111111",
        "paid by 4111 1111 1111 1111",
        "round 2 4111-1111 1111.1111",
        "378282246310005",
        "12/26 6011000990139424",
    ],
)
def test_a_cards_number_is_known_by_its_check_figure(text: str):
    assert payments.looks_like_card(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "4111111111111112",
        "(412) 555-0187",
        "+15550100142",
        "number 20, tag 4K7P",
        "41111111111111111111111",
    ],
)
def test_other_figures_are_not(text: str):
    assert not payments.looks_like_card(text)
