"""The clock of a wear on the customer's phone: through reload, lock and night, forgotten, far too
long, or on a phone whose own clock is wrong; with network and without, in English and in Spanish.
"""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from browser.customer.their_phone import (
    LOCALES,
    LOCKED,
    START,
    TOLD,
    ZONE,
    Theirs,
    with_and_without,
)
from browser.customer.wear_cast import Phones
from browser.offline_cast import until
from playwright.sync_api import Dialog

pytestmark = pytest.mark.browser

ASKED = {
    "5": "Only {minutes} minutes: did something hurt? Then tell the shop below. If not, save"
    " again.",
    "90": "Really {minutes} minutes? Look at your skin. Your boots then rest one more day. If it is"
    " right, save again.",
}


@with_and_without
def test_the_clock_outlives_reload_lock_and_tab_until_the_wear_is_in_safe_hands(
    their: Theirs, away: bool
) -> None:
    their.home()
    their.visit(away=away)
    page, started = their.page, their.clock.now
    their.tap(START)
    their.wait("They come off at {time}.", time=their.words.clock(time(19, 30)))
    their.clock.on(minutes=10)
    their.open()
    page.evaluate(LOCKED)
    other = page.context.new_page()
    other.goto(their.address)
    for one in (page, other):
        until(one, lambda one=one: one.inner_text(".count-down") == "20:00")
        hurts = one.get_by_role("link", name=their.say("It hurts or goes numb"))
        assert (hurts.bounding_box() or {"y": 999})["y"] < 780
    their.clock.on(minutes=21)
    their.at()
    until(page, lambda: their.h1() == their.say("Take your boots off now"))
    assert page.locator("section.today > :visible").count() == 3
    their.tap("They are off")
    their.wait(TOLD if away else "Saved. Now let your boots rest.")
    until(page, lambda: their.clocks() == [])
    until(other, lambda: not their.button(START, other).is_visible())
    other.close()
    if away:
        for change in (LOCKED, "location.reload()"):
            page.evaluate(change)
            their.wait(TOLD)
            assert not their.button(START).is_visible(), "it was told already"
        their.clock.on(hours=3)
        their.back_again()
    (worn,) = their.worn()
    assert worn.actual_minutes == 30
    assert worn.actual_start
    assert abs(worn.actual_start - started) < timedelta(minutes=1)


def test_started_by_mistake_leaves_the_form_as_it_came(their: Theirs) -> None:
    """While it runs, an hour that is typed stays as it was typed; the shop hears nothing of it."""
    their.home()
    their.visit(away=True)
    page = their.page
    their.tap(START)
    page.locator("#put_on").fill("17:40")
    their.clock.on(minutes=5)
    their.at()
    until(page, lambda: page.input_value("#minutes") == "5")
    assert page.input_value("#put_on") == "17:40"
    their.tap("I started by mistake")
    assert (page.input_value("#minutes"), page.input_value("#put_on")) == ("30", "")
    assert page.input_value("form[data-timer] [name=ago]") == ""
    assert their.clocks() == []
    assert their.button(START).is_visible()


def test_boots_are_not_put_on_at_night_nor_kept_on_into_it_without_asking(their: Theirs) -> None:
    """Nothing starts where the answer is no. The page itself was made by day."""
    asked: list[str] = []

    def no(dialog: Dialog) -> None:
        asked.append(dialog.message)
        dialog.dismiss()

    their.home()
    their.open()
    their.page.on("dialog", no)
    off = "They would come off at {time}, at night. Start all the same?"
    late = "It is late. Boots on when you are tired? Tomorrow is fine too."
    for at in (time(21, 31), time(22), time(6, 59)):
        day = their.clock.now.date() + timedelta(days=at < time(12))
        local = datetime.combine(day, at, ZoneInfo(ZONE))
        their.page.clock.set_fixed_time(local)
        their.tap(START)
        assert their.clocks() == []
    at_ten = their.words.clock(time(22, 1))
    assert asked == [their.say(off, time=at_ten), their.say(late), their.say(late)]
    their.at()
    their.tap(START)
    assert len(their.clocks()) == 1


@with_and_without
def test_a_forgotten_clock_asks_instead_of_counting(their: Theirs, away: bool) -> None:
    their.home()
    their.visit(away=away)
    their.started(240)
    their.open()
    weekday = {"en": "Tue", "es": "mar"}[their.words.code]
    asked = their.page.locator(".lead[role=status]").inner_text()
    assert weekday in asked
    assert their.page.input_value("#minutes") == ""
    assert not their.page.locator(".count-down").is_visible()
    their.page.fill("#minutes", "25")
    their.save("Save what I wore")
    if away:
        their.clock.on(hours=2)
        their.back_again()
    (worn,) = their.worn()
    assert worn.actual_minutes == 25
    assert worn.actual_start == datetime(2026, 3, 17, 19, 0, tzinfo=UTC)


@with_and_without
def test_far_too_long_or_short_is_asked_about_where_somebody_can_answer(
    their: Theirs, away: bool
) -> None:
    """Without network it is kept as it was told."""
    their.home()
    their.visit(away=away)
    their.page.get_by_text(their.say("I wore them today")).tap()
    for minutes in ("90",) if away else ("5", "90"):
        their.page.fill("#minutes", minutes)
        their.page.evaluate("document.querySelector('[name=sure]')?.remove()")
        their.save("Save what I wore")
        if not away:
            assert their.sees(ASKED[minutes], minutes=minutes)
            assert their.page.input_value("#minutes") == minutes
            assert their.worn() == []
    if away:
        their.back_again()
    else:
        their.save("Save what I wore")
    assert [one.actual_minutes for one in their.worn()] == [90]


@pytest.mark.parametrize("language", LOCALES)
def test_another_clock_on_the_phone_is_asked_about(phones: Phones, language: str) -> None:
    with phones.customer(language, timezone_id="Europe/Madrid") as their:
        their.home()
        their.visit(away=True)
        their.wait("You seem to be in {place}: use that time?", place="Madrid")
        their.refused("Use that time")
        their.go(away=False)
        with their.page.expect_navigation():
            their.tap("Use that time")
        assert their.plan().plan.zone == "Europe/Madrid"
        assert not their.button("Use that time").is_visible()


def test_a_phone_whose_clock_is_wrong_tells_a_wear_of_now(their: Theirs) -> None:
    """An hour ahead or a day behind: the page is of today, and the wear began when it began."""
    their.home()
    started = their.clock.now
    for wrong in (timedelta(minutes=50), timedelta(days=-1)):
        their.page.clock.set_fixed_time(their.clock.now + wrong)
        their.page.goto(their.address)
        their.page.wait_for_load_state("networkidle")
        assert not their.page.locator("main > .notice, h1 + .notice").is_visible()
    their.page.clock.set_fixed_time(started + timedelta(minutes=50))
    their.page.goto(their.address)
    their.tap(START)
    their.clock.on(minutes=31)
    their.page.clock.set_fixed_time(their.clock.now + timedelta(minutes=50))
    their.button("They are off").wait_for()
    with their.page.expect_navigation():
        their.tap("They are off")
    (worn,) = their.worn()
    assert worn.actual_start
    assert abs(worn.actual_start - started) <= timedelta(minutes=1)
