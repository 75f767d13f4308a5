"""Messages on a customer's phone: offered after the first clock, and shown by the page's worker
when its browser hands it one.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from browser.offline_cast import controlled, pocket, until
from playwright.sync_api import Browser, Page
from support.cast import Clock
from support.push_service import ANY_PHONE
from support.served_shop import open_shop
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.messages import push_words
from fitcounter.store import push_phones, pushes, settings, tickets
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
# A browser with a service of its own: this one has none without the internet.
SERVICE = (
    f"const phone = {json.dumps(ANY_PHONE)};"
    + """let held = null;
const made = { endpoint: phone.endpoint, options: { applicationServerKey: null },
  toJSON: () => ({ endpoint: phone.endpoint, keys: phone }), unsubscribe() { held = null; } };
PushManager.prototype.subscribe = async (asked) => {
  made.options.applicationServerKey = asked.applicationServerKey.buffer; held = made; return held;
};
PushManager.prototype.getSubscription = async () => held;
Notification.requestPermission = async () => 'granted';
Object.defineProperty(Notification, 'permission', { get: () => 'granted' });
"""
)
# A Chromium without a window lets nobody show anything: what it is asked to show is kept.
SHOWN = """() => { self.shown = []; self.registration.showNotification = async (title, how) => {
  self.shown.push([title, how.body, how.tag, how.requireInteraction]); }; }"""


@pytest.fixture
def ticket_id(store: Store, tmp_path: Path, clock: Clock) -> int:
    """Fetched in the morning; the first wear is now."""
    act = Act(clock.now, 1)
    job = make_job(store, act)
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    link = {"link_hash": link_token.link_hash(made), "link_until": "2027-12-31T00:00:00Z"}
    with store.write_tx():
        store.change("tickets", job.ticket_id, None, **link)
        settings.put(store, "push", {"on": True, "hosts": ["fcm.googleapis.com"]})
    things = (job.left, job.right, job.bag)
    for item_id in things:
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(
        frozenset(things), act.at, "Marisol", preset="three-short-wears", hour=18
    )
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    clock.on(hours=9)
    return job.ticket_id


def deliver(page: Page, origin: str, words: push_words.PushWords, push: pushes.Push) -> None:
    """Hands the page's worker a push, as its service would."""
    cdp, found = page.context.new_cdp_session(page), list[str]()
    cdp.on(
        "ServiceWorker.workerRegistrationUpdated",
        lambda told: found.extend(one["registrationId"] for one in told["registrations"]),
    )
    cdp.send("ServiceWorker.enable")
    until(page, lambda: bool(found), 10)
    said = {"origin": origin, "registrationId": found[-1], "data": words.payload(push).decode()}
    cdp.send("ServiceWorker.deliverPushMessage", said)


def test_asked_for_after_the_first_clock_and_shown_by_the_worker_of_the_page(
    chromium: Browser, store: Store, ticket_id: int, tmp_path: Path, clock: Clock
) -> None:
    token = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, ticket_id))
    with (
        open_shop(tmp_path, clock) as address,
        pocket(chromium, address, timezone_id="America/New_York") as hers,
    ):
        hers.context.add_init_script(SERVICE)
        page = hers.page(f"/c/{token}")
        page.on("dialog", lambda asked: asked.accept())  # whatever the hour: late, and so?
        controlled(page)
        offer = page.get_by_role("button", name="Tell me on this phone")
        assert not offer.is_visible()
        page.get_by_role("button", name="My boots are on: start the clock").tap()
        offer.tap()
        page.get_by_text("A phone tells you when your boots come off.").wait_for()
        until(page, lambda: bool(pushes.QUEUE.of_ticket(store, ticket_id)))
        (push,) = pushes.QUEUE.of_ticket(store, ticket_id)
        (phone,) = push_phones.of_ticket(store, ticket_id)
        words = push_words.words_of(store, shop.read(store), phone, push, clock.now)
        assert words
        (worker,) = hers.context.service_workers
        worker.evaluate(SHOWN)
        deliver(page, address, words, push)
        until(page, lambda: bool(worker.evaluate("self.shown")), 10)
        tag = push_words.topic(push.event)
        assert worker.evaluate("self.shown") == [[words.title, words.body, tag, True]]
        page.get_by_role("button", name="I started by mistake").tap()
        until(page, lambda: pushes.QUEUE.of_ticket(store, ticket_id)[0].state == "dropped")
