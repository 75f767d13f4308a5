"""What went wrong on a boot: one tap each, the same list at the counter and at the bench."""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair, new_id, put_on
from support.cast import Counter
from support.item_steps import state

from fitcounter.desk.bench.damage_seen_at_bench import FAULTS
from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.store import rounds
from fitcounter.store.database import Store

OF_STRETCHING = ["grain turning white", "stitch holes opening"]  # not brought in by anybody
ANYTHING = ["other damage: say where"]


def test_the_counter_and_the_bench_call_a_fault_the_same() -> None:
    """In the same order; what only stretching does comes last at the bench, which tells anything
    else in words.
    """
    at_the_bench = list(FAULTS.values())
    at_the_counter = [one.words for one in SIGHTS.values()][: len(at_the_bench) - 1]
    assert at_the_bench == at_the_counter[:-1] + OF_STRETCHING
    assert at_the_counter[-1:] == ANYTHING


@pytest.mark.parametrize("fault", FAULTS)
def test_one_tap_stops_the_boot_and_its_page_says_why(
    bench: Counter, owner: Counter, store: Store, boots: Pair, fault: str
) -> None:
    """Off its tree, with the way to settle it, photos and the call to the customer at hand."""
    put_on(bench, boots.left, "4")
    page = bench.get(f"/items/{boots.left}?do=finding").text
    button = rf'<button name="fault" value="{fault}">([^<]+)</button>'
    told = re.search(button, page)
    assert told
    assert re.search(r'<form[^>]*/finding".*?<button disabled hidden>.*?<input', page, re.DOTALL), (
        "Enter in a field presses the first button: that one does nothing"
    )
    form = {"submission_id": new_id(), "fault": fault, "place": "inner calf", "word": "scuffs"}
    answer = bench.post(f"/items/{boots.left}/finding", **form)
    assert answer.status_code == 303
    assert state(store, boots.left) == "stopped"
    assert rounds.of_item(store, boots.left)[0].outcome == "stopped"

    page = " ".join(owner.get(answer.location).text.split())
    head = f"Left 41 is stopped: {told[1]}. Next: tell the customer, then fix or agree."
    assert head in page
    assert f"Stopped: {told[1]}. Ask the customer how to go on." in page
    fix, call, photo, note = (
        page.index(one)
        for one in ("Fix or agree", "Call the customer", "data-shutter", "Note what")
    )
    assert fix < call < photo < note
    assert "Call the customer" not in bench.get(answer.location).text, "that is the front desk's"
    assert f"{told[1]}" in owner.get("/bench").text


def test_a_note_alone_stops_nothing_and_a_fault_that_is_none_is_refused(
    bench: Counter, store: Store, boots: Pair
) -> None:
    path = f"/items/{boots.left}/finding"
    bench.get(f"/items/{boots.left}?do=finding")
    answer = bench.post(path, submission_id=new_id(), word="scuffs")
    assert "What you saw on Left 41 is saved." in bench.get(answer.location).text
    assert state(store, boots.left) == "queued"
    answer = bench.post(path, submission_id=new_id(), fault="bewitched", place="toe")
    assert answer.status_code == 422
    assert "Pick what you saw from the list." in answer.text
    assert 'value="toe"' in answer.text


def test_what_stopped_a_boot_is_said_in_the_language_of_the_reader(
    bench: Counter, owner: Counter, store: Store, boots: Pair
) -> None:
    bench.get(f"/items/{boots.left}?do=finding")
    bench.post(f"/items/{boots.left}/finding", submission_id=new_id(), fault="seam-split")
    with store.write_tx():
        store.db.execute("UPDATE staff SET language = 'es'")
    for path in (f"/items/{boots.left}", "/bench", "/incidents/1"):
        page = owner.get(path).text
        assert "costura reventada" in page, path
        assert "seam split" not in page, path
