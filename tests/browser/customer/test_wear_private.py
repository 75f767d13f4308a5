"""Who may open what, on the customer's phone, with network and without, in English and in Spanish:
a link that opens nothing, prices behind four digits, and whom they let look.
"""

from __future__ import annotations

import pytest
from browser.customer.their_phone import HOLD, LINKS, NOT_SAVED, Theirs, no_network_at
from browser.offline_cast import until
from support.her_states import DIGITS

from fitcounter.desk.customer import sharing

pytestmark = pytest.mark.browser


# A link that opens nothing


@pytest.mark.parametrize("end", ["ended", "revoked"])
def test_a_link_that_ends_says_whom_to_call_and_is_forgotten(their: Theirs, end: str) -> None:
    """Even to who told something meanwhile: boots stay off, and it is said that it went nowhere."""
    their.home()
    their.visit(away=True)
    their.page.get_by_label(their.say("Numb or tingling")).first.check()
    their.tap("Tell the shop")
    their.page.locator(".kept").wait_for()
    column = {"ended": "link_until", "revoked": "link_revoked_at"}[end]
    with their.store.write_tx():
        their.store.change("tickets", their.job.ticket_id, **{column: "2026-03-17T15:00:00Z"})
    their.go(away=False)
    until(their.page, lambda: bool(their.kept()[0].get("refused")))
    over = {
        "ended": "This link has ended. Ask the shop for a new one.",
        "revoked": "This link does not work. Ask the shop for a new one; the phone number is on"
        " your claim check.",
    }[end]
    their.wait(over)
    assert their.h1() == their.say(HOLD)
    assert their.page.locator(".urgent.shown [href^=tel]").first.is_visible()
    their.page.goto(f"{their.address}?again")
    assert their.sees(over)
    assert their.page.evaluate(LINKS) == ["tel:555010-0199"]
    their.go(away=True)
    no_network_at(their, "")


def test_a_link_in_other_letters_says_whom_to_call(their: Theirs) -> None:
    for path in (f"/C{their.path[2:]}", f"/c/{their.path[3:].swapcase()}", f"{their.path}x"):
        their.page.goto(their.shop + path)
        assert their.h1() == their.say("Nothing here")
        assert their.page.evaluate(LINKS) == ["tel:555010-0199"]
    their.page.goto(f"{their.address}.")
    assert their.page.url == their.address


# What is theirs alone


def test_prices_open_with_four_digits_and_are_never_kept(their: Theirs) -> None:
    their.visit(away=True)
    no_network_at(their, "/agreed")
    their.go(away=False)
    their.page.goto(f"{their.address}/agreed")
    assert their.sees("Prices and papers are for you alone.")
    assert "$" not in their.page.inner_text("main")
    their.page.fill("#digits", DIGITS)
    with their.page.expect_navigation():
        their.tap("Show prices and papers")
    for amount, words in (("90", "Total"), ("30", "Deposit"), ("60", "Balance")):
        row = their.page.locator("dl.facts div", has_text=their.say(words)).last
        assert amount in row.inner_text()
    assert f"{their.path}/papers/claim-check.pdf" in their.page.evaluate(LINKS)
    their.go(away=True)
    no_network_at(their, "/agreed")
    assert "$" not in their.page.inner_text("main")


def test_who_may_look_is_theirs_to_decide(their: Theirs) -> None:
    """The shop makes the link and ends it: without network nothing seems to have been done."""
    their.home()
    their.visit(away=True)
    their.page.get_by_text(their.say("Let somebody else look")).tap()
    their.tap("Make a link")
    their.wait(NOT_SAVED)
    their.go(away=False)
    with their.page.expect_navigation():
        their.tap("Make a link")
    link = their.page.inner_text("#shared .code")
    token = sharing.token_of(their.store, their.job.ticket_id, their.data_dir)
    assert link == f"{their.shop}/s/{token}"
    partner = their.page.context.new_page()
    partner.goto(link)
    assert partner.locator("form, input, button").count() == 0
    assert their.say("Day by day") in partner.inner_text("main")
    their.open()
    with their.page.expect_navigation():
        their.tap("End this link")
    partner.reload()
    assert their.say("Nothing here") == partner.inner_text("h1")
    partner.close()
