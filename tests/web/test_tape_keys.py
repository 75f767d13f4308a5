"""The tape's keys wherever a girth is typed: each such form has its panel, whose button sends it,
and what is known stands beside the field. Without script it is the form as before.
"""

from __future__ import annotations

import re
from html import unescape

import pytest
from support.bench_cast import Pair, new_id, um
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.store import readings, rounds, trees
from fitcounter.store.database import Store

FORM = re.compile(r"<form.*?</form>", re.DOTALL)


def form_with(page: str, field: str) -> str:
    """The form in which a field stands. Raises StopIteration where there is none."""
    return next(one for one in FORM.findall(page) if f'name="{field}"' in one)


def said(form: str) -> str:
    """What stands in it, without its tags."""
    return " ".join(unescape(re.sub(r"<[^>]+>", "", form)).split())


def has_keys(page: str, *fields: str) -> str:
    """The form, checked: the keys once, hidden until a script shows them, and one button that sends
    it, the panel's own; every field is a text field that the keys write into.
    """
    form = form_with(page, fields[0])
    assert "js/keys.js" in page
    assert (form.count("data-keys"), form.count("data-pad"), form.count("data-go")) == (1, 1, 1)
    assert re.search(r"<div[^>]*data-pad[^>]*hidden>", form)
    assert re.findall(r"<button(?! type=\"submit\")", form) == []
    assert form.count('<button type="submit"') == 1
    assert form.index("data-go") > form.index("data-pad")
    for name in fields:
        found = re.search(rf'<input[^>]*name="{name}"[^>]*>', form)
        assert found, name
        assert 'type="text"' in found[0], name
        assert "data-tape=" in found[0], name
    return form


def likely_mm(form: str, field: str) -> str:
    tag = re.search(rf'<input[^>]*name="{field}"[^>]*>', form)
    assert tag, field
    likely = re.search(r'data-likely="([^"]*)"', tag[0])
    assert likely, field
    return likely[1]


@pytest.mark.parametrize("address", ["/items/{}?do=put-on", "/bench/stand?boot={}&do=put-on"])
def test_putting_on_has_the_keys_and_begins_near_the_last_girth(
    bench: Counter, boots: Pair, address: str
) -> None:
    """Brought in at 14 3/8 in, which is 365.125 mm."""
    form = has_keys(bench.get(address.format(boots.left)).text, "before", "on_tree", "mark")
    assert [likely_mm(form, name) for name in ("before", "on_tree")] == ["365.125", "365.125"]
    assert 'data-what="height"' in form, "the mark is no girth"


def test_turning_up_and_measuring_again_say_what_was_read(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """On the tree: the last reading; rested: what it was before and on the tree; next round: the
    rested reading that counts where nothing is typed.
    """
    left = boots.left
    assert step(bench, left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8") == 303
    form = has_keys(bench.get(f"/items/{left}?do=turn-up").text, "girth")
    assert "it read 14⅞ in; at the same mark, or type only the setting" in said(form)
    assert float(likely_mm(form, "girth")) == um("14 7/8") / 1000
    assert step(bench, left, "turn-up", girth="15") == 303
    clock.on(days=7)
    assert step(bench, left, "take-off") == 303
    clock.on(hours=25)
    form = has_keys(bench.get(f"/items/{left}?do=measure-again").text, "rested")
    assert "14⅜ in before, 15 in on the tree: it should read between" in said(form)
    assert float(likely_mm(form, "rested")) == um("14 3/8") / 1000
    assert step(bench, left, "measure-again", rested="14 5/8") == 303
    assert state(store, left) == "to-decide"
    assert rounds.of_item(store, left)[-1].rested_text == "14 5/8"
    assert step(bench, left, "another-round") == 303
    form = has_keys(bench.get(f"/items/{left}?do=put-on").text, "before")
    assert "left empty, the last rested reading, 14⅝ in, counts" in said(form)
    assert float(likely_mm(form, "before")) == um("14 5/8") / 1000


def test_a_round_that_was_never_read_on_the_tree_names_no_range(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    assert step(bench, boots.left, "put-on", tree="4", before="14 3/8", read_as="later") == 303
    form = has_keys(bench.get(f"/items/{boots.left}?do=turn-up").text, "girth")
    assert "at the same mark; or type only the setting" in said(form)
    clock.on(days=7)
    assert step(bench, boots.left, "take-off") == 303
    clock.on(hours=25)
    form = has_keys(bench.get(f"/items/{boots.left}?do=measure-again").text, "rested")
    assert "it should read between" not in said(form)
    assert "Inches, like 14⅜" in said(form).replace("14 3/8", "14⅜")


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
