"""Hours of single days, and public holidays that are offered and never assumed."""

from __future__ import annotations

import re
from datetime import date

from support.bench_cast import pair, tree
from support.cast import Clock, Counter

from fitcounter.desk import shop
from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer import phrases
from fitcounter.desk.plan import plan_keeping
from fitcounter.store import plans
from fitcounter.store.database import Act, Store


def test_a_day_with_hours_of_its_own_is_kept_shown_and_said(owner: Counter, store: Store):
    owner.get("/shop/choices")
    own = {"day_hours-Sat-from": "10:00", "day_hours-Sat-to": "13:00", "day_hours-Mon-from": ""}
    assert owner.post("/shop/choices", day_hours="", **own).status_code == 303
    here = shop.read(store)
    assert here.day_hours == ("", "", "", "", "", "10:00-13:00", "")
    page = owner.get("/shop/choices").text
    assert re.search(r'name="day_hours-Sat-to" value="13:00"', page)
    assert re.search(r'name="day_hours-Fri-to" value=""', page)
    head = phrases.head(here, speech("en_US"))
    hours = head.hours.replace("\u202f", " ")
    assert hours == "Tuesday to Friday, 9:00 AM to 6:00 PM; Saturday, 10:00 AM to 1:00 PM"


def test_half_of_a_day_s_hours_is_asked_for_and_nothing_typed_is_lost(owner: Counter, store: Store):
    owner.get("/shop/choices")
    refused = owner.post("/shop/choices", **{"day_hours": "", "day_hours-Sat-from": "10:00"})
    assert refused.status_code == 422
    assert "Type when the shop opens and when it closes that day, or neither." in refused.text
    assert 'name="day_hours-Sat-from" value="10:00"' in refused.text
    for odd in ("-5", "9, 10", "ten - ish"):
        ends = {"day_hours-Sat-from": odd, "day_hours-Sat-to": "15:00"}
        refused = owner.post("/shop/choices", **{"day_hours": "", **ends})
        assert refused.status_code == 422
        assert f'name="day_hours-Sat-from" value="{odd}"' in refused.text
        assert 'name="day_hours-Sat-to" value="15:00"' in refused.text
    assert shop.read(store).day_hours == ()


def test_public_holidays_are_offered_and_close_the_shop_once_ticked(owner: Counter, store: Store):
    """Of 2026, from March 17 on; Memorial Day is a Monday, on which the shop is shut anyway."""
    page = owner.get("/shop/closings").text
    assert "Public holidays in United States" in page
    assert "Memorial Day" not in page
    assert plans.closures(store) == []
    assert "checked" not in page
    ticked = ["2026-11-26", "2026-12-25"]
    assert owner.post("/shop/closings", day=ticked).status_code == 303
    assert [(one.from_day, one.to_day, one.kind) for one in plans.closures(store)] == [
        (day, day, "closed") for day in ticked
    ]
    page = " ".join(owner.get("/shop/closings").text.split())
    assert "Christmas Day, whole shop closed" in page
    assert 'value="2026-12-25"' not in page
    path = f"/bench/away/{plans.closures(store)[0].id}/strike"
    assert owner.post(path, back="closings").headers["Location"] == "/shop/closings"
    assert len(plans.closures(store)) == 1


def test_nothing_ticked_is_said(owner: Counter):
    owner.get("/shop/closings")
    refused = owner.post("/shop/closings")
    assert (refused.status_code, "Tick at least one holiday." in refused.text) == (422, True)


def test_a_holiday_that_moves_a_promised_day_is_asked_about_first(
    owner: Counter, store: Store, clock: Clock
):
    """A pair that would be ready on Thanksgiving, in a shop that is open every day."""
    shop.choose(store, Act(clock.now), open_days=list(range(7)))
    tree(store, "4")
    tree(store, "5", "right")
    made = pair(store, Act(clock.now))
    thanksgiving = date(2026, 11, 26)
    clock.on(days=(thanksgiving - ready(store, clock)).days)
    assert ready(store, clock) == thanksgiving
    with store.write_tx():
        store.change("tickets", made.ticket_id, promise_day="2026-11-26")
    plan_keeping.renew(store, Act(clock.now))
    owner.get("/shop/closings")
    asked = owner.post("/shop/closings", day="2026-11-26")
    assert (asked.status_code, "A promised day would move:" in asked.text) == (422, True)
    assert 'name="day" value="2026-11-26"' in asked.text
    assert plans.closures(store) == []
    assert owner.post("/shop/closings", day="2026-11-26", confirmed="1").status_code == 303
    assert [one.why for one in plans.closures(store)] == ["Thanksgiving Day"]


def ready(store: Store, clock: Clock) -> date:
    plan_keeping.renew(store, Act(clock.now))
    return date.fromisoformat(str(store.value("SELECT max(ready_day) FROM bench_days")))
