"""The job from pickup to the end of the guarantee: handed over, worn in by the customer's page, and
back for another look.
"""

from __future__ import annotations

from browser.whole_job.watched_phone import Phone
from icalendar import Calendar
from support.cast import Clock

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.store import contacts, items, tickets
from fitcounter.store.database import Store


def pickup_not_ready(counter: Phone, ticket_id: int) -> None:
    counter.go(f"/pickup/{ticket_id}")
    assert counter.say("Not ready yet: {items}.", items="").rstrip(" .") in counter.page.content()


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
