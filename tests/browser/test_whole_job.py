"""The whole job on one real ticket: from the door to the end of the guarantee, in a browser on a
phone, over real HTTPS; in each language of the shop, with no word of the other one on any page or
paper on the way.

Every form goes out as it does in a shop: with the browser's own Origin, under a cookie that travels
by HTTPS alone; her page sends no referrer. A cookie that the browser does not take stops it at the
door, a check that wants a referrer on HTTPS at her page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from icalendar import Calendar
from playwright.sync_api import Page
from support.cast import PASSPHRASE, Clock
from support.paper_text import text_of
from support.said_on_pages import foreign, said_of_the_other, texts_of, texts_of_paper
from support.served_shop import open_shop

from fitcounter.desk import shop
from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common import translation
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.store import contacts, items, rounds, tickets
from fitcounter.store.database import Act, Store, utc_text

pytestmark = pytest.mark.browser
TYPED = (
    "Marisol Okafor-Lind",
    "chestnut tall boots",
    "tan shoulder bag",
    "new zip",
    "for a wedding",
    "conditioner",
    "shaper 2",
    "rubs at the ankle",
    "tight again",
    *("Bench", "boots", "bag"),  # of the shop's name and what is above, on a line of its own
)


class Language:
    """What everybody in the shop reads, and the sentences that nobody there may see."""

    def __init__(self, locale: str) -> None:
        self.locale, self.code = locale, locale[:2]
        self.say = translation.speech(locale).say
        self._others = foreign(said_of_the_other(self.code), TYPED)

    def alone(self, texts: list[str]) -> None:
        """Nothing of the other language is among them."""
        assert not [*self._others.among(texts)]


# In Spanish in the slow form: the words of every page are compared by
# tests/system/test_both_languages.py, their room by test_large_letters.py.
@pytest.fixture(params=["en_US", pytest.param("es_ES", marks=pytest.mark.slow)])
def language(request: pytest.FixtureRequest) -> Language:
    return Language(request.param)


@pytest.fixture
def address(
    store: Store,
    tmp_path: Path,
    clock: Clock,
    language: Language,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[str]:
    shop.choose(store, Act(clock.now), limits="usual", hold_h=48, locale=language.locale)
    # weeks go by, and each shift begins with a passphrase: how long a guess at it takes is tested
    # elsewhere
    monkeypatch.setattr(
        passphrase_and_pin,
        "_scrypt",
        lambda secret, salt, method=passphrase_and_pin.POLICY: secret + salt,
    )
    with store.write_tx():
        store.db.execute(
            "UPDATE staff SET passphrase_hash = ?", [passphrase_and_pin.hash_secret(PASSPHRASE)]
        )
        for label, side in (("4", "left"), ("9", "right")):
            store.insert("trees", label=label, side=side, size="M")
    with open_shop(tmp_path, clock, https=True) as opened:
        yield opened


class Phone:
    """One person's phone. Every page it opens has a title, one h1 and no sideways scrolling."""

    def __init__(self, page: Page, address: str, language: Language) -> None:
        self.page = page
        self.address = address
        self.language = language
        self.initials = ""

    def say(self, sentence: str, **values: object) -> str:
        return self.language.say(sentence, **values)

    def reads(self, sentence: str, **values: object) -> bool:
        """Whether this sentence, said in the shop's language, is on the page."""
        return self.say(sentence, **values) in " ".join(self.page.content().split())

    def sign_in(self, initials: str) -> Phone:
        self.initials = initials
        self.page.goto(self.address + "/sign-in")
        self.page.fill("[name=initials]", initials)
        self.page.fill("[name=passphrase]", PASSPHRASE)
        self.press(self.say("Sign in"))
        return self

    def go(self, path: str) -> None:
        """Opens a page; signs in again where the shift has ended."""
        self.page.goto(self.address + path)
        if "/sign-in" in self.page.url:
            self.sign_in(self.initials)
            self.page.goto(self.address + path)
        self.look()

    def look(self) -> None:
        assert self.page.title()
        assert self.page.locator("h1").count() == 1, self.page.url
        assert self.page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (
            self.page.url
        )
        unlabelled = (
            "[...document.querySelectorAll('input:not([type=hidden]),select,textarea')].filter(e =>"
            " !e.labels.length && !e.ariaLabel).map(e => e.name)"
        )
        assert self.page.evaluate(unlabelled) == [], self.page.url
        self.language.alone(texts_of(self.page.content(), self.language.code))

    def press(self, name: str) -> None:
        with self.page.expect_navigation():
            self.page.get_by_role("button", name=name, exact=False).first.tap()
        self.look()

    def send(self, form: str, **typed: str) -> None:
        """Opens what is folded, fills the named fields of one form and sends it by its own
        button.
        """
        self.page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        found = self.page.locator(f"form[action$='{form}']").last
        for name, value in typed.items():
            field = found.locator(f"[name='{name}']")
            kind = field.first.evaluate("e => e.type")
            if kind in ("radio", "checkbox"):
                found.locator(f"[name='{name}'][value='{value}']").check(force=True)
            elif kind == "select-one":
                field.select_option(value)
            elif kind == "submit":
                with self.page.expect_navigation():
                    found.locator(f"[name='{name}'][value='{value}']").tap()
                return self.look()
            else:
                field.fill(value)
        with self.page.expect_navigation():
            found.evaluate(
                "form => form.requestSubmit(form.querySelector('button.next, button.full') ||"
                " undefined)"
            )
        return self.look()

    def step(self, item_id: int, step: str, **typed: str) -> None:
        """One step of one boot from its own page."""
        self.go(f"/items/{item_id}?do={step}")
        self.send(f"/items/{item_id}/{step}", **typed)
        assert f"/items/{item_id}?" in self.page.url, self.page.content()

    def fetch(self, path: str) -> bytes:
        answer = self.page.request.get(path if path.startswith("http") else self.address + path)
        assert answer.ok, (path, answer.status)
        return answer.body()


