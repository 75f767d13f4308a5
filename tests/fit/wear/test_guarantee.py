"""The guarantee ends on the date the law of periods gives, and a comeback is told apart by raw
readings.
"""

import json
from dataclasses import FrozenInstanceError
from datetime import date, timedelta
from fractions import Fraction

import pytest
from dateutil.relativedelta import relativedelta
from support.paths import REFERENCE as PUBLISHED

from fitcounter.errors import BadInput
from fitcounter.fit.wear.guarantee import RawReading, Term, compare, covered, guarantee_end

REFERENCE = json.loads((PUBLISHED / "guarantee_ends.json").read_text(encoding="utf-8"))
EVERY_DAY = [
    date(2024, 1, 1) + timedelta(days=day)
    for day in range((date(2033, 1, 1) - date(2024, 1, 1)).days)
]


@pytest.mark.parametrize(
    "case", REFERENCE["cases"], ids=lambda case: f"{case['pickup']} {case['count']} {case['unit']}"
)
def test_the_last_day_is_the_one_the_published_rule_gives(case):
    """Cases worked by hand from the rule for periods of time."""
    end = guarantee_end(date.fromisoformat(case["pickup"]), Term(case["count"], case["unit"]))
    assert (end and end.isoformat()) == case["end"]


def test_every_day_of_nine_years_ends_where_dateutil_says():
    """Years, months and days from every day of 2024 to 2032, 3,288 days, against an independent
    library.
    """
    assert len(EVERY_DAY) == 3288
    for day in EVERY_DAY:
        for count in (1, 2, 3, 10):
            assert guarantee_end(day, Term(count, "years")) == day + relativedelta(years=count)
        for count in (1, 3, 6, 11, 12, 18, 120):
            assert guarantee_end(day, Term(count, "months")) == day + relativedelta(months=count)
        for count in (1, 30, 90, 365, 3660):
            assert guarantee_end(day, Term(count, "days")) == day + relativedelta(days=count)


def test_one_calendar_year_is_what_a_shop_gives_that_said_nothing():
    """The setting's default is a year, and from 29 February it ends on the 28th."""
    assert guarantee_end(date(2028, 2, 29), Term()) == date(2029, 2, 28)


def test_the_last_day_is_covered_and_the_day_after_is_not():
    """Through that date, inclusive."""
    end = guarantee_end(date(2026, 4, 25), Term())
    assert end is not None
    assert covered(date(2026, 4, 25), end)
    assert covered(end, end)
    assert not covered(end + timedelta(days=1), end)


def test_a_shop_without_a_guarantee_covers_no_day():
    """Nought years means none, not one that ends at once."""
    assert guarantee_end(date(2026, 4, 25), Term(0)) is None
    assert not covered(date(2026, 4, 25), None)


@pytest.mark.parametrize(("unit", "longest"), [("years", 10), ("months", 120), ("days", 3660)])
def test_a_term_is_taken_up_to_its_limit_and_refused_past_it(unit, longest):
    """The sentence names the limit, the field is the count's, what was typed is kept."""
    assert Term(longest, unit).count == longest
    for wrong in (longest + 1, -1):
        with pytest.raises(BadInput) as refused:
            Term(wrong, unit)
        assert refused.value.sentence == f"Give a guarantee of at most {longest} {unit}."
        assert (refused.value.field, refused.value.typed) == ("guarantee_count", str(wrong))


def test_a_term_in_another_unit_is_refused():
    """Weeks are not a unit of the setting."""
    with pytest.raises(BadInput) as refused:
        Term(4, "weeks")
    assert refused.value.sentence == "Choose years, months or days."
    assert (refused.value.field, refused.value.typed) == ("guarantee_unit", "weeks")


def boot(mm, method="outside"):
    """A reading of the boot."""
    return RawReading(Fraction(mm), method)


def leg(mm, method="standing, sock"):
    """A reading of the leg."""
    return RawReading(Fraction(mm), method)


