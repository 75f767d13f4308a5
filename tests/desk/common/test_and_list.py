"""Several things in a row."""

from __future__ import annotations

from fitcounter.desk.common.and_list import and_list
from fitcounter.desk.common.translation import speaking


def test_things_are_listed_as_the_language_lists_them() -> None:
    assert and_list(["left boot", "bag"]) == "left boot and bag"
    assert and_list(["both boots", "bag", "belt"]) == "both boots, bag, and belt"
    with speaking("es"):
        assert and_list(["botas", "bolso"]) == "botas y bolso"


def test_one_thing_is_itself_and_none_is_nothing() -> None:
    assert (and_list(["bag"]), and_list([])) == ("bag", "")
