"""Measure by forms: kept whole or not at all, every cell with its own sentence, nothing typed
lost.
"""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import errors, gap_sheet, sheet, taken_in, value
from support.sent_sheet import count, send

from fitcounter.store import fits, readings
from fitcounter.store.database import Store


@pytest.fixture
def fit_id(counter: Counter) -> int:
    return taken_in(counter)


def test_a_gap_sheet_is_saved_and_leads_on(counter: Counter, store: Store, fit_id: int):
    answer = send(counter, fit_id, gap_sheet())
    assert answer.status_code == 303
    assert answer.headers["Location"].startswith(f"/fits/{fit_id}/")
    assert count(store) == 12


def test_sent_twice_it_is_saved_once(counter: Counter, store: Store, fit_id: int):
    form = gap_sheet()
    first, again = send(counter, fit_id, form), send(counter, fit_id, form)
    assert (first.status_code, again.status_code) == (303, 303)
    assert fits.get(store, fit_id).version == 2


def test_a_stranger_and_the_bench_measure_nothing(
    stranger: Counter, bench: Counter, store: Store, fit_id: int
):
    stranger.get("/sign-in")
    assert stranger.post(f"/fits/{fit_id}/measure", **gap_sheet()).status_code == 401
    assert bench.post(f"/fits/{fit_id}/measure", **gap_sheet()).status_code == 403
    assert count(store) == 0


@pytest.mark.parametrize("fit", ["99", "0", "999999999999999999999"])
def test_a_pair_that_is_not_there_is_not_found(counter: Counter, fit: str):
    assert counter.get(f"/fits/{fit}/measure").status_code == 404


def test_a_very_long_cell_is_refused_and_a_huge_form_is_too_large(
    counter: Counter, store: Store, fit_id: int
):
    assert send(counter, fit_id, gap_sheet(boot_left_1="9" * 30_000)).status_code == 422
    assert send(counter, fit_id, gap_sheet(boot_left_1="9" * 300_000)).status_code == 413
    assert count(store) == 0


def test_a_sheet_without_legs_leaves_alone_how_legs_were_read(
    counter: Counter, store: Store, fit_id: int
):
    boots = {name: text for name, text in gap_sheet().items() if name.startswith("boot_")}
    legs = {name.replace("boot", "leg"): "14 1/4" for name in boots}
    send(
        counter,
        fit_id,
        sheet("leg", marked="y", over="sock", ease="easy", rise="1", **boots, **legs),
    )
    form = {
        name: text
        for name, text in gap_sheet().items()
        if name not in ("over", "ease", "posture", "part_of_day")
    }
    assert send(counter, fit_id, form).status_code == 303
    fit = fits.get(store, fit_id)
    assert (fit.marked, fit.over, fit.ease) == (1, "sock", "easy")
    assert fits.boots(store, fit_id)[0].rise_um == 25_400


def test_centimetres_on_an_inch_sheet_are_asked_about_and_never_block(
    counter: Counter, fit_id: int
):
    answer = send(
        counter, fit_id, gap_sheet(boot_left_0="33", boot_left_1="34.5", boot_left_2="35.5")
    )
    assert answer.status_code == 303
    assert "centimeters?" in counter.get(answer.headers["Location"], follow_redirects=True).text


def test_saved_readings_come_back_in_their_cells(counter: Counter, fit_id: int):
    send(counter, fit_id, gap_sheet(boot_left_1="34.6 cm"))
    page = counter.get(f"/fits/{fit_id}/measure").text
    assert value(page, "boot_left_1") == "34.6 cm"
    assert value(page, "gap_right_1") == "5/8"


def test_turned_to_centimetres_what_was_read_in_inches_stays_what_it_was(
    counter: Counter, store: Store, fit_id: int
):
    send(counter, fit_id, gap_sheet())
    assert send(counter, fit_id, gap_sheet(unit="cm", boot_left_2="35.5")).status_code == 303
    left, _ = fits.boots(store, fit_id)
    assert [one.girth_um for one in readings.boots(store, left.id)] == [327_025, 346_075, 355_000]
    assert [one.height_um for one in readings.boots(store, left.id)] == [266_700, 317_500, 368_300]
    page = counter.get(f"/fits/{fit_id}/measure").text
    assert value(page, "boot_left_0") == "12 7/8 in"
    assert value(page, "boot_left_2") == "35.5"


