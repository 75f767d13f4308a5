"""Both boots, missed days, and what each wear leaves behind, on the customer's phone: with network
and without, in English and in Spanish.
"""

from __future__ import annotations

import pytest
from browser.customer.their_phone import NOT_SAVED, START, TOLD, Theirs, with_and_without
from playwright.sync_api import Route

from fitcounter.desk import shop
from fitcounter.desk.aftercare import comeback, wear_calendar

pytestmark = pytest.mark.browser
# The time that is given to a line ends when the test says so, not while it still taps.
UNTIL_TOLD = """() => {
  window.given = [];
  window.over = [];
  AbortSignal.timeout = (ms) => {
    const held = new AbortController();
    window.given.push(ms);
    window.over.push(() => held.abort(new DOMException('', 'TimeoutError')));
    return held.signal;
  };
}"""


# Both boots


def test_one_boot_alone_starts_nothing_unless_it_was_agreed(their: Theirs) -> None:
    """With network and without: of each boot it says whether to wear it."""
    job = their.job
    their.finish(job.left, job.right)
    their.hand_over(job.left)
    their.clock.on(hours=9)
    _of_each_boot(
        their,
        "",
        "Your left boot: leave it off until both are at home.",
        "Your right boot: at the shop.",
    )
    their.hand_over(job.right)
    their.clock.on(days=1)
    _of_each_boot(their, "Today, wear your boots for {length}")
    back = comeback.ComebackInput(their.clock.now, "tight", "15", "", "in", True)
    comeback.come_back(their.store, their.act(), job.left, back, shop.read(their.store))
    _of_each_boot(
        their,
        "Today, wear your right boot for {length}",
        "Your left boot: at the shop.",
        "Your right boot: wear it as the calendar says.",
    )


def _of_each_boot(their: Theirs, heading: str, *lines: str) -> None:
    for away in (False, True):
        their.go(away=away)
        their.open()
        assert their.button(START).is_visible() == bool(heading)
        if heading:
            assert their.h1() == their.say(heading, length=their.words.minutes(30))
        for line in lines:
            assert their.sees(line)
    their.go(away=False)


# Missed days, and what can be taken back


@with_and_without
def test_a_missed_day_is_told_on_its_own_line(their: Theirs, away: bool) -> None:
    their.home()
    their.clock.on(days=1)
    their.visit(away=away)
    page = their.page
    page.get_by_text(their.say("I did wear them")).tap()
    page.locator(".days [name=minutes]").fill("28")
    line = page.locator(".days").get_by_role("button", name=their.say("Save what I wore"))
    if away:
        line.tap()
        page.locator(".days").get_by_text(their.say(TOLD)).wait_for()
        page.reload()
        page.get_by_text(their.say("I did wear them")).tap()
        page.locator(".days").get_by_text(their.say(TOLD)).wait_for()
        assert page.get_by_text(their.say(TOLD)).count() == 1
        assert their.button(START).is_visible(), "today is still asked for"
        their.back_again()
    else:
        with page.expect_navigation():
            line.tap()
    (worn,) = their.worn()
    assert (worn.actual_minutes, worn.local_day.day) == (28, 17)


def _line_hangs(their: Theirs, words: str) -> None:
    """A line with neither answer nor error: it is said after four seconds, and longer is waited
    for the next time; tapped again and again, it is asked once.
    """
    hung: list[Route] = []
    their.page.reload()
    their.page.route("**/api/csrf", lambda route: hung.append(route))
    their.page.evaluate(UNTIL_TOLD)
    for waited in (4000, 8000):
        their.page.evaluate("document.querySelectorAll('.kept').forEach((one) => one.remove())")
        for _ in range(3):
            their.tap(words)
        their.page.wait_for_function("window.over.length")
        their.page.evaluate("window.over.splice(0).forEach((end) => end())")
        their.wait(NOT_SAVED)
        assert their.page.evaluate("window.given") == [waited]
        their.page.evaluate("window.given.length = 0")
    assert len(hung) == 2
    their.page.unroute("**/api/csrf")
    their.page.reload()


@pytest.mark.parametrize(
    ("told", "undo"),
    [
        ("wear", "Undo: I did not wear them"),
        ("not today", "Undo: I can wear them today"),
        ("hour", "Undo: keep the old time"),
    ],
)
def test_what_was_told_can_be_taken_back(their: Theirs, told: str, undo: str) -> None:
    """Without network it stays on the page until it can be."""
    their.home()
    before = their.plan().plan.wears
    id_ = their.job.ticket_id
    if told == "wear":
        their.wear()
    elif told == "not today":
        wear_calendar.not_today(their.store, their.act(), id_, 1)
    else:
        wear_calendar.choose_hour(their.store, their.act(), id_, 20, 15)
    changed = their.plan().plan.wears
    their.visit(away=True)
    their.refused(undo)
    assert their.plan().plan.wears == changed != before
    their.go(away=False)
    if told == "hour":
        _line_hangs(their, undo)
    with their.page.expect_navigation():
        their.tap(undo)
    assert their.plan().plan.wears == before
    assert not their.button(undo).is_visible()


def test_not_today_and_another_hour_are_asked_of_the_shop_alone(their: Theirs) -> None:
    """One at night is asked about first; what was typed stays on the page without network."""
    their.home()
    their.visit(away=True)
    their.refused("Not today: move to tomorrow")
    their.page.fill("#evening", "23:00")
    their.refused("Use this time")
    assert their.page.input_value("#evening") == "23:00"
    their.go(away=False)
    with their.page.expect_navigation():
        their.tap("Not today: move to tomorrow")
    assert their.plan().plan.to_come[0].local_day.day == 18
    their.page.fill("#evening", "23:00")
    for asked in (True, False):
        with their.page.expect_navigation():
            their.tap("Use this time")
        at_night = "That is at night. Boots on when you are tired? If you mean it, save again."
        assert their.sees(at_night) == asked
    assert their.plan().plan.clock.hour == 23


def test_a_plan_that_slipped_a_week_asks_whether_to_start_again(their: Theirs) -> None:
    their.home()
    their.wear()
    their.clock.on(days=8)
    their.visit(away=True)
    their.refused("Start again")
    their.go(away=False)
    with their.page.expect_navigation():
        their.tap("Start again")
    assert [one.n for one in their.plan().plan.to_come] == [1, 2, 3]
    assert not their.button("Start again").is_visible()
    sql = "SELECT count(*) FROM follow_ups WHERE ticket_id = ? AND said = ?"
    assert their.store.value(sql, their.job.ticket_id, wear_calendar.SLIPPED_AGAIN) == 1


# What each wear leaves behind


def test_each_wear_fills_a_boot_and_how_it_felt_is_one_tap(their: Theirs) -> None:
    their.home()
    for n, praise in enumerate(
        ("Well done: the first time is behind you.", "Well done: {n} of {steps} are behind you."),
        1,
    ):
        their.wear()
        their.visit(away=True)
        assert their.page.locator(".wears .is-done").count() == n
        assert their.sees(praise, n=n, steps=3)
        their.refused("Tight")
        their.go(away=False)
    with their.page.expect_navigation():
        their.tap("Tight")
    for away in (False, True):
        their.go(away=away)
        their.open()
        pressed = their.page.locator("[aria-pressed=true]")
        assert their.say("Tight") in pressed.inner_text()
    their.go(away=False)
    their.wear()
    their.clock.on(days=9)
    their.visit(away=True)
    assert their.h1() == their.say("Your boots are worn in. Enjoy them.")
    assert their.sees("Zip with your leg relaxed, never by force.")
