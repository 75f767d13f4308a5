"""The job at the counter: taken in, measured, agreed, and its papers."""

from __future__ import annotations

import pypdfium2
import zxingcpp
from browser.whole_job.watched_phone import Phone
from support.paper_text import text_of
from support.said_on_pages import texts_of_paper

from fitcounter.store import items, tickets
from fitcounter.store.database import Store


def qr_of(pdf: bytes) -> list[str]:
    """Every square on every page, read from a 300 dpi picture."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        found += [one.text for one in zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil())]
    return found


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
