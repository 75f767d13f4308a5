"""The first run: set up once, by whoever read the token, within an hour."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.shop import Act, Store, open_store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.desk.staff.first_run import FirstRun
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import staff, trees


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "shop.db")
    yield opened
    opened.close()


def test_the_word_is_kept_as_a_hash_and_a_new_start_prints_another(
    empty: Store, clock: Clock
) -> None:
    """Who reads the file learns nothing; the word before is dead."""
    old = staff_first_run.new_setup_token(empty, clock.now)
    new = staff_first_run.new_setup_token(empty, clock.now)
    assert old != new
    assert new.encode() not in empty.path.read_bytes()
    with pytest.raises(staff_first_run.NotAllowed):
        staff_first_run.check_setup_token(empty, old, clock.now)


def answers(**changes: object) -> FirstRun:
    usual: dict[str, object] = {
        "country": "PT",
        **dict.fromkeys(("language", "currency", "unit", "paper", "hours"), ""),
        "shop_name": "Tanyard Stretch",
        "zone": "Europe/Lisbon",
        "opens_at": "10:00",
        "closes_at": "19:00",
        "price": "85",
        "trees": {"S": 0, "M": 1, "L": 1},
        "limits": "careful",
        "name": "Rosa",
        "initials": "RO",
        "passphrase": "four plain oak words",
    }
    return FirstRun(**{**usual, **changes})  # type: ignore[arg-type]


def test_shop_owner_and_trees_are_there_at_once_and_the_token_is_dead(
    empty: Store, clock: Clock
) -> None:
    token = staff_first_run.new_setup_token(empty, clock.now)
    staff_first_run.set_up(empty, Act(clock.now), token, answers())
    here = shop.read(empty)
    assert (here.name, here.currency, here.zone) == ("Tanyard Stretch", "EUR", "Europe/Lisbon")
    assert [(one.initials, one.role) for one in staff.everybody(empty)] == [("RO", "owner")]
    labels = [(tree.label, tree.size, tree.side) for tree in trees.everyone(empty)]
    assert labels == [
        ("1", "M", "left"),
        ("2", "M", "right"),
        ("3", "L", "left"),
        ("4", "L", "right"),
    ]
    with pytest.raises(Conflict):
        staff_first_run.set_up(empty, Act(clock.now), token, answers(initials="XX"))
    assert staff_first_run.new_setup_token(empty, clock.now) == ""


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"country": "XX"}, "country"),
        ({"currency": "ABC"}, "currency"),
        ({"language": "tlh"}, "language"),
        ({"paper": "a5"}, "paper"),
        ({"zone": "../../etc"}, "zone"),
        ({"trees": {"M": 21}}, "trees_m"),
        ({"price": "a lot"}, "price"),
        ({"pin": "123456"}, "pin"),
    ],
)
def test_what_cannot_be_taken_leaves_no_half_a_shop(
    empty: Store, clock: Clock, changes: dict[str, object], field: str
) -> None:
    token = staff_first_run.new_setup_token(empty, clock.now)
    with pytest.raises(BadInput) as refused:
        staff_first_run.set_up(empty, Act(clock.now), token, answers(**changes))
    assert refused.value.field == field
    assert staff_first_run.is_new(empty)
    staff_first_run.check_setup_token(empty, token, clock.now)


def test_a_token_is_good_for_an_hour(empty: Store, clock: Clock) -> None:
    token = staff_first_run.new_setup_token(empty, clock.now)
    staff_first_run.check_setup_token(empty, token, clock.on(minutes=59))
    with pytest.raises(staff_first_run.NotAllowed):
        staff_first_run.check_setup_token(empty, token, clock.on(minutes=1))
