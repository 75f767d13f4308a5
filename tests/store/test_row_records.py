"""A row becomes a record by the names of its columns, and a record a row, whichever kind it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import pytest

from fitcounter.store.row_records import field_names, insertion, records_of


class Pair(NamedTuple):
    id: int
    side: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Boxed:
    id: int
    side: str
    note: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "side", self.side.lower())


class One(NamedTuple):
    side: str


@pytest.mark.parametrize("kind", [Pair, Boxed])
@pytest.mark.parametrize(
    ("columns", "row"),
    [
        (("id", "side", "note"), (3, "left", "thin")),
        (("side", "note", "id"), ("left", "thin", 3)),
        (("since", "note", "id", "side", "state"), ("2026", "thin", 3, "left", "out")),
        (("id", "side", "note", "state"), (3, "left", "thin", "out")),
    ],
)
def test_each_field_is_filled_by_the_column_of_its_name(kind, columns, row) -> None:
    found = records_of(kind, columns)(iter([row, row]))
    assert found == [kind(3, "left", "thin")] * 2
    assert {type(one) for one in found} == {kind}


def test_a_record_made_of_a_row_is_made_as_any_other() -> None:
    columns = ("id", "side", "note")
    assert records_of(Boxed, columns)([(3, "LEFT", "")]) == [Boxed(3, "left")]
    assert records_of(One, ("id", "side"))([(3, "left")]) == [One("left")]
    assert records_of(One, ("side",))([("left",)]) == [One("left")]


@pytest.mark.parametrize("kind", [Pair, Boxed])
def test_a_field_without_a_column_is_an_error_and_no_guess(kind) -> None:
    with pytest.raises(ValueError, match="not in tuple"):
        records_of(kind, ("id", "note"))


@pytest.mark.parametrize("kind", [Pair, Boxed])
def test_a_record_is_added_by_all_its_fields_but_its_id(kind) -> None:
    sql, values = insertion("boots", kind)
    assert sql == "INSERT INTO boots (side, note) VALUES (?, ?)"
    assert values(kind(3, "left", "thin")) == ("left", "thin")
    assert field_names(kind) == ("id", "side", "note")
