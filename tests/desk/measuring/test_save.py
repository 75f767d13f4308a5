"""A sheet of readings is kept whole or not at all, and comes back as it was typed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.measured_pair import BOOT, GAPS, LEG, cells, save_gap, sheet_of, take_in

from fitcounter.desk import shop
from fitcounter.desk.assessment import job
from fitcounter.desk.measuring import page as measuring_page
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.sheet import Row, Sheet
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import fits, readings
from fitcounter.store.database import Act, Store


@pytest.fixture
def fit_id(store: Store, act: Act) -> int:
    return take_in(store, act)


def count(store: Store) -> int:
    return int(
        store.value(
            "SELECT (SELECT count(*) FROM leg_readings) + (SELECT count(*) FROM boot_readings) +"
            " (SELECT count(*) FROM gap_readings)"
        )
    )


def test_every_reading_is_kept_with_its_text_its_unit_and_its_reader(
    store: Store, act: Act, fit_id: int
):
    save_gap(store, act, fit_id)
    left, _ = fits.boots(store, fit_id)
    assert [
        (one.height_um, one.gap_text, one.gap_um, one.unit)
        for one in readings.brought_in(store, fit_id, (left.id,)).gaps[left.id, "gap"]
    ] == [
        (266_700, "3/8", 9_525, "in"),
        (317_500, "5/8", 15_875, "in"),
        (368_300, "1/2", 12_700, "in"),
    ]
    first = readings.boots(store, left.id)[0]
    assert (first.girth_text, first.girth_um, first.method, first.staff_id, first.read_at) == (
        "12 7/8",
        327_025,
        "inside",
        1,
        "2026-03-17T14:00:00Z",
    )


def test_a_cell_that_cannot_be_read_keeps_the_whole_sheet_out(store: Store, act: Act, fit_id: int):
    with pytest.raises(BadInput) as refused:
        measuring_save.save(
            store,
            act,
            fit_id,
            sheet_of("gap", {**cells(gap=GAPS, boot=BOOT), "gap_left_1": "7/9"}),
            Terms(),
            None,
        )
    assert set(refused.value.sentences) == {"gap_left_1"}
    assert count(store) == 0
    assert fits.get(store, fit_id).version == 1


def test_an_empty_sheet_is_nothing_to_keep(store: Store, act: Act, fit_id: int):
    with pytest.raises(BadInput) as refused:
        measuring_save.save(store, act, fit_id, sheet_of("leg", {}), Terms(), None)
    assert set(refused.value.sentences) == {"leg_left_0"}


def test_a_side_that_was_begun_needs_both_kinds_and_one_that_was_not_stays_as_it_is(
    store: Store, act: Act, fit_id: int
):
    with pytest.raises(BadInput) as refused:
        measuring_save.save(
            store, act, fit_id, sheet_of("gap", cells(("right",), gap=GAPS)), Terms(), None
        )
    assert set(refused.value.sentences) == {"boot_right_0"}
    measuring_save.save(
        store, act, fit_id, sheet_of("gap", cells(("right",), gap=GAPS, boot=BOOT)), Terms(), None
    )
    assert [boot.side for boot in job.measured(store, fits.boots(store, fit_id))] == ["right"]


def test_leg_and_boot_at_different_heights_are_refused_at_the_cell_and_not_kept(
    store: Store, act: Act, fit_id: int
):
    apart = {"leg_left_0": "14", "leg_left_1": "14", "boot_left_2": "13", "boot_left_3": "13"}
    with pytest.raises(BadInput) as refused:
        measuring_save.save(
            store,
            act,
            fit_id,
            sheet_of("leg", apart, heights=("4", "6", "12", "14")),
            Terms(),
            None,
        )
    (sentence,) = refused.value.sentences.values()
    assert sentence == "Shares no height with its leg; read both over the same heights."
    assert count(store) == 0


def test_a_girth_no_leg_has_there_is_refused_at_its_own_cell(store: Store, act: Act, fit_id: int):
    typed = cells(leg=LEG, boot=BOOT)
    typed["leg_right_1"] = "145/8"
    with pytest.raises(BadInput) as refused:
        measuring_save.save(store, act, fit_id, sheet_of("leg", typed), Terms(), None)
    assert set(refused.value.sentences) == {"leg_right_1"}
    typed["leg_right_1"] = "6"
    with pytest.raises(BadInput) as refused:
        measuring_save.save(store, act, fit_id, sheet_of("leg", typed), Terms(), None)
    assert set(refused.value.sentences) == {"leg_right_1"}
    assert "is no calf" in refused.value.sentences["leg_right_1"]


def test_saved_again_the_readings_are_those_of_the_sheet_and_an_untouched_one_keeps_its_reader(
    store: Store, act: Act, fit_id: int, clock
):
    save_gap(store, act, fit_id)
    later = Act(clock.on(hours=1), 3)
    typed = {**cells(gap=GAPS, boot=BOOT), "boot_left_0": "12 3/4", "gap_left_2": ""}
    measuring_save.save(store, later, fit_id, sheet_of("gap", typed), Terms(), None)
    left, right = fits.boots(store, fit_id)
    assert [
        one.gap_text for one in readings.brought_in(store, fit_id, (left.id,)).gaps[left.id, "gap"]
    ] == [
        "3/8",
        "5/8",
    ]
    changed, kept = readings.boots(store, left.id)[:2]
    assert (changed.girth_text, changed.staff_id, changed.read_at) == (
        "12 3/4",
        3,
        "2026-03-17T15:00:00Z",
    )
    assert (kept.girth_text, kept.staff_id, kept.read_at) == ("13 5/8", 1, "2026-03-17T14:00:00Z")
    assert len(readings.brought_in(store, fit_id, (right.id,)).gaps[right.id, "gap"]) == 3


def test_a_sheet_that_is_opened_again_shows_the_heights_that_were_read(
    store: Store, act: Act, fit_id: int
):
    """No empty line between them; where a height is missed, or another way is asked for, there are
    lines for more.
    """
    here = shop.read(store)
    assert len(measuring_page.look(store, here, fit_id).lines) == 3
    two = {
        name: text for name, text in cells(gap=GAPS, boot=BOOT).items() if not name.endswith("_2")
    }
    measuring_save.save(store, act, fit_id, sheet_of("gap", two), Terms(), None)
    assert [line.height for line in measuring_page.look(store, here, fit_id).lines] == [
        "10 1/2",
        "12 1/2",
    ]
    assert len(measuring_page.look(store, here, fit_id, "whole").lines) > 3
    far = ("6 1/2", "14 1/2", "15")
    measuring_save.save(
        store,
        Act(act.at, act.staff_id),
        fit_id,
        sheet_of("leg", cells(leg=LEG, boot=BOOT), heights=far),
        Terms(),
        None,
    )
    missed = measuring_page.look(store, here, fit_id)
    assert any(ask.question.startswith("Big jump between") for ask in missed.asks)
    assert {"8 1/2", "10 1/2", "12 1/2"} <= {line.height for line in missed.lines}


def test_going_deeper_keeps_the_gaps_for_the_cross_check(store: Store, act: Act, fit_id: int):
    save_gap(store, act, fit_id)
    measuring_save.save(
        store, act, fit_id, sheet_of("leg", cells(leg=LEG, boot=BOOT)), Terms(), None
    )
    left, _ = fits.boots(store, fit_id)
    (side,) = job.build_job(store, fits.get(store, fit_id), [left], records={}).sides
    assert side.target == "leg"
    assert [gap.readings[0].text for gap in side.gaps] == ["3/8 in", "5/8 in", "1/2 in"]


def test_two_people_saving_one_sheet_are_told(store: Store, act: Act, fit_id: int):
    save_gap(store, act, fit_id)
    with pytest.raises(Conflict):
        measuring_save.save(
            store, act, fit_id, sheet_of("gap", cells(gap=GAPS, boot=BOOT)), Terms(), 1
        )
    measuring_save.save(store, act, fit_id, sheet_of("gap", cells(gap=GAPS, boot=BOOT)), Terms(), 2)


def test_the_job_says_the_texts_with_their_units_and_differs_only_where_a_boot_does(
    store: Store, act: Act, fit_id: int
):
    measuring_save.save(
        store,
        act,
        fit_id,
        sheet_of("leg", cells(leg=LEG, boot=("33 cm", "34.5 cm", "36 cm"))),
        Terms(wall="2 mm"),
        None,
    )
    left, right = fits.boots(store, fit_id)
    with store.write_tx():
        store.change("items", right.id, wall_um=3000)
    left, right = fits.boots(store, fit_id)
    sides = job.build_job(store, fits.get(store, fit_id), [left, right], records={}).sides
    leg, shaft = sides[0].leg[0], sides[0].shaft[0]
    assert (leg.station, leg.height.text) == ("rise", "10 1/2 in")
    assert [girth.text for girth in leg.girths] == ["13 1/4 in"]
    assert (shaft.height.text, [girth.text for girth in shaft.girths]) == ("10 1/2 in", ["33 cm"])
    assert sides[0].boot.wall_mm == 2.0
    assert sides[1].boot == replace(sides[0].boot, wall_mm=3.0)


def test_lengths_of_the_boot_are_checked_and_the_datum_needs_its_length(
    store: Store, act: Act, fit_id: int
):
    sheet = sheet_of("gap", cells(gap=GAPS, boot=BOOT))
    for terms, wrong in (
        (Terms(wall="2 in"), {"wall"}),
        (Terms(seat="x", rise="20"), {"seat", "rise"}),
        (Terms(heights_from="ground"), {"seat"}),
        (Terms(heights_from="top-line"), {"shaft"}),
    ):
        with pytest.raises(BadInput) as refused:
            measuring_save.save(store, act, fit_id, sheet, terms, None)
        assert set(refused.value.sentences) == wrong
    assert count(store) == 0
    measuring_save.save(
        store, act, fit_id, sheet, Terms(heights_from="ground", seat="1/2", wall=""), None
    )
    left, _ = fits.boots(store, fit_id)
    assert (left.heights_from, left.seat_um, left.wall_um) == ("ground", 12_700, 2000)


def test_the_sheet_comes_back_as_it_was_typed(store: Store, act: Act, fit_id: int):
    save_gap(store, act, fit_id)
    page = measuring_page.look(store, shop.read(store), fit_id)
    assert [(line.height, line.station) for line in page.lines] == [
        ("10 1/2", "rise"),
        ("12 1/2", "calf"),
        ("14 1/2", "below-knee"),
    ]
    assert page.cells["gap_left_1"] == "5/8"
    assert page.cells["boot_right_2"] == "14"
    assert (page.target, page.depth) == ("gap", "read")


def test_a_height_of_ones_own_has_its_line_among_the_others_afterwards(
    store: Store, act: Act, fit_id: int
):
    typed = {**cells(leg=LEG, boot=BOOT), "leg_left_3": "14 3/8", "boot_left_3": "13 3/4"}
    sheet = Sheet("in", "leg", (*sheet_of("leg", {}).rows, Row("33 cm", "calf")), typed)
    measuring_save.save(store, act, fit_id, sheet, Terms(), None)
    page = measuring_page.look(store, shop.read(store), fit_id)
    assert [line.height for line in page.lines] == ["10 1/2", "12 1/2", "33 cm", "14 1/2"]
    assert page.cells["leg_left_2"] == "14 3/8"


def test_once_more_is_asked_at_the_cell_and_stops_when_it_would_not_matter(
    store: Store, act: Act, fit_id: int
):
    measuring_save.save(
        store, act, fit_id, sheet_of("leg", cells(leg=LEG, boot=BOOT)), Terms(), None
    )
    page = measuring_page.look(store, shop.read(store), fit_id)
    assert {"leg_left_1", "boot_right_1"} <= page.again
    (ask,) = [ask for ask in page.asks if "could change the answer" in ask.question]
    assert "right boot, 12½ in" in ask.where
    loose = cells(leg=("12", "12 1/2", "12 1/8"), boot=BOOT)
    measuring_save.save(store, act, fit_id, sheet_of("leg", loose), Terms(), None)
    asks = [ask.question for ask in measuring_page.look(store, shop.read(store), fit_id).asks]
    assert not [ask for ask in asks if "could change the answer" in ask]
