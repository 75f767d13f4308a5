"""The page of the answer: said once for both boots, side by side where they differ."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support.measured_pair import BOOT, cells, measured_pair, sheet_of, take_in
from support.offered_pair import TODAY, with_limits

from fitcounter.desk import shop
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.quote import can_it_be_done_page as quote_page
from fitcounter.store.database import Act, Store


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


def test_the_page_says_both_once_and_bars_that_add_up(store: Store, act: Act, here: shop.Shop):
    _, fit_id = measured_pair(store, act)
    page = quote_page.verdict_page(store, here, fit_id, TODAY)
    assert all(sentence.startswith("Both: ") for sentence in page.why)
    assert [sum(bar.of_100 for bar in side.bars) for side in page.sides] == [100, 100]
    assert [sum(bar.most for bar in side.bars) for side in page.sides] == [1, 1]
    assert {figure.source for figure in page.sides[0].figures} <= {
        "shop's choice",
        "measured here",
        "common practice",
    }
    assert page.price_minor == here.stretch_minor
    most = min(page.answer.eight_in_ten or 4, 4)
    assert page.ceiling_minor == here.stretch_minor + max(0, most - 2) * here.round_minor


def test_what_differs_is_said_side_by_side():
    said = quote_page.both([("left", ["a strap", "a panel"]), ("right", ["a strap"])])
    assert said == ("Both: a strap.", "Left: a panel.")
    assert quote_page.both([("left", ["a strap"])]) == ("A strap.",)


def test_a_day_before_the_promised_one_says_what_can_be_had_by_then(
    store: Store, act: Act, here: shop.Shop
):
    ticket_id, fit_id = measured_pair(store, act)

    def needed(day: date) -> str:
        with store.write_tx():
            store.change("tickets", ticket_id, needed_by=day.isoformat())
        return quote_page.verdict_page(store, here, fit_id, TODAY).by_then

    assert needed(TODAY + timedelta(days=2)) == "cannot be ready by then"
    assert needed(date(2026, 3, 27)).startswith("by then 1 round, about ")
    assert needed(TODAY + timedelta(days=90)) == ""


def test_boots_with_a_gap_left_nearly_close_and_are_never_said_to_fit(
    store: Store, act: Act, here: shop.Shop
):
    fit_id = take_in(store, act)
    typed = cells(gap=("0", "1/8", "0"), boot=BOOT)
    measuring_save.save(store, act, fit_id, sheet_of("gap", typed), Terms(), None)

    page = quote_page.verdict_page(store, here, fit_id, TODAY)

    assert page.answer.tier == "none"
    assert page.answer.headline == "They nearly close"
    assert page.notes == ("Nearly closes: ⅛ in at 12½ in.",)


def test_how_sure_done_is_stands_beside_the_odds(store: Store, act: Act, here: shop.Shop):
    page = quote_page.verdict_page(store, here, measured_pair(store, act)[1], TODAY)

    assert page.notes[0].startswith("Of boots called done, ")
    assert not any("truly close" in sentence for sentence in page.notes[1:])
