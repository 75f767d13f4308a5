"""The front desk on a phone, in the invented shop: found from whatever is at hand, told, called,
handed over, within its taps.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser.conftest import PHONE
from browser.hand import Hand
from playwright.sync_api import Browser, Page
from support.cast import Clock
from support.served_shop import open_shop
from support.whole_shop import NOW

from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Ticket

pytestmark = pytest.mark.browser


@pytest.fixture
def shop(played: Path, tmp_path: Path) -> Iterator[tuple[str, Store]]:
    """The invented shop of this test's own, with its doors open."""
    folder = tmp_path / "shop"
    shutil.copytree(played, folder)
    store = Store(folder / "shop.db")
    with open_shop(folder, Clock(NOW)) as address:
        yield address, store
    store.close()


@pytest.fixture
def desk(shop: tuple[str, Store], open_page: Callable[..., Page]) -> Hand:
    """The owner's phone, signed in at the counter."""
    address, _ = shop
    page = open_page("about:blank")
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=address)
    return Hand.signed_in(page, address)


@pytest.fixture
def store(shop: tuple[str, Store]) -> Store:
    return shop[1]


def of(store: Store, name: str) -> Ticket:
    """The newest ticket of somebody in the story."""
    sql = (
        "SELECT t.id FROM tickets t JOIN customers c ON c.id = t.customer_id WHERE c.name LIKE ?"
        " ORDER BY t.id DESC"
    )
    return tickets.get(store, int(store.value(sql, name + "%")))


def test_marisol_is_found_by_letters_a_slip_her_last_four_or_her_number_and_her_row_answers(
    desk: Hand,
):
    for typed in ("ok", "okafor", "okfaor", "0142", "22"):
        desk.open("/")
        desk.page.fill("#q", typed)
        desk.tap("form[data-find] button")
        answer = desk.page.locator(".row", has_text="Marisol Okafor-Lind").inner_text()
        assert "both boots: on the tree" in answer, typed
        assert "bag: ready, shelf C2" in answer, typed
        assert "balance $100" in answer, typed


def test_is_it_ready_takes_four_keys_at_most_and_no_page_also_without_network(
    desk: Hand, store: Store
):
    number = str(of(store, "Rowan").number)
    desk.open("/")
    desk.page.wait_for_function("localStorage.getItem('ready-list')")
    for offline in (False, True):
        desk.page.context.set_offline(offline)
        desk.page.fill("#q", "")
        desk.spent = 0
        desk.type("#q", number)
        desk.page.wait_for_function(
            "document.querySelector('[data-answer]').textContent.includes('all here. Both boots and"
            " belt: ready, shelf C1')"
        )
        assert desk.page.url == desk.address + "/"
        assert desk.spent <= 4
    desk.page.context.set_offline(False)


def test_pair_and_belt_go_over_the_counter_with_four_scans_and_two_taps(desk: Hand, store: Store):
    rowan = of(store, "Rowan")
    desk.scans += 1  # her claim check leads to her number
    desk.open(f"/pickup/{rowan.id}")
    desk.tap("button:has-text('Both fit')")
    for item in items.of_ticket(store, rowan.id):
        tag = tags.of_item(store, item.id)
        assert tag is not None
        desk.scan_here(tag.code, button="[name=strike]")
    desk.tap("form[data-pickup] button[value=card]")
    assert tickets.get(store, rowan.id).state == "out"
    assert (
        store.value("SELECT sum(amount_minor) FROM payments WHERE ticket_id = ?", rowan.id) == 10700
    )
    assert (desk.scans, desk.spent) == (4, 2)
    desk.open("/")
    desk.tap("summary:has-text('Picked up today')", opens=False)
    fetched = desk.page.locator("section", has_text="Picked up today")
    assert "Rowan Iversholt" in fetched.inner_text()


def test_what_is_ticked_and_typed_stays_when_a_boot_is_said_to_fit(desk: Hand, store: Store):
    """Two forms on one page: sending the one loses nothing of the other.

    The words above the buttons name the sum only while that is what is typed.
    """
    rowan, page = of(store, "Rowan"), desk.page
    first = items.of_ticket(store, rowan.id)[0].id
    desk.open(f"/pickup/{rowan.id}")
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    button = page.locator("form[data-pickup] [data-takes]")
    assert button.inner_text() == "Hand over and take $67"
    page.locator(f"#item-{first}").check(force=True)
    page.fill("[name=collected_by]", "her sister")
    page.fill("[name=paid]", "60")
    assert button.inner_text() == "Hand over"
    desk.tap("button:has-text('Both fit')")
    # put back by the page's script, once it has run
    page.locator(f"#item-{first}:checked").wait_for(state="attached")
    assert items.get(store, first).tried_on == "fits"
    assert (page.input_value("[name=collected_by]"), page.input_value("[name=paid]")) == (
        "her sister",
        "60",
    )
    assert page.evaluate("sessionStorage.length") == 0, "nothing of hers is left behind"
    desk.open(f"/pickup/{rowan.id}")
    assert not page.is_checked(f"#item-{first}")
    assert button.inner_text() == "Hand over and take $67"


