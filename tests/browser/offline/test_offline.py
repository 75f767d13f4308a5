"""Nothing typed is lost without network: what waits on the phone arrives once, in its order,
whatever happens on the way.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from browser.offline_cast import Pocket, Shelf, controlled, keep, see, until
from playwright.sync_api import Route
from support.bench_cast import pair
from support.cast import Clock

from fitcounter.store import findings
from fitcounter.store.database import Act, Store, utc_time

pytestmark = pytest.mark.browser

# As see does, by the page's own button, as fast as the form is free again.
SEE_QUICKLY = """async (notes) => {
  const of = (name) => document.querySelector(`details.step form ${name}`);
  for (const note of notes) {
    of('[name=word]').checked = true;
    of('[name=note]').value = note;
    of('[name=note]').dispatchEvent(new Event('input', { bubbles: true }));
    of('button.next').click();
    while (of('[name=note]').value) await new Promise((done) => { setTimeout(done, 10); });
  }
}"""


def test_fifty_saves_without_network_arrive_once_each_in_their_order(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """Five flaps, one answer lost on its way back, and a sign-in that expires in the middle of
    it.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    controlled(page)
    wanted = [f"seen {n}" for n in range(50)]
    lost = []

    def lose_the_answer(route: Route) -> None:
        route.fetch()
        lost.append(route.request.post_data)
        route.abort()

    for ten in range(5):
        phone.context.set_offline(True)
        notes = wanted[ten * 10 : ten * 10 + 10]
        page.evaluate(SEE_QUICKLY, notes[:-1])
        see(page, notes[-1])
        until(page, lambda: page.input_value("[name=note]") == "")
        if ten < 4:  # back for a moment: whatever gets through gets through
            if ten == 1:
                page.route("**/finding", lose_the_answer, times=1)
            phone.context.set_offline(False)
            page.wait_for_timeout(150)
            phone.context.set_offline(True)
            if ten == 2:
                with store.write_tx():
                    store.db.execute("UPDATE sessions SET ended_at = '2026-03-17T15:00:00Z'")
    waiting = len(phone.kept(page))
    assert waiting >= 20
    page.locator("[data-outbox]").get_by_text(
        f"No connection. {waiting} waiting on this phone.", exact=True
    ).wait_for()

    phone.context.set_offline(False)
    page.goto(f"{phone.address}/unsent")
    page.get_by_text("You are signed out").wait_for()
    assert len(phone.kept(page)) == waiting
    page.get_by_role("link", name="Sign in").tap()
    phone.sign_in("BE", page)
    until(page, lambda: not phone.kept(page))

    page.get_by_text("All sent. Nothing is waiting").wait_for()
    assert [one.note for one in findings.of_item(store, boots.left)] in (wanted, wanted[::-1])
    assert len(lost) == 1


