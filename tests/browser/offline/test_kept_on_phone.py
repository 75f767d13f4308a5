"""What was typed without network stays where it is until it is safe: on its page, or on the phone,
where it can be changed and brought back, and goes at signing out.
"""

from __future__ import annotations

import json

import pytest
from browser.offline_cast import Pocket, Shelf, see, until
from playwright.sync_api import Dialog
from support.bench_cast import pair
from support.cast import Clock

from fitcounter.store import findings
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


def test_a_phone_without_room_leaves_the_form_on_its_page(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """It cannot keep the form and cannot send it: what was typed stays there, and the same tap
    saves it once the network is back.
    """
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding", wait_until="networkidle")
    page.evaluate(
        "() => { IDBFactory.prototype.open = () => { throw new DOMException('full',"
        " 'QuotaExceededError'); }; }"
    )
    page.evaluate(
        "() => { IDBDatabase.prototype.transaction = () => { throw new DOMException('full',"
        " 'QuotaExceededError'); }; }"
    )
    phone.context.set_offline(True)
    see(page, "a scratch")
    page.get_by_text("What you typed stays here").wait_for()
    assert page.input_value("[name=note]") == "a scratch"

    phone.context.set_offline(False)
    with page.expect_navigation():
        page.locator("details.step form button.next").tap()
    assert [one.note for one in findings.of_item(store, boots.left)] == ["a scratch"]


def test_a_form_can_be_changed_while_it_waits(phone: Pocket, store: Store, clock: Clock) -> None:
    """Saved without network, thought better of, saved again: only the second is sent."""
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=prepare")
    phone.context.set_offline(True)
    for liquid in ("neat's foot", "conditioner"):
        page.fill("[name=prepared_with]", liquid)
        page.locator("details.step form button.next").first.tap()
        page.get_by_text("Safe on this phone").wait_for()
        if liquid != "conditioner":
            page.get_by_role("button", name="Change what I typed").tap()
    assert len(phone.kept(page)) == 1
    phone.context.set_offline(False)
    page.get_by_text("Sent.", exact=True).wait_for()
    assert [one["prepared_with"] for one in store.rows("SELECT prepared_with FROM rounds")] == [
        "conditioner"
    ]


def test_readings_typed_before_the_phone_threw_the_page_away_come_back(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """Nothing was saved yet; the page opened again has every figure, and once it is saved the phone
    keeps none.
    """
    fit_id = pair(store, Act(clock.now)).fit_id
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/fits/{fit_id}/measure?how=gap")
    first, second = page.locator("[name^=gap_left]").nth(0), page.locator("[name^=gap_left]").nth(1)
    first.fill("3/8")
    second.fill("1/2")
    page.wait_for_timeout(500)
    page.close()

    page = phone.page(f"/fits/{fit_id}/measure?how=gap")
    page.get_by_text("is back, not saved yet").wait_for()
    assert [page.locator("[name^=gap_left]").nth(n).input_value() for n in (0, 1)] == ["3/8", "1/2"]
    with page.expect_navigation():
        page.locator("form[data-measure]").evaluate("form => form.requestSubmit()")
    page.goto(f"{phone.address}/fits/{fit_id}/measure?how=gap")
    assert page.get_by_text("it is back").count() == 0


def test_a_form_that_cannot_wait_stays_on_its_page(
    phone: Pocket, shelf: Shelf, store: Store, clock: Clock
) -> None:
    """New job needs the shop: with the server gone nothing typed is lost, and with the server back
    the same tap saves it.
    """
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/new")
    page.fill("[name=phone]", "(412) 555-0142")
    page.fill("[name=name]", "Marisol Okafor-Lind")
    page.locator("[name=nothing_seen]").check(force=True)
    shelf.kill()
    page.get_by_role("button", name="Open the ticket").tap()
    page.get_by_text("What you typed stays here").wait_for()
    assert page.input_value("[name=name]") == "Marisol Okafor-Lind"

    shelf.start()
    with page.expect_navigation():
        page.get_by_role("button", name="Open the ticket").tap()
    assert store.value("SELECT count(*) FROM tickets") == 1


def test_what_the_phone_keeps_holds_no_token_and_no_name(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """The row that waits is the form without its token; the words beside it name the boot, not
    her.
    """
    fit_id = pair(store, Act(clock.now)).fit_id
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/fits/{fit_id}/measure?how=gap")
    token = page.input_value("form[data-measure] [name=csrf_token]")
    phone.context.set_offline(True)
    page.locator("[name^=gap_left]").first.fill("3/8")
    page.locator("form[data-measure]").evaluate("form => form.requestSubmit()")
    page.get_by_text("Safe on this phone").wait_for()
    kept = json.dumps(phone.kept(page))
    assert "gap_left_" in kept
    assert "Okafor" not in kept
    assert token not in kept
    assert "csrf" not in kept


def test_signing_out_asks_before_it_wipes_what_waits(
    phone: Pocket, store: Store, clock: Clock
) -> None:
    """No: everything still waits. Yes: this phone keeps nothing of anybody."""
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    page.evaluate(
        """(token) => {
          const made = (tag, fields) => Object.assign(document.createElement(tag), fields);
          const form = made('form', { method: 'post', action: '/sign-out' });
          form.append(made('input', { name: 'csrf_token', value: token }));
          document.body.append(form);
        }""",
        page.input_value("[name=csrf_token] >> nth=0"),
    )
    phone.context.set_offline(True)
    see(page, "a scratch")
    until(page, lambda: len(phone.kept(page)) == 1)
    asked: list[str] = []

    def answer(dialog: Dialog) -> None:
        asked.append(dialog.message)
        (dialog.accept if len(asked) > 1 else dialog.dismiss)()

    page.on("dialog", answer)
    leave = "document.querySelector('form[action=\"/sign-out\"]').requestSubmit()"
    page.evaluate(leave)
    until(page, lambda: len(asked) == 1)
    assert len(phone.kept(page)) == 1
    page.evaluate(leave)
    until(page, lambda: len(asked) == 2)
    until(page, lambda: phone.kept(page) == [])
    assert asked == ["Not saved in the shop yet: 1. Sign out and lose them?"] * 2
    assert findings.of_item(store, boots.left) == []
