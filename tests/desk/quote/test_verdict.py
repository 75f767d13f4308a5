"""Can it be done? from stored rows: tier, days, price, and what would change it."""

from __future__ import annotations

from datetime import date

import pytest
from support.measured_pair import BOOT, GAPS, cells, measured_pair, sheet_of, take_in

from fitcounter.desk import shop
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.intake.job_records import Seen
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.quote import verdict as quote_answer
from fitcounter.desk.quote.promise_dates import two_days
from fitcounter.errors import OutOfOrder
from fitcounter.fit.tape import short_by_inches
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)  # a Tuesday; the shop is open Tuesday to Saturday
DAYS = ShopDays(frozenset(shop.Shop().open_days))


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    shop.choose(store, act, limits="usual")
    return shop.read(store)


def test_a_pair_that_was_not_measured_has_no_answer_yet(store: Store, act: Act, here: shop.Shop):
    with pytest.raises(OutOfOrder, match="not measured"):
        quote_answer.answer(store, here, take_in(store, act), TODAY)


def test_the_answer_is_that_of_the_computation_on_the_stored_rows(
    store: Store, act: Act, here: shop.Shop
):
    _, fit_id = measured_pair(store, act)
    given = quote_answer.answer(store, here, fit_id, TODAY)
    assert given.tier == given.assessment.verdict == "routine"
    assert given.headline == "Yes, in one or two rounds"
    left = given.assessment.sides[0]
    assert left.name == "left"
    assert short_by_inches(left.verdict.worst.need_mm) == "5/8"
    assert given.sentence.startswith("Most likely ")
    assert given.days == two_days(DAYS, TODAY, (given.likely, given.eight_in_ten), 168, 4)


def test_the_slower_side_gives_the_goes_and_one_without_any_makes_them_unknown():
    assert quote_answer.slowest([2, 3]) == 3
    assert quote_answer.slowest([2]) == 2
    assert quote_answer.slowest([2, None]) is None
    assert quote_answer.slowest([None]) is None
    assert quote_answer.slowest([]) is None


def test_a_boot_that_fits_already_has_no_say_in_the_goes(store: Store, act: Act, here: shop.Shop):
    fit_id = take_in(store, act)
    typed = {
        **cells(("left",), gap=GAPS, boot=BOOT),
        **cells(("right",), gap=("0",) * 3, boot=BOOT),
    }
    measuring_save.save(store, act, fit_id, sheet_of("gap", typed), Terms(), None)
    given = quote_answer.answer(store, here, fit_id, TODAY)
    left, right = given.assessment.sides
    assert (left.verdict.tier, right.verdict.tier) == ("routine", "none")
    assert given.likely == left.verdict.likely
    assert len(given.odds) == 1


@pytest.mark.parametrize(
    ("material", "seen", "tier"),
    [
        ("synthetic", (), "refuse"),
        ("supple-full-grain", (Seen("left", "red-rot"),), "refuse"),
        (
            "supple-full-grain",
            (Seen("left", "zip-damaged"), Seen("right", "zip-damaged")),
            "repair-first",
        ),
        ("supple-full-grain", (Seen("right", "scuffs"),), "routine"),
    ],
)
def test_leather_and_findings_decide_too(
    store: Store, act: Act, here: shop.Shop, material: str, seen: tuple[Seen, ...], tier: str
):
    _, fit_id = measured_pair(store, act, material=material, seen=seen)
    assert quote_answer.answer(store, here, fit_id, TODAY).tier == tier


def test_as_far_as_is_safe_has_a_reach_and_no_tier(store: Store, act: Act, here: shop.Shop):
    fit_id = take_in(store, act, target="safe")
    measuring_save.save(store, act, fit_id, sheet_of("safe", cells(boot=BOOT)), Terms(), None)
    given = quote_answer.answer(store, here, fit_id, TODAY)
    assert given.headline == "As much as the leather will take"
    left = given.assessment.sides[0].verdict
    read = [place for place in left.places if place.height_mm in (266.7, 317.5, 368.3)]
    assert len(read) == 3
    for place in read:
        assert place.need_mm == pytest.approx(0.17 * place.first.leather_mm, abs=1e-3)
    assert left.course is not None
    assert list(left.course.reach_mm) == sorted(left.course.reach_mm)
    assert 0 < left.course.reach_mm[0] < left.worst.need_mm


def test_a_height_told_from_the_ground_or_the_top_line_is_the_same_height(
    store: Store, act: Act, here: shop.Shop
):
    asked = {}
    for datum, heights, terms in (
        ("heel-seat", ("10", "12"), Terms()),
        ("ground", ("10 1/2", "12 1/2"), Terms(heights_from="ground", seat="1/2")),
        ("top-line", ("6", "4"), Terms(heights_from="top-line", shaft="16")),
    ):
        fit_id = take_in(store, act, target="safe")
        measuring_save.save(
            store,
            act,
            fit_id,
            sheet_of("safe", cells(boot=("12 7/8", "13 5/8")), heights=heights),
            terms,
            None,
        )
        given = quote_answer.answer(store, here, fit_id, TODAY)
        asked[datum] = given.assessment.sides[0].verdict.worst
    for datum in ("ground", "top-line"):
        assert asked[datum].height_mm == pytest.approx(asked["heel-seat"].height_mm)
        assert asked[datum].need_mm == pytest.approx(asked["heel-seat"].need_mm)
