"""Lengths carry the decimal mark of the language spoken just now."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.lengths import say_length, say_room, say_short_by
from fitcounter.desk.common.translation import speaking


@pytest.mark.parametrize(("code", "mark"), [("en_US", "."), ("es_ES", ","), ("es_MX", ".")])
def test_centimetres_have_the_decimal_mark_of_the_language(code: str, mark: str) -> None:
    with speaking(code):
        said = say_length(413, "cm"), say_short_by(16, "cm"), say_room(16, "cm")

    assert said == (f"41{mark}3 cm", f"1{mark}6 cm", f"1{mark}6 cm")


def test_inches_are_fractions_in_every_language() -> None:
    with speaking("es_ES"):
        assert say_length(25.4 * 16.25, "in") == "16¼ in"
