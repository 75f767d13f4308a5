"""What makes the page the customer's own, on their phone, with network and without, in English and
in Spanish: every state after one visit, where things are, photos, paper, letters twice as large.
"""

from __future__ import annotations

from dataclasses import asdict
from datetime import timedelta
from pathlib import Path

import pytest
from browser.customer.test_wear_states import LEAST_PX, SMALL
from browser.customer.their_phone import (
    HOLD,
    LINKS,
    LOCALES,
    NO_NETWORK,
    START,
    Theirs,
    no_network_at,
)
from browser.customer.wear_cast import Phones
from browser.offline_cast import until
from browser.pages.large_letters import HIGH, NARROW, TWICE, Crowding
from support.her_states import Hers, every_state

from fitcounter.store import photos

pytestmark = pytest.mark.browser
SAVED = "Saved {day}. The days may have moved since: your page has them as they are now."
MANIFEST = """async () => (await fetch(document.querySelector('link[rel=manifest]').href)).json()"""
KEEPS = """async () => {
  const scopes = (await navigator.serviceWorker.getRegistrations()).map(({ scope }) => scope);
  const paths = [];
  for (const name of await caches.keys()) {
    const kept = await (await caches.open(name)).keys();
    paths.push(...kept.map(({ url }) => new URL(url).pathname));
  }
  return [scopes, paths.filter((path) => !path.startsWith('/static/')).sort()];
}"""
KEPT_OFFLINE = """async () => (
  (await (await caches.match(`${location.pathname}/offline?language=LANGUAGE`))?.text()) ?? ''
)"""


def reads_the_same(their: Theirs) -> str:
    """What the page says, which is what it says without network."""
    their.open()
    said = their.page.inner_text("main")
    their.go(away=True)
    their.open()
    assert their.page.inner_text("main") == said
    their.go(away=False)
    return said


# Their own place


def test_every_state_reads_the_same_without_network(their: Theirs) -> None:
    hers = Hers(their.store, their.clock, their.job, their.data_dir, their.shop, their.path)
    seen = []
    for state in every_state(hers):
        if state.address != their.address:
            continue
        if state.started is not None:
            their.open()
            their.started(state.started)
        reads_the_same(their)
        seen.append(state.name)
    assert len(seen) > 18


def test_the_home_screen_and_the_phone_keep_this_page_and_nothing_of_the_staffs(
    their: Theirs,
) -> None:
    their.home()
    their.visit(away=False)
    manifest = their.page.evaluate(MANIFEST)
    assert manifest["name"] == their.say("My boots")
    assert manifest["lang"].startswith(their.words.code)
    assert {manifest["start_url"], manifest["scope"], manifest["id"]} == {their.path}
    scopes, paths = their.page.evaluate(KEEPS)
    assert scopes == [their.address]
    assert paths == [their.path, f"{their.path}/offline"]
    guide = their.page.get_by_text(their.say("Put it on your home screen"))
    guide.tap()
    assert their.sees("Android: open the menu with the three dots, then Add to Home screen.")
    assert their.sees("iPhone: tap Share, then Add to Home Screen.")
    their.go(away=True)
    no_network_at(their, "/mail")
    with their.page.expect_navigation():
        their.page.get_by_role("link", name=their.say("Back to your page")).tap()
    assert their.button(START).is_visible()


def test_the_other_language_is_spoken_without_network_too(their: Theirs) -> None:
    """On their own page for no network as well, which another worker keeps."""
    their.home()
    their.visit(away=False)
    with their.page.expect_navigation():
        their.page.locator("[name=language]").tap()
    (other,) = {"en", "es"} - {their.words.code}
    until(
        their.page,
        lambda: (
            f'<html lang="{other}' in their.page.evaluate(KEPT_OFFLINE.replace("LANGUAGE", other))
        ),
    )
    their.go(away=True)
    for below in ("", "/agreed"):
        their.open(below)
        assert (their.page.get_attribute("html", "lang") or "").startswith(other)


# The shop


