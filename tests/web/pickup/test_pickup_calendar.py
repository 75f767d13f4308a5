"""The wearing-in calendar that begins at pickup: its minutes, its hour, and with which boots there
is one.
"""

from __future__ import annotations

from support.cast import Counter
from support.ticket_rows import Job
from web.pickup.pickup_form import all_of

from fitcounter.desk.common.wear_rules import rules
from fitcounter.desk.shop import Shop, read
from fitcounter.fit.wear.wear import preset
from fitcounter.store.database import Store


def test_this_pair_may_have_minutes_of_its_own_and_the_shop_too(
    counter: Counter, owner: Counter, store: Store, shelved: Job
):
    """What cannot be is said, with everything still typed; the pair's own come first, then the
    shop's, then the preset's.
    """
    owner.get("/shop/choices")
    assert owner.post("/shop/choices", wear_minutes="25, 25").status_code == 303
    page = f"/pickup/{shelved.ticket_id}"
    assert "Empty: 25, 25." in counter.get(page).text
    for wrong in ("30, half an hour", "0", "961", ",", ", ".join(["30"] * 21)):
        answer = counter.post(page, **all_of(shelved), minutes=wrong)
        assert answer.status_code == 422
        assert "like 30, 30, 30" in answer.text
        assert f'value="{wrong}"' in answer.text
        assert 'value="Marisol"' in answer.text
    assert store.value("SELECT count(*) FROM wear_plans") == 0
    assert counter.post(page, **all_of(shelved), minutes="15, 20,40").status_code == 303
    assert [one["minutes"] for one in store.rows("SELECT minutes FROM wears ORDER BY n")] == [
        15,
        20,
        40,
    ]
    here = read(store)
    assert (
        rules(here, "growing").minutes,
        rules(here, "growing").free_day_between,
        rules(here, "growing").preset,
    ) == ((25, 25), True, "own")
    assert rules(Shop(), "three-short-wears") == preset("three-short-wears")


def test_an_empty_hour_is_the_usual_one_and_no_hour_says_what_to_type(
    counter: Counter, store: Store, shelved: Job
):
    page = f"/pickup/{shelved.ticket_id}"
    counter.get(page)
    wrong = counter.post(page, **{**all_of(shelved), "evening": "after work"})
    assert (wrong.status_code, "Type a time, like 18:30." in wrong.text) == (422, True)
    assert counter.post(page, **{**all_of(shelved), "evening": ""}).status_code == 303
    assert store.value("SELECT hour FROM wear_plans") == read(store).wear_hour


def test_a_calendar_is_promised_only_with_a_stretched_boot(
    counter: Counter, store: Store, shelved: Job
):
    """The bag goes first and begins none; boots that go back as they came want none."""
    page = f"/pickup/{shelved.ticket_id}"
    assert "then the wearing-in calendar starts" in counter.get(page).text
    bag = {**all_of(shelved), "items": [str(shelved.bag)], "part": "y", "paid": "20"}
    assert counter.post(page, **bag).status_code == 303
    assert (
        "calendar"
        not in counter.get(f"/tickets/{shelved.ticket_id}")
        .text.partition("</main>")[0]
        .partition("<h1")[0]
    )
    with store.write_tx():
        for one in (shelved.left, shelved.right):
            store.change("items", one, state="declined")
    shown = counter.get(page).text
    assert "then the wearing-in calendar starts" not in shown
    assert 'name="evening"' not in shown
