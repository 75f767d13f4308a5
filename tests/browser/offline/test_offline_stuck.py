"""What waits on a phone never stands still for ever, is nobody else's, and the page says how it is
with it.
"""

from __future__ import annotations

from contextlib import suppress

import pytest
from browser.offline_cast import Pocket, controlled, keep, see, until
from playwright.sync_api import Dialog, Page, Route
from support.bench_cast import pair
from support.cast import Clock

from fitcounter.store import findings
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
WOKEN = "dispatchEvent(new Event('online'))"
LOCKS = (
    "async () => { const { held, pending } = await navigator.locks.query(); return [held.length,"
    " pending.length]; }"
)
LOSE = """() => {
  const plain = window.fetch;
  window.fetch = async (...asked) => {
    const answer = await plain(...asked);
    if (asked[1]?.method !== 'POST') return answer;
    window.fetch = plain;
    throw new TypeError('cut');
  };
}"""


@pytest.fixture
def page(phone: Pocket, store: Store, clock: Clock) -> Page:
    """Ben at the bench; the pair's left boot is item 1."""
    boots = pair(store, Act(clock.now))
    assert (boots.left, boots.right) == (1, 2)
    return phone.sign_in("BE")


def prepare(page: Page, liquid: str) -> None:
    page.fill("[name=prepared_with]", liquid)
    page.locator("details.step form button.next").first.tap()


def test_tries_do_not_queue_up_behind_a_shop_that_never_answers(phone: Pocket, page: Page) -> None:
    """The network comes back again and again while one try hangs: none waits behind it, and the
    next try is given longer.
    """
    page.goto(f"{phone.address}/items/1?do=finding")
    phone.context.set_offline(True)
    see(page, "a scratch")
    until(page, lambda: page.input_value("[name=note]") == "")
    hung: list[Route] = []
    page.route("**/api/csrf", lambda route: hung.append(route))
    page.evaluate(
        "() => { window.given = []; const plain = AbortSignal.timeout; AbortSignal.timeout = (ms)"
        " => { window.given.push(ms); return plain.call(AbortSignal, 700); }; }"
    )
    phone.context.set_offline(False)
    for _ in range(5):
        page.evaluate(WOKEN)
    until(page, lambda: page.evaluate(LOCKS) == [1, 0])
    until(page, lambda: page.evaluate(LOCKS) == [0, 0])
    page.evaluate(WOKEN)
    until(page, lambda: page.evaluate("window.given.slice(-2)") in ([10000, 20000], [20000, 40000]))
    for route in hung:
        with suppress(Exception):
            route.abort()


def test_what_the_shop_fails_at_again_and_again_lets_the_rest_pass(
    phone: Pocket, page: Page, store: Store
) -> None:
    """Its machine stumbles over one of two: at the third time that one is set aside, with the word
    to tell the owner.
    """
    page.goto(f"{phone.address}/items/1?do=finding")
    phone.context.set_offline(True)
    for note in ("it stumbles", "it passes"):
        see(page, note)
        until(page, lambda: page.input_value("[name=note]") == "")

    def stumble(route: Route) -> None:
        if "stumbles" in (route.request.post_data or ""):
            route.fulfill(
                status=500,
                headers={"Outbox": "refused"},
                content_type="text/html",
                body="<p role=alert>Tell the owner the word 1f.</p>",
            )
        else:
            route.fallback()

    page.route("**/finding", stumble)
    phone.context.set_offline(False)

    def look() -> bool:
        page.evaluate(WOKEN)
        return len(phone.kept(page)) == 1

    until(page, look)
    assert [one.note for one in findings.of_item(store, 1)] == ["it passes"]
    assert phone.kept(page)[0]["refused"]["sentence"] == "Tell the owner the word 1f."


def test_a_change_of_what_arrived_after_all_is_not_taken_as_a_second(
    phone: Pocket, page: Page, store: Store
) -> None:
    """The answer was lost and the form changed: the shop says that it has it already, not that
    somebody else wrote.
    """
    page.goto(f"{phone.address}/items/1?do=prepare")
    page.evaluate(LOSE)
    prepare(page, "mink oil")
    page.get_by_role("button", name="Change what I typed").tap()
    with page.expect_navigation():
        prepare(page, "water")
    page.get_by_text("This form was saved before with another text").first.wait_for()
    assert [one["prepared_with"] for one in store.rows("SELECT prepared_with FROM rounds")] == [
        "mink oil"
    ]