def test_where_everything_is_stands_there_with_and_without_network(their: Theirs) -> None:
    """Open until when, on the map; a day that slipped is said with both days; what could not be
    done is never all ready.
    """
    job, words = their.job, their.words
    day = (their.clock.now + timedelta(days=3)).date()
    promised(their, "promised_day", day.isoformat())
    said = reads_the_same(their)
    six = words.clock(their.clock.now.replace(hour=18))
    assert their.say("Open today until {time}.", time=six) in said
    assert words.known("At the shop, next in line.") in said
    links = their.page.evaluate(LINKS)
    assert any("openstreetmap.org/search?query=12%20Quill" in str(one) for one in links)
    their.clock.on(days=7)
    slipped = reads_the_same(their)
    assert their.say("We are sorry: we said {day}, and need longer.", day=words.day(day)) in slipped
    for state, sentence in (
        ("declined", "We could not do this; it is ready to pick up."),
        ("shelved", "Everything is ready for you."),
    ):
        promised(their, "state", state, job.bag)
        said = reads_the_same(their)
        assert their.say(sentence) in said
        assert (their.say("Everything is ready for you.") in said) == (state == "shelved")


def promised(their: Theirs, column: str, value: str, *more: int) -> None:
    with their.store.write_tx():
        for item_id in (their.job.left, their.job.right, *more):
            their.store.change("items", item_id, **{column: value})


# Drawn, sent, printed


def test_what_to_do_is_drawn_and_a_photo_goes_to_the_shop_alone(
    their: Theirs, tmp_path: Path
) -> None:
    their.home()
    their.visit(away=True)
    drawn = their.page.get_by_role(
        "img", name=their.say("Sit, stand, walk around the house. Then let your boots rest.")
    )
    assert drawn.is_visible()
    their.go(away=False)
    their.report()
    their.visit(away=True)
    picture = their.page.screenshot(path=tmp_path / "foot.png")
    assert picture
    their.page.set_input_files("#photo", tmp_path / "foot.png")
    their.refused("Send the photo")
    assert their.page.evaluate("document.querySelector('#photo').files.length") == 1
    their.go(away=False)
    with their.page.expect_navigation():
        their.tap("Send the photo")
    assert len(photos.of_ticket(their.store, their.job.ticket_id)) == 1


def test_the_page_to_save_reads_and_counts_without_network_and_says_from_when_it_is(
    their: Theirs, tmp_path: Path
) -> None:
    their.home()
    their.visit(away=False)
    with their.page.expect_download() as download:
        their.page.get_by_role("link", name=their.say("Save this page")).tap()
    file = tmp_path / "boots.html"
    download.value.save_as(file)
    their.go(away=True)
    their.page.goto(file.as_uri())
    said = their.page.inner_text("main")
    assert their.say(SAVED, day=their.words.day(their.clock.now.date())) in said
    their.page.get_by_role("button", name=their.say(START)).tap()
    until(their.page, lambda: their.page.inner_text("[data-count]") == "30:00")
    their.go(away=False)
    for name in ("Print the calendar", "Print it in large letters"):
        link = their.page.goto(their.address) and their.page.get_by_role(
            "link", name=their.say(name)
        )
        assert link
        address = str(link.get_attribute("href"))
        kind = their.page.evaluate(
            "async (path) => (await fetch(path)).headers.get('Content-Type')", address
        )
        assert kind == "application/pdf"
        their.go(away=True)
        their.page.goto(their.shop + address)
        assert their.h1() == their.say(NO_NETWORK)
        their.go(away=False)


# For every eye and thumb


@pytest.mark.parametrize("language", LOCALES)
def test_what_the_phone_itself_says_finds_its_place_in_letters_twice_as_large(
    phones: Phones, language: str
) -> None:
    """On the narrowest phone, without network: the wear that waits, the clock, the forgotten clock,
    time that is up, boots off; and every target is large enough.
    """
    narrow = {"viewport": {"width": NARROW, "height": HIGH}}
    crowding, small = Crowding(), {}
    with phones.customer(language, **narrow) as their:
        cdp = their.page.context.new_cdp_session(their.page)
        cdp.send("Page.setFontSizes", {"fontSizes": TWICE})
        their.home()
        their.visit(away=True)

        def look(state: str) -> None:
            their.page.evaluate(
                "for (const one of document.querySelectorAll('details')) one.open = true"
            )
            crowding.look(their.page, state)
            small[state] = their.page.evaluate(SMALL, LEAST_PX)

        for state, minutes in (("counting", 10), ("time is up", 31), ("forgotten", 240)):
            their.started(minutes)
            their.open()
            look(state)
        their.page.fill("#minutes", "30")
        their.save("Save what I wore")
        look("told")
        their.page.get_by_label(their.say("Pain"), exact=True).last.check()
        their.tap("Tell the shop")
        until(their.page, lambda: their.h1() == their.say(HOLD))
        look("boots off")
    assert asdict(crowding) == asdict(Crowding(visited=5))
    assert {state: found for state, found in small.items() if found} == {}
