"""A comeback is compared with the last reading that counted."""

from __future__ import annotations

from fractions import Fraction

from fitcounter.desk.aftercare.pickup_readings import at_pickup
from fitcounter.store import items
from fitcounter.store.database import Store


def test_what_a_comeback_is_compared_with_is_the_last_reading_that_counted(store: Store, home):
    before = at_pickup(store, items.get(store, home.left))
    assert (before.height_um, before.boot_mm, before.boot_method) == (
        304800,
        Fraction(3683, 10),
        "outside",
    )
    assert before.leg_mm == Fraction(365125, 1000)
