"""A hand on one phone that counts: a tap and a typed character are one each, a scan is given."""

from __future__ import annotations

from dataclasses import dataclass

from browser.let_in import let_in
from playwright.sync_api import Locator, Page

FOLDED = (
    "e => [...(function* up(n) { for (; n; n = n.parentElement) yield n })(e.parentElement)].some(n"
    " => n.tagName === 'DETAILS' && !n.open && !n.querySelector(':scope > summary')?.contains(e))"
)


@dataclass
class Hand:
    """spent: taps and characters so far; free: those that every budget leaves out, a name and a
    phone number.
    """

    page: Page
    address: str
    spent: int = 0
    scans: int = 0
    free: int = 0

    @classmethod
    def signed_in(cls, page: Page, address: str, initials: str = "OW") -> Hand:
        let_in(page.context, address, initials)
        page.goto(address)
        return cls(page, address)

    def open(self, path: str) -> None:
        """A page on which the job begins."""
        self.page.goto(self.address + path)

    def scan(self, code: str) -> None:
        """The phone's own camera opens the address on the tag."""
        self.scans += 1
        self.open(f"/T/{code}")

    def scan_here(self, code: str, field: str = "#scan", button: str = "") -> None:
        """The scanner of a page writes into its field and sends it."""
        self.scans += 1
        send = (
            "(field, [code, button]) => { field.value = code; field.form.requestSubmit(button ?"
            " field.form.querySelector(button) : undefined) }"
        )
        with self.page.expect_navigation():
            self._seen(field).evaluate(send, [code, button])

    def scan_into(self, code: str, field: str) -> None:
        """The scanner of a page writes into a field of a form that goes with the rest."""
        self.scans += 1
        self._seen(field).fill(code)

    def tap(self, target: str, *, opens: bool = True) -> None:
        """opens: whether another page comes of it."""
        self.spent += 1
        found = self._seen(target)
        if not opens:
            found.tap()
            return
        with self.page.expect_navigation():
            found.tap()

    def type(self, target: str, text: str) -> None:
        """A tap into the field, unless the cursor stands there already, and every character."""
        self._into(target)
        self.spent += len(text)
        self._seen(target).press_sequentially(text)

    def type_free(self, target: str, text: str) -> None:
        """The same for a name or a phone number, whose characters no budget counts."""
        self._into(target)
        self.free += len(text)
        self._seen(target).press_sequentially(text)

    def read(self, text: str) -> None:
        """One reading with our own keys: its whole number, then its fraction; a gap under an inch
        is the fraction alone.
        """
        whole, _, part = text.rpartition(" ")
        if not part.count("/"):
            whole, part = part, "0"
        if whole:
            self.tap(f"[data-pad] [data-whole='{whole}']", opens=False)
        self.tap(f"[data-pad] [data-part='{part}']", opens=False)

    def sign(self, target: str) -> None:
        """One stroke of a finger."""
        self.spent += 1
        box = self._seen(target).bounding_box()
        assert box
        mouse = self.page.mouse
        mouse.move(box["x"] + 30, box["y"] + box["height"] / 2)
        mouse.down()
        for step in range(1, 9):
            mouse.move(box["x"] + 30 + 20 * step, box["y"] + box["height"] / (2 + step % 2))
        mouse.up()

    def _into(self, target: str) -> None:
        found = self._seen(target)
        if not found.evaluate("e => e === document.activeElement"):
            self.spent += 1
            found.tap()

    def _seen(self, target: str) -> Locator:
        """The first of its kind; what is folded away cannot be touched by a person either."""
        found = self.page.locator(target).first
        assert not found.evaluate(FOLDED), f"{target} is folded away"
        return found
