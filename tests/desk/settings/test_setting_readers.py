"""What the text of a choice's field is read as; what cannot be taken is told with its field by
tests/web/shop/test_settings.py.
"""

from __future__ import annotations

import pytest

from fitcounter.desk.settings.setting_table import CHOICES
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput


@pytest.mark.parametrize(
    ("key", "typed", "read"),
    [
        ("country", "es", "ES"),
        ("currency", "eur", "EUR"),
        ("zone", "Europe/Madrid", "Europe/Madrid"),
        ("locale", "es_ES", "es_ES"),
        ("opens_at", "9:05", "09:05"),
        ("day_hours", "Sat 9:00-13:30", [*[""] * 5, "09:00-13:30", ""]),
        (
            "day_hours",
            "Tue 10:00 - 20:00, Mon 08:00-12:00",
            ["08:00-12:00", "10:00-20:00", *[""] * 5],
        ),
        ("day_hours", "", []),
        ("stretch_minor", "95.50", 9550),
        ("tax_basis_points", "8,25 %", 825),
        ("tax_basis_points", "8.5", 850),
        ("tax_basis_points", "0", 0),
        ("open_days", "wednesday, mon, Mon", [0, 2]),
        ("open_days", "Mon-Fri", [0, 1, 2, 3, 4]),
        ("open_days", "Monday to Friday", [0, 1, 2, 3, 4]),
        ("open_days", "Mon Tue Wed", [0, 1, 2]),
        ("open_days", "Tues. – Thurs, and Saturday", [1, 2, 3, 5]),
        ("open_days", "Fri-Mon", [0, 4, 5, 6]),
        ("heights_mm", "12, 4 1/2, 9, 9", [114.3, 228.6, 304.8]),
        ("reminders_days", "30, 7,, 7", [7, 30]),
        ("reminders_days", "", []),
        ("shelves", " C1, , C2", ["C1", "C2"]),
        ("tax_included", "Yes", True),
        ("tax_included", "no", False),
    ],
)
def test_a_text_is_read_as_what_is_kept(key: str, typed: str, read: object):
    assert CHOICES[key].read(typed, Shop(), key) == read


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("address", "x" * 121),
        ("opens_at", "24:00"),
        ("opens_at", "9:5"),
        ("day_hours", "Sat 9:00-"),
        ("day_hours", "Sat -13:00"),
        ("day_hours", "Sat 13:00-9:00"),
        ("day_hours", "Moonday 9:00-13:00"),
        ("tax_basis_points", "50.001"),
        ("tax_basis_points", "51"),
        ("open_days", ""),
        ("open_days", "Mon-"),
        ("open_days", "-Fri"),
        ("open_days", "Mon, moonday"),
        ("open_days", "Mo"),
        ("heights_mm", "12, 4 1/2, 900"),
        ("heights_mm", ", ".join(str(height) for height in range(4, 17))),
        ("reminders_days", "721"),
        ("shelves", ", ".join(f"C{number}" for number in range(201))),
    ],
)
def test_a_text_beyond_what_a_choice_can_be_is_refused_at_its_field(key: str, typed: str):
    with pytest.raises(BadInput) as refused:
        CHOICES[key].read(typed, Shop(), key)
    assert refused.value.field == key


def test_bare_heights_are_in_the_shops_own_unit_and_the_example_too():
    by_centimetres = Shop(unit="cm")
    assert CHOICES["heights_mm"].read("18, 24, 30.5", by_centimetres, "") == [180, 240, 305]
    with pytest.raises(BadInput, match=r"like 11\.5, 18"):
        CHOICES["heights_mm"].read("18", by_centimetres, "heights_mm")


def test_a_sum_has_the_decimals_of_the_shops_currency():
    yen = Shop(currency="JPY", stretch_minor=9000)
    assert CHOICES["stretch_minor"].read("9000", yen, "stretch_minor") == 9000
    assert CHOICES["stretch_minor"].show(9000, yen) == "9000"
    assert CHOICES["stretch_minor"].show(9000, Shop()) == "90.00"
