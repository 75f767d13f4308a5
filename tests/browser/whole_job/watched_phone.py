"""A phone whose every page is looked at, whatever it is opened for: a title, one h1, no sideways
scrolling, a label for every field, and no word of the language that nobody in the shop reads.
"""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page
from support.cast import PASSPHRASE
from support.said_on_pages import foreign, said_of_the_other, texts_of

from fitcounter.desk.common import translation

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
