"""Stored readings as exact lengths: each text says its own unit, and is what it was when typed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fitcounter.desk.assessment.readings import stored_length


@pytest.mark.parametrize(
    ("text", "unit", "um", "said"),
    [
        ("14", "in", 355_600, "14 in"),
        ("14 in", "in", 355_600, "14 in"),
        ('14"', "in", 355_600, '14"'),
        ("41.3cm", "cm", 413_000, "41.3cm"),
        ("1,625", "mm", 1_625, "1.625 mm"),
        ("00000000000014.5000000", "in", 368_300, "368.3 mm"),
    ],
)
def test_a_text_says_its_own_unit(text: str, unit: str, um: int, said: str):
    assert stored_length(text, unit, um).text == said


@pytest.mark.parametrize(
    ("text", "unit", "um", "mm"),
    [
        ("14 1/64", "in", 355_997, Fraction(897 * 254, 640)),
        ("41.3", "cm", 413_000, Fraction(413)),
        ("0", "mm", 0, Fraction(0)),
        ("no length at all", "in", 355_600, Fraction(1778, 5)),
        ("1,625", "mm", 1_625, Fraction(13, 8)),
    ],
)
def test_a_stored_length_is_exact_and_the_micrometres_stand_in_for_a_text_nobody_can_read(
    text: str, unit: str, um: int, mm: Fraction
):
    length = stored_length(text, unit, um)
    assert length.mm == mm
    assert length.um == um