@pytest.mark.parametrize(
    ("boot_lost", "leg_gained", "change", "free"),
    [
        ("0", "0", "neither", False),
        ("4", "6", "neither", False),
        ("4.01", "6", "boot back", True),
        ("4", "6.01", "leg fuller", False),
        ("4.01", "6.01", "both", True),
        ("-8", "-9", "neither", False),
    ],
)
def test_a_comeback_says_whether_the_boot_the_leg_both_or_neither_changed(
    boot_lost, leg_gained, change, free
):
    """Over 4 mm on the boot, over 6 mm on the leg, unrounded; at the limit itself it is reading
    error.
    """
    lost, gained = Fraction(boot_lost), Fraction(leg_gained)
    found = compare(boot(400), boot(400 - lost), leg(390), leg(390 + gained))
    assert (found.change, found.free_round) == (change, free)
    assert (found.boot_back_mm, found.leg_fuller_mm) == (lost, gained)


def test_a_boot_that_lost_an_eighth_is_within_reading_error_and_three_sixteenths_is_not():
    """1/8 in is 3.175 mm, 3/16 in is 4.7625 mm; sixteenths are compared exactly."""
    sixteenth = Fraction("1.5875")
    assert compare(boot(393), boot(393 - 2 * sixteenth), None, None).change == "neither"
    assert compare(boot(393), boot(393 - 3 * sixteenth), None, None).change == "boot back"


def test_a_width_laid_flat_counts_twice():
    """2.1 mm of width is 4.2 mm of girth, 2 mm is just 4."""
    assert compare(boot(200, "flat"), boot("197.9", "flat"), None, None).boot_back_mm == Fraction(
        "4.2"
    )
    assert compare(boot(200, "flat"), boot("197.9", "flat"), None, None).change == "boot back"
    assert compare(boot(200, "flat"), boot(198, "flat"), None, None).change == "neither"


def test_only_a_width_laid_flat_counts_twice():
    """Whatever the leg was read over, and however that is spelt."""
    for method in ("evening, over a sock", "inside", "outside", "standing"):
        assert compare(boot(400), boot(400), leg(390, method), leg(397, method)).leg_fuller_mm == 7


def test_a_boot_read_in_two_ways_cannot_be_judged():
    """An outside tape is a wall wider than an inside one: no answer is better than a wrong one,
    whatever the leg did.
    """
    found = compare(boot(400, "outside"), boot(387, "inside"), leg(390), leg(400))
    assert (found.change, found.boot_back_mm, found.leg_fuller_mm, found.free_round) == (
        "cannot tell",
        None,
        Fraction(10),
        False,
    )


@pytest.mark.parametrize(
    ("at_pickup", "today"),
    [(None, leg(400)), (leg(390), None), (None, None), (leg(390, "seated"), leg(400, "standing"))],
)
def test_a_leg_not_read_the_same_way_twice_is_not_compared(at_pickup, today):
    """The boot is judged all the same."""
    found = compare(boot(400), boot(395), at_pickup, today)
    assert (found.change, found.leg_fuller_mm) == ("boot back", None)


def test_terms_readings_and_findings_cannot_be_changed_in_place():
    """Frozen and slotted."""
    for record, field in (
        (Term(), "count"),
        (boot(400), "reading_mm"),
        (compare(boot(400), boot(395), None, None), "change"),
    ):
        with pytest.raises(FrozenInstanceError):
            setattr(record, field, getattr(record, field))
        assert not hasattr(record, "__dict__")


@pytest.mark.parametrize(("at_pickup", "today"), [("inside", "outside"), ("outside", "inside")])
def test_two_methods_are_two_methods_in_either_order(at_pickup, today):
    """And the same method is the same however the word came in."""
    assert compare(boot(400, at_pickup), boot(380, today), None, None).change == "cannot tell"
    assert (
        compare(boot(400, at_pickup), boot(380, "".join(list(at_pickup))), None, None).change
        == "boot back"
    )
