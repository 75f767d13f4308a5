"""What does not feel right, on the customer's phone: with network and without, in English and in
Spanish.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest
from browser.customer.their_phone import CLOT, HOLD, LOCKED, START, TOLD, Theirs, with_and_without
from browser.offline_cast import until

from fitcounter.store import wears

pytestmark = pytest.mark.browser


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
    their.at_rest()
    their.clock.on(minutes=1)
    their.open()
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