def test_what_is_refused_while_its_form_rests_says_so_there(
    phone: Pocket, page: Page, store: Store
) -> None:
    """The boot was put on its tree meanwhile: the form no longer says that it goes out by
    itself.
    """
    page.goto(f"{phone.address}/items/1?do=prepare")
    phone.context.set_offline(True)
    prepare(page, "mink oil")
    page.get_by_text("Safe on this phone").wait_for()
    with store.write_tx():
        store.change("items", 1, state="on-tree")
    phone.context.set_offline(False)
    page.get_by_text("The shop could not save this").wait_for()
    assert page.get_by_text("Safe on this phone").count() == 0
    assert page.get_by_role("link", name="See what is waiting").get_attribute("href") == "/unsent"


def test_a_refusal_that_never_reached_the_person_still_needs_a_look(
    phone: Pocket, page: Page, store: Store
) -> None:
    """The shop's page with everything typed was cut off on its way: the row counts until that page
    has come.
    """
    page.goto(f"{phone.address}/items/1?do=prepare")
    with store.write_tx():
        store.change("items", 1, state="on-tree")
    page.route(
        "**/prepare",
        lambda route: route.abort() if route.request.is_navigation_request() else route.fallback(),
    )
    with page.expect_event("requestfailed", lambda request: request.is_navigation_request()):
        prepare(page, "mink oil")
    page.unroute("**/prepare")
    page.goto(f"{phone.address}/unsent")
    page.locator("[data-outbox]").get_by_text("1 to fix", exact=True).wait_for()
    with page.expect_navigation():
        page.get_by_role("button", name="Fix and save").tap()
    assert page.get_by_role("heading", level=1).inner_text() == "One question first"
    until(page, lambda: page.locator("[data-outbox]").inner_text() == "All sent")


def test_opened_again_without_the_shop_it_stays_whose_it_was(phone: Pocket, page: Page) -> None:
    """The bench opens what the counter typed; the shop cannot be asked, so nothing has changed
    hands.
    """
    page.goto(f"{phone.address}/unsent")
    controlled(page)
    refused = {"code": 409, "sentence": "Somebody else was signed in.", "shown": False}
    keep(
        page,
        {
            "n": 1,
            "id": "of-the-counter",
            "url": "/items/1/finding",
            "body": "note=a+scratch",
            "by": "1",
            "at": 1,
            "words": "Seen",
            "refused": refused,
        },
    )
    page.reload()
    phone.context.set_offline(True)
    page.get_by_role("button", name="Fix and save").tap()
    page.get_by_text("No connection. The phone tries again").wait_for()
    (row,) = phone.kept(page)
    assert (row["by"], row["refused"]["code"]) == ("1", 409)


def test_signing_out_with_something_left_asks_once(phone: Pocket, page: Page) -> None:
    page.goto(f"{phone.address}/me")
    keep(page, {"id": "half-of-a-row", "url": None})
    asked: list[str] = []

    def no(dialog: Dialog) -> None:
        asked.append(dialog.message)
        dialog.dismiss()

    page.on("dialog", no)
    page.get_by_role("button", name="Sign out").tap()
    until(page, lambda: bool(asked))
    page.wait_for_timeout(700)
    assert len(asked) == 1
    assert len(phone.kept(page)) == 1


def test_a_page_that_a_browser_brings_back_as_it_was_left_can_be_saved_from_again(
    phone: Pocket, page: Page, store: Store
) -> None:
    """Left in the middle of a save and brought back by Back, its form is neither dead nor the first
    save once more.
    """
    page.goto(f"{phone.address}/items/1?do=finding")
    left = page.evaluate(
        "() => { const form = document.querySelector('form[data-queue]'); form.dataset.busy = '';"
        " form.inert = true; return form.elements.submission_id.value; }"
    )
    page.evaluate("dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    assert page.input_value("[name=submission_id]") != left
    see(page, "a scratch")
    until(page, lambda: [one.note for one in findings.of_item(store, 1)] == ["a scratch"])
