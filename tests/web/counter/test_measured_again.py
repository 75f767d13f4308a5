"""What is asked to be measured once more: a second reading is kept beside the first, and the answer
stands above the question.
"""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import sheet, taken_in
from support.sent_sheet import send

from fitcounter.store import fits, readings
from fitcounter.store.database import Store


@pytest.fixture
def fit_id(counter: Counter) -> int:
    return taken_in(counter)


def test_second_readings_are_kept_beside_the_first(counter: Counter, store: Store, fit_id: int):
    legs = {
        f"{what}_{side}_{row}": text
        for side in ("left", "right")
        for row in range(3)
        for what, text in (
            ("leg", ("13 1/4", "14 1/4", "14 1/8")[row]),
            ("boot", ("12 7/8", "13 5/8", "14")[row]),
        )
    }
    send(counter, fit_id, sheet("leg", **legs), "?depth=gap")
    assert "Please measure again" not in counter.get(f"/fits/{fit_id}/measure?how=amount").text
    page = counter.get(f"/fits/{fit_id}/measure?depth=gap").text
    assert "Please measure again" in page
    assert 'name="leg_left_1_2"' in page
    assert (
        send(
            counter, fit_id, sheet("leg", **legs, leg_left_1_2="14 3/16"), "?depth=gap"
        ).status_code
        == 303
    )
    assert [
        (one.repeat, one.girth_text)
        for one in readings.legs(store, fit_id)
        if one.side == "left" and one.height_um == 317_500
    ] == [
        (1, "14 1/4"),
        (2, "14 3/16"),
    ]


def test_a_gap_that_could_change_the_answer_is_read_again_and_then_it_goes_on(
    counter: Counter, store: Store, fit_id: int
):
    """What is asked once more can be answered: the second gap has its field, is kept, and nothing
    more is asked about it.
    """
    gaps = {
        "gap_left_0": "3/8",
        "gap_left_1": "5/8",
        "gap_left_2": "7/8",
        "gap_right_0": "3/8",
        "gap_right_1": "1/2",
        "gap_right_2": "7/8",
    }
    boots = {
        f"boot_{side}_{row}": text
        for side in ("left", "right")
        for row, text in enumerate(("13 1/4", "13 7/8", "14 1/4"))
    }
    send(counter, fit_id, sheet(**gaps, **boots))
    page = counter.get(f"/fits/{fit_id}/measure").text
    assert "Left gap, 14½\u00a0in" in page
    assert 'name="gap_left_2_2"' in page
    assert (
        send(
            counter, fit_id, sheet(**gaps, **boots, gap_left_2_2="7/8", gap_right_2_2="13/16")
        ).status_code
        == 303
    )
    left, right = fits.boots(store, fit_id)
    stored = readings.brought_in(store, fit_id, (left.id, right.id))
    kept = [
        [
            (one.repeat, one.gap_text)
            for one in stored.gaps[boot.id, "gap"]
            if one.height_um == 368_300
        ]
        for boot in (left, right)
    ]
    assert kept == [[(1, "7/8"), (2, "7/8")], [(1, "7/8"), (2, "13/16")]]
    assert "a second reading here" not in counter.get(f"/fits/{fit_id}/measure").text
    assert counter.get(f"/fits/{fit_id}/measured").headers["Location"] == f"/fits/{fit_id}/verdict"


def asked_again(counter: Counter, fit_id: int, query: str = "") -> str:
    """The page after a gap that could change the answer."""
    gaps = zip(("gap_left_0", "gap_left_1", "gap_left_2"), ("3/8", "5/8", "7/8"), strict=True)
    rights = zip(("gap_right_0", "gap_right_1", "gap_right_2"), ("3/8", "1/2", "7/8"), strict=True)
    boots = {
        f"boot_{side}_{row}": text
        for side in ("left", "right")
        for row, text in enumerate(("13 1/4", "13 7/8", "14 1/4"))
    }
    send(counter, fit_id, sheet(**dict(gaps), **dict(rights), **boots))
    return counter.get(f"/fits/{fit_id}/measure{query}").text


def test_the_answer_stands_above_what_is_asked_once_more(counter: Counter, fit_id: int):
    """Nobody waits for a second reading: what it is, by how much and when, then the questions."""
    page = asked_again(counter, fit_id)
    said = (
        "Yes, in one or two rounds",
        "Most likely one round",
        "Left ⅞\u00a0in short at 14½\u00a0in.",
    )
    places = [page.index(words) for words in (*said, "Promised day: ", "Please measure again")]
    assert places == sorted(places)
    assert f'href="/fits/{fit_id}/verdict"' in page
    assert 'href="/tickets/1/agree"' in page


def test_a_question_is_left_as_it_is_with_one_tap_and_the_answer_stays(
    counter: Counter, fit_id: int
):
    page = asked_again(counter, fit_id, "?skipped=0")
    assert "Please measure again" not in page
    assert 'name="gap_left_2_2"' not in page
    assert "Yes, in one or two rounds" in page
    for odd in ("?skipped=x", "?skipped=-1", "?skipped=99999999999", "?skipped=1"):
        assert "Please measure again" in counter.get(f"/fits/{fit_id}/measure{odd}").text


def test_no_answer_stands_over_a_sheet_that_is_empty_or_another_way(counter: Counter, fit_id: int):
    assert "Show the customer" not in counter.get(f"/fits/{fit_id}/measure").text
    asked_again(counter, fit_id)
    assert "Show the customer" not in counter.get(f"/fits/{fit_id}/measure?how=leg").text
