"""The calendar that the customer takes from the page: into the phone's own, as a page to save, on
paper.
"""

from __future__ import annotations

from icalendar import Calendar
from support.cast import Clock, Counter
from support.paper_text import text_of
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import comeback
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.store.database import Act, Store


def test_page_saved_page_and_paper_write_hours_as_the_shop_does_in_spanish_too(
    stranger: Counter, home: str
) -> None:
    """An American shop's Spanish customer read "6:00 p. m." above and "18:00" below."""
    for path in ("", "/calendar.html"):
        page = stranger.get(f"/c/{home}{path}?language=es").text.replace("\u00a0", " ")
        assert "de 6:00 p. m. a 6:30 p. m." in page
        assert "p. m.." not in page
        assert ">de 18:00" not in page


def test_her_phones_calendar_has_one_event_a_wear(stranger: Counter, home: str):
    answer = stranger.get(f"/c/{home}/calendar.ics")
    assert answer.mimetype == "text/calendar"
    events = Calendar.from_ical(answer.data).walk("VEVENT")
    assert [str(one["summary"]) for one in events][:3] == [
        f"Boots on for 30 minutes ({n} of 3)" for n in (1, 2, 3)
    ]


def test_before_pickup_there_is_no_calendar_to_take(stranger: Counter, token: str):
    assert stranger.get(f"/c/{token}/calendar.ics").status_code == 404


def test_the_page_to_save_and_the_paper_have_the_same_days(stranger: Counter, home: str):
    saved = stranger.get(f"/c/{home}/calendar.html")
    paper = stranger.get(f"/c/{home}/calendar.pdf?paper=a4")
    assert (saved.mimetype, paper.mimetype) == ("text/html", "application/pdf")
    assert "attachment" in saved.headers["Content-Disposition"]
    printed = text_of(paper.data)
    for day in ("Mar 17", "Mar 18", "Mar 19", "Mar 20"):
        assert day in saved.text
        assert day in printed
    assert stranger.get(f"/c/{home}/calendar.doc").status_code == 404


def test_an_iphone_opens_the_page_to_save_where_it_can_be_printed(
    stranger: Counter, home: str
) -> None:
    """It shows a saved page without its script, and has no way to print it."""
    iphone = {"User-Agent": "Mozilla/5.0 (iPhone; CPU iPhone OS 17_4 like Mac OS X)"}
    page = stranger.get(f"/c/{home}", headers=iphone).text
    assert "Open a page to print" in page
    assert "Save this page" not in page
    opened = stranger.get(f"/c/{home}/calendar.html", headers=iphone)
    assert opened.headers["Content-Disposition"].startswith("inline")
    policy = opened.headers["Content-Security-Policy"].removesuffix("; frame-ancestors 'none'")
    assert f'content="{policy}"' in opened.text
    assert "Open a page to print" not in stranger.get(f"/c/{home}").text
    assert "attachment" in stranger.get(f"/c/{home}/calendar.html").headers["Content-Disposition"]


def test_boots_that_are_back_have_no_calendar_and_her_phone_takes_the_wears_out(
    counter: Counter, stranger: Counter, store: Store, job: Job, home: str, clock: Clock
):
    before = Calendar.from_ical(stranger.get(f"/c/{home}/calendar.ics").data)
    clock.on(hours=2)
    for item_id in (job.left, job.right):
        typed = comeback.ComebackInput(clock.now, "tight", "15", "", "in")
        comeback.come_back(store, Act(clock.now, 1), item_id, typed, shop.read(store))
    page = stranger.get(f"/c/{home}").text
    assert "At the shop, next in line." in page
    assert "are worn in" not in page
    assert "wear your boots" not in page
    after = Calendar.from_ical(stranger.get(f"/c/{home}/calendar.ics").data)
    old = {str(one["uid"]): one for one in before.walk("VEVENT")}
    for event in after.walk("VEVENT"):
        gone = "guarantee" not in event["uid"]
        assert event["status"] == ("CANCELLED" if gone else "CONFIRMED")
        assert event["sequence"] > old[str(event["uid"])]["sequence"]
        assert not (gone and event.walk("VALARM"))


def test_a_second_pickup_never_has_a_lower_number_than_her_phone_holds(
    stranger: Counter, store: Store, job: Job, home: str, clock: Clock
):
    """RFC 5545 3.8.7.4: a phone's calendar passes over an event whose sequence is below the one it
    has.
    """

    def sequences() -> set[int]:
        return {
            int(one["sequence"])
            for one in Calendar.from_ical(stranger.get(f"/c/{home}/calendar.ics").data).walk(
                "VEVENT"
            )
        }

    clock.on(days=20)
    comeback.come_back(
        store,
        Act(clock.now, 1),
        job.left,
        comeback.ComebackInput(clock.now, "tight", "15", "", "in"),
        shop.read(store),
    )
    before = sequences()
    catch_up(store, Act(clock.now, 1), job.left, "shelved", StepInput(clock.on(days=10)))
    handed = pickup.Handover(
        frozenset({job.left}), clock.now, "Marisol", preset="three-short-wears", hour=18
    )
    pickup.hand_over(store, Act(clock.now, 1), job.ticket_id, handed, shop.read(store))
    assert min(sequences()) > max(before)


def test_her_calendar_on_paper_leads_back_to_her_page(stranger: Counter, home: str):
    import numpy
    import pypdfium2
    import zxingcpp

    paper = pypdfium2.PdfDocument(stranger.get(f"/c/{home}/calendar.pdf").data)
    picture = numpy.asarray(paper[0].render(scale=300 / 72).to_pil().convert("L"))
    codes = sorted(one.text for one in zxingcpp.read_barcodes(picture))
    assert [one.partition("8000")[2] for one in codes] == [f"/c/{home}", f"/c/{home}/calendar.ics"]
    assert {stranger.get(one.partition("8000")[2]).status_code for one in codes} == {200}
    paper.close()