def test_two_people_who_save_one_sheet_see_both_and_lose_neither(
    counter: Counter, owner: Counter, store: Store, fit_id: int
):
    seen = value(counter.get(f"/fits/{fit_id}/measure").text, "version")
    owner.get("/new")
    assert (
        owner.post(
            f"/fits/{fit_id}/measure", **gap_sheet(version=seen, boot_left_1="13 1/2")
        ).status_code
        == 303
    )
    answer = counter.post(f"/fits/{fit_id}/measure", **gap_sheet(version=seen))
    assert answer.status_code == 409
    assert "13½" in answer.text or "13 1/2" in answer.text
    assert "13 5/8" in answer.text
    for label, words in (
        ("Posture", "standing"),
        ("Tape in", "inches"),
        ("Left boot at 12 1/2", "13 5/8"),
    ):
        assert f"<dt>{label}</dt><dd>{words}</dd>" in answer.text, label
    left, _ = fits.boots(store, fit_id)
    assert readings.boots(store, left.id)[1].girth_text == "13 1/2"


def test_a_height_of_ones_own_is_added_without_losing_what_was_typed(
    counter: Counter, store: Store, fit_id: int
):
    heights = {
        "height_0": "4 1/2",
        "height_1": "6 1/2",
        "height_2": "8 1/2",
        "height_3": "10 1/2",
        "height_4": "12 1/2",
        "height_5": "14 1/2",
    }
    typed = sheet("leg", **heights, leg_left_4="14 1/4", boot_left_4="13 5/8", leg_left_3="abc")
    page = send(counter, fit_id, {**typed, "own": "1"}, "?depth=whole")
    assert page.status_code == 200
    assert value(page.text, "leg_left_3") == "abc"
    assert 'name="height_7"' in page.text
    assert count(store) == 0
    own = {
        "own_height_0": "1",
        "own_height_1": "1",
        "height_6": "11 1/4",
        "station_6": "calf",
        "leg_left_6": "14 1/2",
        "boot_left_6": "13 3/4",
    }
    answer = send(
        counter,
        fit_id,
        {**typed, "leg_left_3": "13 1/4", "boot_left_3": "13", "height_7": "", **own},
        "?depth=whole",
    )
    assert answer.status_code == 303, errors(answer)
    assert [(one.height_text, one.station) for one in readings.legs(store, fit_id)] == [
        ("10 1/2 in", "rise"),
        ("11 1/4 in", "calf"),
        ("12 1/2 in", "calf"),
    ]


def test_the_same_height_twice_is_said_and_not_kept(counter: Counter, store: Store, fit_id: int):
    own = {"own_height_0": "1", "height_3": "12.5", "gap_left_3": "1/2", "boot_left_3": "13"}
    answer = send(counter, fit_id, gap_sheet(**own))
    assert answer.status_code == 422
    assert "Lines 2 and 4 are at the same height" in " ".join(errors(answer))
    assert count(store) == 0


@pytest.mark.parametrize("target", ["leg", "amount", "safe"])
def test_each_way_of_saying_how_much_has_its_sheet(counter: Counter, fit_id: int, target: str):
    page = counter.get(f"/fits/{fit_id}/measure?how={target}").text
    assert (f'name="{target}_left_0"' in page) == (target != "safe")
    assert 'name="boot_right_0"' in page
    boots = {
        f"boot_{side}_{row}": text
        for side in ("left", "right")
        for row, text in enumerate(("12 7/8", "13 5/8", "14"))
    }
    asked = (
        {name.replace("boot", target): {"leg": "14 3/8", "amount": "1/2"}[target] for name in boots}
        if target != "safe"
        else {}
    )
    answer = send(counter, fit_id, sheet(target, **boots, **asked))
    assert answer.status_code == 303, errors(answer)
    assert counter.get(f"/fits/{fit_id}/verdict").status_code == 200


def test_a_boot_that_ends_below_the_highest_height_says_so_and_is_compared_up_to_its_end(
    counter: Counter, store: Store, fit_id: int
):
    """Not measured far enough is refused at the cell that is missing, with both ways out; ticked,
    it is kept, and the answer says up to where it holds.
    """
    form = gap_sheet(boot_left_2="", boot_right_2="")
    answer = send(counter, fit_id, form)
    assert answer.status_code == 422
    assert (
        "The gap is measured up to 14½ in, this boot only to 12½ in. Measure the boot at 14½ in"
        " too, or tick that it ends below that." in errors(answer)
    )
    assert 'id="boot_left_2-error"' in answer.text
    assert answer.text.index('name="ends_left"') < answer.text.index('class="how-read"')
    assert count(store) == 0

    assert send(counter, fit_id, {**form, "ends_left": "y", "ends_right": "y"}).status_code == 303
    assert [boot.ends_below for boot in fits.boots(store, fit_id)] == [1, 1]
    verdict = counter.get(f"/fits/{fit_id}/verdict").text
    assert "The boot ends below the highest reading: compared up to" in verdict
    assert (
        'name="ends_left" type="checkbox" value="y"' in counter.get(f"/fits/{fit_id}/measure").text
    )
