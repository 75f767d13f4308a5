"""The tape's keys wherever a girth is typed: each such form has its panel, whose button sends it,
and what is known stands beside the field. Without script it is the form as before.
"""

from __future__ import annotations

from support.bench_cast import Pair, new_id, um
from support.cast import Counter
from support.tape_keys import has_keys, likely_mm, said

from fitcounter.store import readings, trees
from fitcounter.store.database import Store


def test_a_tree_is_measured_with_the_keys(bench: Counter, store: Store, boots: Pair) -> None:
    """First with nothing known, then beside the reading of last time; its closed and wide open
    girth, and those of a new tree, too.
    """
    tree_id = next(one.id for one in trees.everyone(store) if one.label == "4")
    address = f"/bench/trees/{tree_id}"
    page = bench.get(address).text
    assert likely_mm(has_keys(page, "girth", "height"), "girth") == ""
    has_keys(page, "closed", "open", "shift_most")
    typed = {"setting": "0", "height": "9 1/2", "girth": "13 1/4"}
    assert bench.post(f"{address}/measure", submission_id=new_id(), **typed).status_code == 303
    form = has_keys(bench.get(address).text, "girth", "height")
    assert "last time 13¼ in at height 9½ in" in said(form)
    assert float(likely_mm(form, "girth")) == um("13 1/4") / 1000
    has_keys(bench.get("/bench/trees").text, "closed", "open")


def test_coming_back_has_the_keys_for_boot_and_leg(
    counter: Counter, store: Store, boots: Pair
) -> None:
    with store.write_tx():
        for one in (boots.left, boots.right):
            store.change("items", one, state="out")
        rested = {"rested_um": um("15"), "rested_text": "15", "rested_method": "outside"}
        store.insert("rounds", item_id=boots.left, n=1, mark_um=266_700, **rested)
    page = counter.get(f"/tickets/{boots.ticket_id}/back").text
    form = has_keys(page, f"boot-{boots.left}", f"leg-{boots.left}", f"boot-{boots.right}")
    assert float(likely_mm(form, f"boot-{boots.left}")) == um("15") / 1000
    assert float(likely_mm(form, f"leg-{boots.left}")) == 377.825, "14 7/8 in at the start"
    assert likely_mm(form, f"boot-{boots.right}") == "", "never read rested"
    typed = {f"boot-{boots.left}": "14 1/4", f"boot-{boots.right}": "14 3/8", "pays": "guarantee"}
    path = f"/tickets/{boots.ticket_id}/back"
    assert counter.post(path, submission_id=new_id(), **typed).status_code == 303
    read = readings.boots(store, boots.left, "comeback")
    assert [one.girth_text for one in read] == ["14 1/4"]


def test_how_much_is_asked_for_on_the_phone_has_the_keys_and_begins_at_nothing(counter: Counter):
    """A question saves nothing, so it asks nobody who it was."""
    form = has_keys(counter.get("/promise").text, "short")
    assert 'data-what="amount"' in form
