"""The look: every shared part in both themes, at every width, for the thumb, the keyboard and the
screen reader.
"""

from __future__ import annotations

import urllib.request
from collections.abc import Callable, Iterator

import pytest
from browser.conftest import DESK
from browser.pages import barriers
from browser.pages.barriers import Contrasts
from browser.pages.sample_pages import PAGES, sample_site
from playwright.sync_api import Page

pytestmark = pytest.mark.browser
Open = Callable[..., Page]
VISITS = (
    *PAGES,
    "new_job?wrong=1",
    "measure?wrong=1&leg_left_2=145/8&leg_left_3=15+1/2&again=leg_left_3_2&boots=1",
)


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    with sample_site() as address:
        yield address


@pytest.fixture(scope="module")
def contrasts() -> Contrasts:
    return Contrasts()


@pytest.mark.parametrize("visit", VISITS)
def test_no_page_has_a_barrier_that_axe_can_find(
    same_page: Open, site: str, visit: str, contrasts: Contrasts
) -> None:
    """axe-core finds nothing, contrast included, in either theme; what hangs on no colour is looked
    at in one of them.
    """
    page = same_page(f"{site}/{visit}", reduced_motion="reduce")
    barriers.inject(page)
    found = barriers.barred(page, barriers.STRUCTURE)
    found += [one for _, one in contrasts.barred(page)]
    assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in found] == []


@pytest.mark.parametrize("visit", VISITS)
def test_no_page_scrolls_sideways(same_page: Open, site: str, visit: str) -> None:
    """From the narrowest phone to the shop's computer everything fits its width."""
    page = same_page(f"{site}/{visit}", is_mobile=False)
    for width in (320, 360, 560, 900, 1400):
        page.set_viewport_size({"width": width, "height": 780})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("visit", ["measure", "new_job", "today"])
def test_letters_twice_as_large_still_fit(same_page: Open, site: str, visit: str) -> None:
    """Text enlarged to 200 % on a phone of 360 px needs no sideways scrolling."""
    page = same_page(f"{site}/{visit}", viewport={"width": 180, "height": 390}, is_mobile=False)
    assert page.evaluate("document.documentElement.scrollWidth") <= 180


@pytest.mark.parametrize("visit", VISITS)
def test_whatever_is_touched_is_large_enough_for_a_thumb(
    same_page: Open, site: str, visit: str
) -> None:
    """Buttons, links that stand alone, choices and fields are 48 px high; 64 at the bench, but for
    the frame of the page.
    """
    page = same_page(f"{site}/{visit}")
    least = 64 if visit.startswith("bench") else 48
    small = page.evaluate(
        """(least) => [...document.querySelectorAll('main :is(button, .press, .choice, summary,'
            + ' .acts a, .row[href], select), .nav a')]
        .filter((one) => one.checkVisibility()
            && one.getBoundingClientRect().height < (one.closest('.nav') ? 48 : least) - 0.5)
        .map((one) => one.outerHTML.slice(0, 90))""",
        least,
    )
    assert small == []


@pytest.mark.parametrize("visit", VISITS)
def test_every_page_works_as_plain_text_does(site: str, visit: str) -> None:
    """One h1, one next step, a title that names the shop, no style attribute and no inline
    script.
    """
    with urllib.request.urlopen(f"{site}/{visit}") as answer:
        source = answer.read().decode()
    assert source.count("<h1") == 1
    assert source.count('class="next"') <= 1
    assert source.count(" – Quillmarsh Leather Bench</title>") == 1
    assert " style=" not in source
    assert "<script>" not in source


def test_a_wrong_form_says_what_to_type_at_its_field_and_above(same_page: Open, site: str) -> None:
    """The sentence stands at the field, is bound to it for a screen reader, and the list above
    leads there.
    """
    page = same_page(f"{site}/new_job?wrong=1")
    field = page.get_by_label("Phone number")
    assert field.get_attribute("aria-invalid") == "true"
    described = (field.get_attribute("aria-describedby") or "").split()
    assert [page.locator(f"#{one}").inner_text() for one in described] == [
        "The last four find an old customer.",
        "Type her phone number, such as 555 0142.",
    ]
    page.get_by_role("link", name="Phone number").click()
    assert page.evaluate("document.activeElement.id") == "phone"
    page.get_by_role("link", name="Leather").click()
    assert page.evaluate("document.activeElement.name") == "leather"


def test_the_drawing_is_told_in_words(same_page: Open, site: str) -> None:
    """A screen reader gets the pair as one picture with its name and both tightest places."""
    page = same_page(f"{site}/verdict")
    plate = page.get_by_role("img", name="Both boots, from the side")
    told = plate.locator("desc").text_content() or ""
    assert told.count("The tightest place is at 10½ in, short by 1⅛ in.") == 2


def test_a_tablet_gets_two_columns_of_the_same_page(same_page: Open, site: str) -> None:
    """From 900 px the lists stand side by side; on the phone one below the other."""
    tops = "[...document.querySelectorAll('.col')].map((one) => one.getBoundingClientRect().top)"
    wide = same_page(f"{site}/today", **DESK, has_touch=False, is_mobile=False).evaluate(tops)
    narrow = same_page(f"{site}/today").evaluate(tops)
    assert wide[0] == wide[1]
    assert narrow[0] < narrow[1]


def test_on_paper_only_what_is_read_is_left(same_page: Open, site: str) -> None:
    """Printed, a page has no buttons and no places, black on white."""
    page = same_page(f"{site}/pickup")
    page.emulate_media(media="print")
    assert page.locator("button:visible, .nav:visible").count() == 0
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
