"""What does not feel right and the clock, on the customer's phone: with network and without, in
English and in Spanish.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from browser.customer.wear_cast import (
    CLOT,
    HOLD,
    LOCALES,
    LOCKED,
    START,
    TOLD,
    ZONE,
    Phones,
    Theirs,
    their_phones,
)
from browser.offline_cast import until
from playwright.sync_api import Browser, Dialog

from fitcounter.store import wears

pytestmark = pytest.mark.browser
with_and_without = pytest.mark.parametrize("away", [False, True], ids=["online", "offline"])

ASKED = {
    "5": "Only {minutes} minutes: did something hurt? Then tell the shop below. If not, save"
    " again.",
    "90": "Really {minutes} minutes? Look at your skin. Your boots then rest one more day. If it is"
    " right, save again.",
}


@pytest.fixture(scope="module")
def phones(
    chromium: Browser, new_shop: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phones]:
    with their_phones(chromium, new_shop, tmp_path_factory.mktemp("safe")) as made:
        yield made


@pytest.fixture(params=LOCALES)
def their(request: pytest.FixtureRequest, phones: Phones) -> Iterator[Theirs]:
    with phones.customer(request.param) as made:
        yield made


# What does not feel right


@with_and_without
def test_a_tick_says_at_once_what_to_do_and_whom_to_call(their: Theirs, away: bool) -> None:
    """For either boot, on a Saturday night too: numbers to call, and when the shop opens next."""
    their.home()
    their.clock.now = datetime(2026, 3, 22, 1, 30, tzinfo=UTC)
    their.visit(away=away)
    page = their.page
    page.get_by_role("link", name=their.say("It hurts or goes numb")).tap()
    emergency = page.locator(".urgent [href='tel:911']")
    page.get_by_label(their.say("Only tight")).first.check()
    assert not emergency.is_visible()
    for sign in ("Numb or tingling", "Swollen, warm or red", "Pain"):
        for n in (0, 1):
            page.get_by_label(their.say(sign), exact=True).nth(n).check()
            assert emergency.is_visible()
            page.get_by_label(their.say(sign), exact=True).nth(n).uncheck()
            assert not emergency.is_visible()
    page.get_by_label(their.say("Pain"), exact=True).last.check()
    urgent = page.locator(".urgent").last
    assert urgent.locator("[href='tel:555010-0199']").is_visible()
    opens = their.words.clock(time(9))
    day = their.words.day(date(2026, 3, 24))
    closed = their.say("Closed now. Opens {day} at {time}.", day=day, time=opens)
    assert closed in urgent.inner_text()
    assert their.say(CLOT) in urgent.inner_text()


@with_and_without
def test_what_hurts_holds_the_page_in_every_tab_and_stays_so(their: Theirs, away: bool) -> None:
    """Also when the phone was locked, and in the tab whose clock runs. Told twice it is one hold
    more for nobody: the shop has both, and boots stay off.
    """
    their.home()
    their.visit(away=away)
    other = their.page.context.new_page()
    other.goto(their.address)
    their.button(START, other).tap()
    their.page.get_by_label(their.say("Numb or tingling")).first.check()
    if away:
        their.tap("Tell the shop")
    else:
        with their.page.expect_navigation():
            their.tap("Tell the shop")
    for page in (their.page, other):
        page.get_by_role("heading", level=1, name=their.say(HOLD)).wait_for()
        for change in (LOCKED, "dispatchEvent(new Event('pageshow'))"):
            page.evaluate(change)
            assert page.get_by_role("heading", level=1).inner_text() == their.say(HOLD)
            assert not their.button(START, page).is_visible()
            assert not page.locator(".count-down").is_visible()
    other.close()
    their.open()
    until(their.page, lambda: their.h1() == their.say(HOLD))
    assert not their.button(START).is_visible()
    if away:
        assert wears.get(their.store, their.job.ticket_id)[1].held_since is None
        assert [row["url"] for row in their.kept()] == [f"{their.path}/not-right"]
        their.back_again()
    their.page.goto(f"{their.address}?language={their.words.code}")
    their.page.get_by_label(their.say("Swollen, warm or red")).last.check()
    with their.page.expect_navigation():
        their.tap("Tell the shop")
    assert wears.get(their.store, their.job.ticket_id)[1].held_since is not None
    assert their.h1() == their.say(HOLD)
    their.page.go_back()
    assert their.h1() == their.say(HOLD)
    assert not their.button(START).is_visible()


def test_a_line_that_neither_answers_nor_fails_holds_nothing_up(their: Theirs) -> None:
    """Within seconds the kept page is shown, and what is told is safe on the phone. When it is
    better the shop has all of it, and a page that comes late takes the place of the kept one.
    """
    their.home()
    their.visit(away=False)
    with their.clock.hangs():
        their.page.goto(their.address, timeout=7000)
        their.page.get_by_text(their.say("I wore them today")).tap()
        their.tap("Save what I wore")
        their.page.get_by_text(their.say(TOLD)).first.wait_for(timeout=6000)
        their.page.get_by_label(their.say("Pain"), exact=True).last.check()
        their.tap("Tell the shop")
        until(their.page, lambda: their.h1() == their.say(HOLD), 2)
        assert their.worn() == []
        assert len(their.kept()) == 2
    until(their.page, lambda: wears.get(their.store, their.job.ticket_id)[1].held_since is not None)
    assert len(their.worn()) == 1
    their.page.wait_for_load_state()
    their.clock.on(minutes=1)
    their.open()
    until(their.page, lambda: not their.kept())
    with their.clock.hangs():
        their.page.goto(their.address, timeout=7000)
        their.answer("come-in")
    until(their.page, lambda: their.h1() == their.say("Boots off. Bring them to the shop."), 6)


def test_what_the_shop_answered_stands_there_without_network_too(their: Theirs) -> None:
    their.home()
    their.report()
    for advice, words in (
        ("come-in", "Boots off. Bring them to the shop."),
        ("doctor", "Boots off. See a doctor first."),
        ("stop", "Boots off. Do not wear these boots."),
        ("go-on", "Today, wear your boots for {length}"),
    ):
        day = their.answer(advice, "Show me your left foot.")
        their.clock.on(days=1 if day else 0)
        for away in (False, True):
            their.go(away=away)
            their.open()
            assert their.h1() == their.say(words, length=their.words.minutes(30))
            assert their.page.locator("blockquote").inner_text() == "Show me your left foot."
            assert "Cora" in their.page.inner_text("figcaption")
            assert their.button(START).is_visible() == (advice == "go-on")
            if day:
                goes_on = "The shop has answered: go on from {day}."
                assert their.sees(goes_on, day=their.words.day(day))
        their.go(away=False)


# The clock


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