def test_what_is_wrong_far_down_a_page_is_brought_into_view(
    shop: tuple[str, Store], chromium: Browser
):
    """The form for days away stands below a long plan; refused, the page shows its sentence and not
    its own top.
    """
    # of its own: a refusal is an error in the browser's console
    context = chromium.new_context(**PHONE, service_workers="block")
    desk = Hand.signed_in(context.new_page(), shop[0])
    desk.open("/bench/plan")
    form = desk.page.locator("form[action$='/bench/away']")
    assert form.evaluate("e => e.getBoundingClientRect().top > 2 * innerHeight")
    with desk.page.expect_navigation():
        form.locator("button").last.tap()
    desk.page.wait_for_function("scrollY > 0")
    seen = desk.page.locator(".errors").first.evaluate(
        "e => [e.getBoundingClientRect().top, innerHeight]"
    )
    context.close()
    assert 0 <= seen[0] < seen[1]


def test_the_answer_is_copied_in_one_tap_and_is_what_a_text_says(desk: Hand, store: Store):
    desk.open(f"/tickets/{of(store, 'Rowan').id}/call")
    desk.tap("[data-copy]", opens=False)
    desk.page.get_by_text("Copied").wait_for()
    words = desk.page.inner_text("#words")
    assert words.startswith(
        "Hi Rowan, this is Quillmarsh Leather Bench. Everything is ready for you"
    )
    assert desk.page.evaluate("navigator.clipboard.readText()") == words
    href = desk.page.get_attribute("a[href^='sms:']", "href") or ""
    assert desk.page.evaluate("href => decodeURIComponent(href.split('body=')[1])", href) == words


def test_one_call_after_another_opens_by_itself_until_nobody_is_left(desk: Hand):
    desk.open("/")
    desk.tap(".row:has-text('Rowan Iversholt')")
    called = []
    while "/call" in desk.page.url:
        called.append(desk.page.inner_text(".which .lead").split("\n")[0])
        desk.tap("button:has-text('Told')")
    assert called == [
        "Rowan Iversholt",  # ready
        "Tobias Renwick",  # late
        "Maeve Corrigan",  # stopped
        "Perpetua Hale",  # could be late
        "Priya Vandermeer",  # will be late
        "Castellane Ruth",  # cancelled, ready to pick up
        "Halvard Bellweather",
        "Greta Solano",  # could not be done
    ]
    assert desk.page.url == desk.address + "/"
    assert desk.page.get_by_text("No calls to make.").is_visible()
    assert desk.spent == 1 + len(called)


def test_the_same_boots_come_again_in_one_tap_with_what_was_read_last_time_beside_empty_fields(
    desk: Hand, store: Store
):
    desk.open(f"/tickets/{of(store, 'Nia').id}")
    desk.tap("button:has-text('Take these boots in again')")
    assert "/measure" in desk.page.url
    assert desk.spent == 1
    desk.tap("summary:has-text('Last time')", opens=False)
    assert desk.page.locator("details[open] table").is_visible()
    assert "Left boot gave" in desk.page.inner_text("main")
    assert (
        desk.page.eval_on_selector_all(
            "[data-tape]", "fields => fields.filter(one => one.value).length"
        )
        == 0
    )


def test_a_list_of_paper_jobs_is_put_in_from_a_file_and_found_by_number_and_name(
    desk: Hand, store: Store, tmp_path: Path
):
    file = tmp_path / "slips.csv"
    file.write_text(
        "number;name;phone;what;where;promised\n801;Ada Lovett;;boots + bag: new zip;shelf"
        " D1;\n802;Ida Noor;;left boot;bench;\n"
    )
    desk.open("/already/list")
    desk.page.set_input_files("#file", file)
    desk.tap("button.next")
    assert "left boot to stretch · waiting for the bench" in desk.page.inner_text("main")
    desk.tap("button:has-text('Add 2 jobs')")
    assert "2 jobs are added" in desk.page.inner_text("body")
    for typed in ("801", "lovett"):
        desk.page.fill("#q", typed)
        desk.tap("form[data-find] button")
        assert "both boots and bag: ready, shelf D1" in desk.page.inner_text("main")


def test_while_they_are_here_is_asked_once_where_the_price_is_agreed(desk: Hand, store: Store):
    ada = of(store, "Bernadette")
    boot = items.of_ticket(store, ada.id)[0]
    with store.write_tx():
        store.insert(
            "findings",
            item_id=boot.id,
            moment="before",
            word="heel-worn",
            seen_at="2026-03-17T14:00:00Z",
        )
    desk.open(f"/tickets/{ada.id}/agree")
    desk.tap("label:has-text('New heel tips, left boot')", opens=False)
    desk.page.fill("[name=sum_heel-worn]", "18")
    desk.tap("label:has-text('The customer has read this')", opens=False)
    desk.tap("form[data-tags] button.next")
    assert "New heel tips, left boot" in desk.page.inner_text("main")
    desk.open(f"/tickets/{ada.id}/agree")
    assert "While they" not in desk.page.inner_text("main")
