"""A choice is shown as it would be typed."""

from __future__ import annotations

import pytest

from fitcounter.desk.settings import setting_texts
from fitcounter.desk.settings.setting_table import CHOICES
from fitcounter.desk.shop import Shop


@pytest.mark.parametrize(
    ("key", "value", "typed"),
    [
        ("day_hours", ("", "", "", "", "", "09:00-13:00", ""), "Sat 09:00-13:00"),
        ("day_hours", (), ""),
        ("open_days", (1, 5), "Tue, Sat"),
        ("stretch_minor", 9550, "95.50"),
        ("tax_basis_points", 825, "8.25"),
        ("tax_included", True, "yes"),
    ],
)
def test_a_choice_reads_back_as_it_was_typed(key: str, value: object, typed: str):
    assert CHOICES[key].show(value, Shop()) == typed


def test_several_days_stand_with_commas_between():
    own = ("08:00-12:00", "", "10:00-20:00", "", "", "", "")
    assert setting_texts.day_hours(own, Shop()) == "Mon 08:00-12:00, Wed 10:00-20:00"
