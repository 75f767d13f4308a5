"""A line typed on the agreement is found in the list of work, with its price, tax and days."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.counter_forms import agreement, errors, fresh, measured, new_job, value

from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import bills, items, works
from fitcounter.store.database import Act, Store


@pytest.fixture(autouse=True)
def tips(store: Store, clock: Clock) -> None:
    """Heel tips for $9 each, untaxed, in two days."""
    entry = EntryInput(what="Heel tips", price_minor=900, days=2, taxable=False)
    price_list.save(store, Act(clock.now, 1), "heel-tips", entry)


def typed(counter: Counter, **line: str) -> object:
    return counter.post("/tickets/1/agree", **agreement(counter, 1, **line))


def test_two_letters_are_the_shops_own_work_on_both_boots(counter: Counter, store: Store):
    measured(counter)
    page = counter.get("/tickets/1/agree").text
    assert 'list="work-list"' in page
    assert '<option value="Heel tips" data-each="900" data-untaxed>' in page
    assert typed(counter, line_1_what="heel t").status_code == 303
    line = bills.lines(store, 1)[1]
    assert (line.what, line.amount_minor, line.taxable) == ("Heel tips, both boots", 1800, 0)
    held = [one.id for one in items.of_ticket(store, 1)]
    done = works.lines_of_ticket(store, 1)
    assert [(one.item_id, one.what, one.days) for one in done] == [
        (item_id, "Heel tips", 2) for item_id in held
    ]


def test_on_one_boot_for_a_price_of_its_own(counter: Counter, store: Store):
    measured(counter)
    right = items.of_ticket(store, 1)[1].id
    line = {"line_1_what": "Heel tips", "line_1_amount": "7", "line_1_on": str(right)}
    assert typed(counter, **line).status_code == 303
    assert [(one.what, one.amount_minor) for one in bills.lines(store, 1)][1:] == [
        ("Heel tips, right boot", 700)
    ]
    assert [one.item_id for one in works.lines_of_ticket(store, 1)] == [right]


def test_own_words_are_a_line_of_their_own(counter: Counter, store: Store):
    measured(counter)
    assert typed(counter, line_1_what="Courier", line_1_amount="12").status_code == 303
    line = bills.lines(store, 1)[1]
    assert (line.what, line.kind, line.amount_minor) == ("Courier", "flat", 1200)
    assert works.lines_of_ticket(store, 1) == []


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ({"line_1_what": "he"}, "Which one: "),
        ({"line_1_what": "Courier"}, "0 if it is free"),
        ({"line_1_what": "half soles"}, "0 if it is free"),
        ({"line_1_amount": "12"}, "Type what this amount is for."),
        ({"line_1_what": "Heel tips", "line_1_amount": "-4"}, "Type an amount"),
        ({"line_1_what": "foot made"}, "We do not"),
    ],
)
def test_what_cannot_be_meant_is_asked_and_stays_as_typed(
    counter: Counter, store: Store, line, says
):
    measured(counter)
    answer = typed(counter, **line)
    assert answer.status_code == 422
    assert says in " ".join(errors(answer))
    assert all(f'value="{one}"' in answer.text for one in line.values())
    assert bills.lines(store, 1) == []


def test_what_the_shop_does_not_do_is_answered_and_then_kept_as_asked_for(
    counter: Counter, store: Store
):
    measured(counter)
    refused = typed(counter, line_1_what="foot made")
    assert errors(refused)[0].startswith("We do not lengthen feet.")
    assert 'name="asked"' in refused.text
    priced = typed(counter, line_1_what="foot made", line_1_amount="20", asked="y")
    assert "only kept as asked for" in errors(priced)[0]
    assert typed(counter, line_1_what="foot made", asked="y").status_code == 303
    (kept,) = works.of_ticket(store, 1)
    assert (kept.what, kept.line_id) == ("Foot made longer", None)
    assert len(bills.lines(store, 1)) == 1, "no price line"
    assert works.lines_of_ticket(store, 1) == [], "no work on a boot"
    for path in ("/tickets/1", "/tickets/1/work"):
        page = counter.get(path).text
        assert "Foot made longer" in page
        assert "We do not lengthen feet." in page


def shoes_in(counter: Counter, jobs: str) -> str:
    """The agreement for a pair of shoes that came in for that."""
    thing = {"kind": "shoe", "description": "brown brogues", "jobs": jobs}
    things = {f"things-0-{name}": text for name, text in thing.items()}
    assert 'list="work-list"' in counter.get("/new").text
    counter.post("/new", **new_job(boots="none", nothing_seen="", **things))
    return counter.get("/tickets/1/agree").text


def test_what_an_item_came_in_for_has_the_lists_price_tax_and_days(
    counter: Counter, store: Store, clock: Clock
):
    soles = EntryInput(what="Half soles", price_minor=2200, days=3)
    price_list.save(store, Act(clock.now, 1), "half-soles", soles)
    page = shoes_in(counter, "heel tips, Half soles")
    assert [value(page, f"line_{n}_what") for n in (0, 1)] == [
        "brown brogues: heel tips",
        "brown brogues: Half soles",
    ]
    assert [value(page, f"line_{n}_amount") for n in (0, 1)] == ["9", "22"]
    assert value(page, "promise") == "2026-03-24", "Sunday and Monday are closed"
    assert counter.post("/tickets/1/agree", **agreement(counter, 1)).status_code == 303
    assert [(one.amount_minor, one.taxable) for one in bills.lines(store, 1)] == [
        (900, 0),
        (2200, 1),
    ]


@pytest.mark.parametrize("jobs", ["heel", "heel tips, new handle", "foot made longer shoes"])
def test_other_words_for_an_item_are_one_line_whose_price_is_asked(counter: Counter, jobs: str):
    page = shoes_in(counter, jobs)
    assert value(page, "line_0_what") == f"brown brogues: {jobs}"
    assert value(page, "line_0_amount") == ""


def test_what_the_program_fills_in_is_never_too_long(counter: Counter, store: Store):
    """As long a description and as long a job as New job takes: agreed to as shown."""
    thing = {"kind": "bag", "description": "d" * 80, "jobs": "j" * 120}
    things = {f"things-0-{name}": text for name, text in thing.items()}
    counter.get("/new")
    assert (
        counter.post("/new", **new_job(boots="none", nothing_seen="", **things)).status_code == 303
    )
    typed = agreement(counter, 1, line_0_amount="40", promise="2026-03-20")
    assert counter.post("/tickets/1/agree", **typed).status_code == 303
    (line,) = bills.lines(store, 1)
    assert len(line.what) == 202
    page = counter.get("/tickets/1/price").text
    sent = {f"line_{line.id}_what": line.what, f"line_{line.id}_amount": "38", "why": "less work"}
    sent |= {"version": value(page, "version"), "submission_id": fresh()}
    assert counter.post("/tickets/1/price", **sent).status_code == 303