def test_a_killed_server_costs_nothing(
    phone: Pocket, shelf: Shelf, store: Store, clock: Clock
) -> None:
    """The phone believes it is online all the while; the step waits, and goes out once the server
    is back.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    controlled(page)
    shelf.kill()
    see(page, "before the lights went out")
    page.get_by_text("Safe on this phone").wait_for()
    assert page.evaluate("navigator.onLine")
    page.goto(f"{phone.address}/items/{boots.left}")
    assert page.get_by_role("heading", level=1).inner_text() == "No connection"
    page.locator("[data-outbox]").get_by_text(
        "No connection. 1 waiting on this phone.", exact=True
    ).wait_for()

    shelf.start()
    page.goto(f"{phone.address}/unsent")
    until(page, lambda: not phone.kept(page))
    assert [one.note for one in findings.of_item(store, boots.left)] == [
        "before the lights went out"
    ]


def test_two_tabs_send_each_form_once(phone: Pocket, store: Store, clock: Clock) -> None:
    """Both tabs wake up with the network; one of them sends, the other finds nothing left."""
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    other = phone.page(f"/items/{boots.right}?do=finding")
    sent: list[str] = []
    phone.context.on(
        "request",
        lambda request: sent.append(request.url) if request.url.endswith("/finding") else None,
    )
    phone.context.set_offline(True)
    for n in range(3):
        for tab in (page, other):
            tab.bring_to_front()  # behind another one a tab draws, and so is tapped, once a second
            see(tab, f"seen {n}")
            until(tab, lambda tab=tab: tab.input_value("[name=note]") == "")  # type: ignore[misc]
    tried = len(sent)
    phone.context.set_offline(False)
    until(page, lambda: not phone.kept(page))

    assert len(sent) - tried == 6
    for item_id in (boots.left, boots.right):
        assert [one.note for one in findings.of_item(store, item_id)] == [
            f"seen {n}" for n in range(3)
        ]


def test_what_cannot_be_taken_keeps_its_text_and_lets_the_rest_pass(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """The boot stands elsewhere by now: that step waits for a look, the next one is sent, and
    opened again it asks as it would have.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=prepare")
    other = phone.page(f"/items/{boots.right}?do=finding")
    controlled(page)
    phone.context.set_offline(True)
    page.fill("[name=prepared_with]", "mink oil")
    page.locator("details.step form button.next").first.tap()
    page.get_by_text("Safe on this phone").wait_for()
    see(other, "a scratch")
    until(other, lambda: other.input_value("[name=note]") == "")
    with store.write_tx():
        store.change("items", boots.left, state="on-tree")
    phone.context.set_offline(False)
    until(page, lambda: [one.note for one in findings.of_item(store, boots.right)] == ["a scratch"])

    page.goto(f"{phone.address}/unsent")
    page.locator("[data-outbox]").get_by_text("1 to fix", exact=True).wait_for()
    refused = page.locator("[data-unsent-refused]")
    refused.get_by_text("What you typed").tap()
    assert "mink oil" in refused.inner_text()
    with page.expect_navigation():
        refused.get_by_role("button", name="Fix and save").tap()
    assert page.get_by_role("heading", level=1).inner_text() == "One question first"
    page.get_by_role("button", name="Yes, just now").tap()
    page.wait_for_url("**/items/*did=prepare*")
    until(page, lambda: not phone.kept(page))
    assert (
        store.value("SELECT prepared_with FROM rounds WHERE item_id = ?", boots.left) == "mink oil"
    )


def test_nobodys_words_are_saved_as_anothers_unless_they_say_so(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """Typed by the bench, signed out over night, signed in by the counter: it waits for a look.

    A row that is only half there lets it pass.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    phone.context.set_offline(True)
    keep(page, {"id": "half-of-a-row", "url": None})
    see(page, "a scratch")
    until(page, lambda: page.input_value("[name=note]") == "")
    with store.write_tx():
        store.db.execute("UPDATE sessions SET ended_at = '2026-03-17T15:00:00Z'")
    phone.context.set_offline(False)
    page.goto(f"{phone.address}/sign-in?next=/unsent")
    phone.sign_in("CO", page)
    page.locator("[data-outbox]").get_by_text("2 to fix", exact=True).wait_for()
    assert findings.of_item(store, boots.left) == []

    page.get_by_text("Somebody else was signed in on this phone when it was typed").wait_for()
    with page.expect_navigation():
        page.get_by_role("button", name="Fix and save").tap()
    until(page, lambda: [one.note for one in findings.of_item(store, boots.left)] == ["a scratch"])
    assert (
        store.value(
            "SELECT initials FROM staff JOIN audit ON staff.id = staff_id WHERE what = 'finding'"
        )
        == "CO"
    )
    assert [row["id"] for row in phone.kept(page)] == ["half-of-a-row"]


def test_a_step_saved_without_network_happened_when_it_was_tapped(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """Three hours in a cellar: the step's time is the tap's, the time it was saved stands beside
    it.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    phone.context.set_offline(True)
    page.fill("[name=note]", "seen in the cellar")
    page.locator("[name=fault]").first.tap()
    until(page, lambda: page.input_value("[name=note]") == "")
    (row,) = phone.kept(page)
    keep(page, {**row, "at": row["at"] - 3 * 3600 * 1000})
    phone.context.set_offline(False)
    until(page, lambda: not phone.kept(page))
    (step,) = store.rows("SELECT happened_at, saved_at FROM steps WHERE item_id = ?", boots.left)
    lapse = utc_time(step["saved_at"]) - utc_time(step["happened_at"])
    assert timedelta(hours=3) <= lapse < timedelta(hours=3, minutes=1)
    assert store.value("SELECT seen_at FROM findings") == step["happened_at"]