def over_https(open_page: Callable[..., Page], address: str, language: Language) -> Page:
    """The test's browser does not know the shop's authority (test_certificate.py), and fetches no
    worker from one it does not know.
    """
    locale = language.locale.replace("_", "-")
    page = open_page("about:blank", ignore_https_errors=True, locale=locale)
    page.context.add_init_script("delete Navigator.prototype.serviceWorker")
    page.goto(address)
    return page


def qr_of(pdf: bytes) -> list[str]:
    """Every square on every page, read from a 300 dpi picture."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        found += [one.text for one in zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil())]
    return found


def test_the_whole_job_from_the_door_to_the_end_of_the_guarantee(
    address: str,
    open_page: Callable[..., Page],
    store: Store,
    clock: Clock,
    language: Language,
):
    page = over_https(open_page, address + "/sign-in", language)
    counter = Phone(page, address, language).sign_in("CO")
    ticket_id, fit_id = take_in(counter, store)
    measure(counter, fit_id)
    agree(counter, ticket_id, fit_id, store)
    left, right, bag = (
        one.id
        for one in sorted(
            items.of_ticket(store, ticket_id), key=lambda one: (one.letter, one.side or "")
        )
    )
    her_link = check_papers(counter, ticket_id, store)
    stranger = Phone(over_https(open_page, her_link, language), address, language)
    assert stranger.reads("At the shop, next in line.")

    page = over_https(open_page, address + "/sign-in", language)
    bench = Phone(page, address, language).sign_in("BE")
    weeks = Weeks(clock, store)
    a_round(
        bench,
        left,
        "4",
        weeks,
        before="14 1/4",
        first="14 1/2",
        top="14 3/4",
        rested="14 1/2",
        hold_h=48,
    )
    bench.step(left, "another-round")
    a_round(
        bench,
        left,
        "4",
        weeks,
        before="",
        first="14 3/4",
        top="14 15/16",
        rested="14 3/4",
        hold_h=48,
    )
    a_round(
        bench,
        right,
        "9",
        weeks,
        before="14 1/4",
        first="14 1/2",
        top="14 3/4",
        rested="14 5/8",
        hold_h=48,
    )
    for item_id in (left, right):
        finish(bench, item_id)
    assert (
        store.value("SELECT count(*) FROM rounds WHERE rested_um IS NOT NULL AND rested_counts = 1")
        == 3
    )
    assert len(rounds.turns_of_item(store, left)) == 4

    pickup_not_ready(counter, ticket_id)
    bag_done(bench, bag)
    hand_over(counter, ticket_id, (left, right, bag), store)
    her_calendar(stranger, her_link, store, ticket_id, clock)
    comeback(counter, left, store, clock)


def take_in(counter: Phone, store: Store) -> tuple[int, int]:
    counter.go("/new")
    form = {
        "phone": "(555) 010-0142",
        "name": "Marisol Okafor-Lind",
        "needed_by": "2026-05-01",
        "description": "chestnut tall boots",
    }
    bag = {
        "things-0-kind": "bag",
        "things-0-description": "tan shoulder bag",
        "things-0-jobs": "new zip",
        "things-0-day": "2026-04-02",
    }
    counter.send(
        "/new", **form, material="supple-full-grain", note="for a wedding", nothing_seen="y", **bag
    )
    fit_id = store.value("SELECT max(id) FROM fits")
    assert f"/fits/{fit_id}/measure" in counter.page.url
    return store.value("SELECT max(id) FROM tickets"), fit_id


def measure(counter: Phone, fit_id: int) -> None:
    """By leg at three heights, both sides, and both boots at the same heights."""
    counter.go(f"/fits/{fit_id}/measure?how=leg&depth=whole")
    names = counter.page.locator("[name^=height_]")
    heights = {names.nth(n).input_value(): n for n in range(names.count())}
    assert heights
    legs = {"7": "10", "9 1/2": "12 1/2", "12": "14 1/4"}
    boots = {"7": "10 3/8", "9 1/2": "12 1/4", "12": "13 3/4"}
    typed = {}
    rows = list(legs)
    for n, height in enumerate(rows):
        typed[f"height_{n}"] = height
        for side in ("left", "right"):
            typed |= {f"leg_{side}_{n}": legs[height], f"boot_{side}_{n}": boots[height]}
    fill_sheet(counter, typed)
    counter.go(f"/fits/{fit_id}/verdict")


def fill_sheet(counter: Phone, typed: dict[str, str]) -> None:
    page = counter.page
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    for name, value in typed.items():
        page.evaluate(
            "([name, value]) => { const e = document.querySelector(`[name='${name}']`); e.value ="
            " value }",
            [name, value],
        )
    with page.expect_navigation():
        page.locator("form[data-measure]").evaluate("form => form.requestSubmit()")
    counter.look()


def agree(counter: Phone, ticket_id: int, fit_id: int, store: Store) -> None:
    assert (
        counter.page.locator("h1")
        .inner_text()
        .startswith({"en": "Yes", "es": "Sí"}[counter.language.code])
    )
    counter.go(f"/tickets/{ticket_id}/agree")
    page = counter.page
    page.locator("[name$=_amount]").nth(1).fill("45")
    page.fill("[name=deposit]", "40")
    page.locator("[name=method][value=cash]").check(force=True)
    page.fill("[name=name]", "Marisol Okafor-Lind")
    page.locator("[name=agreed]").check(force=True)
    if page.locator("[name=initials]").count():
        page.fill("[name=initials]", "CO")
    counter.press(counter.say("Save the agreement"))
    assert {one.state for one in items.of_ticket(store, ticket_id)} == {"queued"}
    assert store.value("SELECT amount_minor FROM payments") == 4000


def check_papers(counter: Phone, ticket_id: int, store: Store) -> str:
    """The tags open the items for the shop and nothing for a stranger; returns her link from the
    claim check.
    """
    pdf = counter.fetch(f"/tickets/{ticket_id}/tags.pdf")
    number = tickets.get(store, ticket_id).number
    assert str(number) in text_of(pdf)
    addresses = sorted(set(qr_of(pdf)))
    assert len(addresses) == 3
    assert all(one == one.upper() for one in addresses)
    for scanned in addresses:
        counter.page.goto(scanned)
        counter.look()
        assert "Marisol Okafor-Lind" in counter.page.content()
    claim = counter.fetch(f"/tickets/{ticket_id}/claim.pdf")
    for paper in (pdf, claim):
        counter.language.alone(texts_of_paper(paper))
    assert "Marisol" in text_of(claim)
    return next(one for one in qr_of(claim) if "/c/" in one)


@dataclass
class Weeks:
    """What goes by at the bench: time, without a new shift each day. That a shift ends and begins
    with a passphrase again is seen at pickup and where the boot comes back.
    """

    clock: Clock
    store: Store

    def on(self, hours: float) -> None:
        now = self.clock.on(hours=hours)
        at = {"seen_at": utc_text(now), "ends_at": utc_text(now + timedelta(hours=1))}
        with self.store.write_tx():
            for row in self.store.rows("SELECT id FROM sessions WHERE staff_id = 2"):
                self.store.change("sessions", int(row["id"]), None, **at)


def a_round(
    bench: Phone,
    item_id: int,
    tree: str,
    weeks: Weeks,
    *,
    before: str,
    first: str,
    top: str,
    rested: str,
    hold_h: float,
) -> None:
    bench.step(item_id, "prepare", prepared="conditioned", prepared_with="conditioner")
    weeks.on(hours=20)
    typed = {"tree": tree, "on_tree": first, "setting": "6", "mark": "12"} | (
        {"before": before} if before else {}
    )
    bench.step(item_id, "put-on", **typed)
    weeks.on(hours=5)
    bench.step(item_id, "turn-up", girth=top)
    weeks.on(hours=hold_h)
    bench.step(item_id, "take-off", came_out="eased")
    weeks.on(hours=25)
    bench.step(item_id, "measure-again", rested=rested)


def finish(bench: Phone, item_id: int) -> None:
    bench.step(item_id, "done")
    bench.step(item_id, "finish", shaper="shaper 2")
    bench.step(item_id, "shelve", shelf="C2")


def pickup_not_ready(counter: Phone, ticket_id: int) -> None:
    counter.go(f"/pickup/{ticket_id}")
    assert counter.say("Not ready yet: {items}.", items="").rstrip(" .") in counter.page.content()


def bag_done(bench: Phone, item_id: int) -> None:
    bench.step(item_id, "work-done", shelf="C2")


def hand_over(counter: Phone, ticket_id: int, things: tuple[int, ...], store: Store) -> None:
    counter.go(f"/pickup/{ticket_id}")
    assert counter.reads("Everything is ready.")
    page = counter.page
    counter.press(counter.say("Both fit"))
    for item_id in things:
        page.locator(f"#item-{item_id}").check(force=True)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    page.fill("[name=evening]", "19:00")
    counter.press(counter.say("Card"))
    assert tickets.get(store, ticket_id).state == "out"
    assert {one.tried_on for one in items.of_ticket(store, ticket_id)} == {"fits", ""}


def her_calendar(stranger: Phone, link: str, store: Store, ticket_id: int, clock: Clock) -> None:
    first = wear_calendar.current(store, ticket_id, clock.now).plan.to_come[0].start
    events = Calendar.from_ical(stranger.fetch(link + "/calendar.ics")).walk("VEVENT")
    stranger.language.alone(
        [str(event[part]) for event in events for part in ("summary", "description")]
    )
    assert len(events) == 6
    clock.now = first
    stranger.page.goto(link)
    stranger.look()
    assert stranger.say("Today, wear your boots for {length}", length="").strip() in (
        stranger.page.content()
    )
    assert "30 min" in stranger.page.content()
    assert stranger.say("Your left boot gave {size}.", size="").rstrip(" .") in (
        stranger.page.content()
    )
    clock.on(minutes=30)
    stranger.page.get_by_text(stranger.say("I wore them today")).tap()
    stranger.press(stranger.say("Save what I wore"))
    assert [one.state for one in wear_calendar.current(store, ticket_id, clock.now).plan.wears] == [
        "worn",
        "planned",
        "planned",
    ]
    stranger.page.locator("[name=said]").fill("rubs at the ankle")
    stranger.press(stranger.say("Tell the shop"))
    assert "not-right" in [one.kind for one in contacts.follow_ups_of_ticket(store, ticket_id)]


def comeback(counter: Phone, item_id: int, store: Store, clock: Clock) -> None:
    """Back within the guarantee: the boot went back, the hold is free; after its last day the
    ticket closes.
    """
    clock.on(days=60)
    counter.go(f"/items/{item_id}")
    counter.page.get_by_role("link", name=counter.say("Back for another look")).tap()
    counter.page.wait_for_url("**/back")
    typed = {"said": "tight again", f"boot-{item_id}": "14 1/2", f"leg-{item_id}": "14 1/4"}
    for name, value in typed.items():
        counter.page.fill(f"[name={name}]", value)
    counter.press(counter.say("Compare and send to the bench"))
    assert counter.reads("The boot shrank back. The round is free while the guarantee runs.")
    row = store.rows("SELECT * FROM comebacks")[0]
    assert (row["under_guarantee"], row["answer"]) == (1, "boot back")
    assert items.get(store, item_id).state == "queued"
