"""The answer at once: what it is, by how much and when, and whether there is something to agree."""

from __future__ import annotations

from datetime import date

import pytest
from support.measured_pair import HEIGHTS, cells, measured_pair, sheet_of, take_in

from fitcounter.desk import shop
from fitcounter.desk.intake.job_records import Seen
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.sheet import cell_name
from fitcounter.desk.quote.answer_on_top import at_once, before_the_tape
from fitcounter.store import fits
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)
TOP = len(HEIGHTS) - 1


def test_a_measured_pair_has_its_answer_and_what_each_boot_is_short_by(
    store: Store, act: Act
) -> None:
    _, fit_id = measured_pair(store, act)
    found = at_once(store, shop.read(store), fit_id, TODAY)
    assert found is not None
    assert found.short == ("Left ⅝ in short at 12½ in.", "Right ⅝ in short at 12½ in.")
    assert found.may_agree


def test_a_pair_that_is_not_measured_has_none(store: Store, act: Act) -> None:
    assert at_once(store, shop.read(store), take_in(store, act), TODAY) is None


def test_what_is_refused_is_not_agreed(store: Store, act: Act) -> None:
    _, fit_id = measured_pair(store, act, material="coated")
    found = at_once(store, shop.read(store), fit_id, TODAY)
    assert found is not None
    assert (found.answer.tier, found.may_agree) == ("refuse", False)


@pytest.mark.parametrize(
    ("gaps", "needed"),
    [(("3/8", "5/8", "7/8"), (TOP,)), (("3/8", "7/8", "5/8"), (1, TOP))],
    ids=["widest on top", "widest at the calf"],
)
def test_a_boot_read_where_the_page_asks_for_it_has_the_answer_of_one_read_everywhere(
    store: Store, act: Act, gaps: tuple[str, ...], needed: tuple[int, ...]
) -> None:
    """By the gap: at its highest, and where it is widest."""
    girths = ("13 1/4", "13 7/8", "14 1/4")
    answers = []
    for rows in (range(len(HEIGHTS)), needed):
        fit_id = take_in(store, act)
        boots = {
            cell_name("boot", side, row): girths[row] for side in ("left", "right") for row in rows
        }
        sheet = sheet_of("gap", cells(gap=gaps) | boots)
        measuring_save.save(store, act, fit_id, sheet, Terms(), None)
        found = at_once(store, shop.read(store), fit_id, TODAY)
        assert found is not None
        answers.append((found.short, found.answer.headline, found.answer.sentence))
    assert answers[0] == answers[1]


def test_what_leather_or_damage_rules_out_is_said_before_the_tape(store: Store, act: Act) -> None:
    fit_id = take_in(store, act, material="coated", closure="pull-on")
    found = before_the_tape(store, fit_id)
    assert found is not None
    assert "coated" in found.reasons[0].lower()
    assert found.ways == (("another", "Another boot"),)
    cracked = take_in(store, act, seen=(Seen("left", "cracked-grain"),))
    ruled_out = before_the_tape(store, cracked)
    assert ruled_out is not None
    assert [key for key, _ in ruled_out.ways] == ["strap", "another"]


def test_where_the_tape_decides_nothing_is_ruled_out_nor_where_it_is_agreed(
    store: Store, act: Act
) -> None:
    assert before_the_tape(store, take_in(store, act)) is None
    fit_id = take_in(store, act, material="coated")
    with store.write_tx():
        for boot in fits.boots(store, fit_id):
            store.change("items", boot.id, state="declined")
    assert before_the_tape(store, fit_id) is None
