"""The wearing-in calendar as a file: for the phone's own calendar, as a PDF, and as a page to
save.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.common import mail
from fitcounter.desk.common.contact import tel_uri
from fitcounter.desk.common.translation import say, speech
from fitcounter.desk.customer.calendar import sheet
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.papers.calendar_records import CalendarSheet
from fitcounter.papers.records import Paper
from fitcounter.store.database import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarRequest:
    """Which calendar, and how.

    token: of the customer's link. file_format: ics, pdf or html. language: chosen on the page, ""
    for the customer's own. paper: a4 or letter, else as the shop's country has it. address: of the
    customer's page, for the QR code on paper. link: the same where it opens at home, else "", for
    the phone's calendar. typed: the short one, where it cannot be scanned. large: in large letters,
    on paper.
    """

    token: str
    file_format: str
    language: str = ""
    paper: str = ""
    address: str = ""
    typed: str = ""
    large: bool = False
    link: str = ""


class CalendarFile(NamedTuple):
    """A file to send. mimetype: with its charset. policy: of a page, what it may load."""

    content: bytes
    mimetype: str
    policy: str = ""


def calendar_file(store: Store, shop: Shop, wanted: CalendarRequest, now: datetime) -> CalendarFile:
    """The calendar as it stands now (aware), in the file format that is asked for.

    Raises NotFound; Unavailable where no PDF can be made: the page to save is printed instead.
    """
    days = sheet(store, shop, wanted.token, now, wanted.language)
    words = speech(days.language)
    if wanted.file_format == "ics":
        return _events(store, days, shop, wanted.link, follows=False)
    if wanted.file_format == "html":
        from fitcounter.papers import saved_page

        page = saved_page.calendar_page(days, words.say)
        return CalendarFile(page, "text/html; charset=utf-8", saved_page.policy())
    if wanted.file_format == "pdf":
        from fitcounter.papers.calendar_pdf import calendar_pdf

        sizes: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
        size = sizes.get(wanted.paper, paper_sizes.of_pages(shop))
        phone = f"{wanted.address}/calendar.ics"
        if wanted.link:
            phone = f"{wanted.link.replace('https', 'webcal', 1)}/feed.ics"
        days = replace(days, link=wanted.address, typed=wanted.typed, into_phone=phone)
        pdf = calendar_pdf(days, words.say, size, large=wanted.large)
        return CalendarFile(pdf, "application/pdf")
    raise NotFound(say("This paper does not exist. Go back to your page."))


def calendar_feed(store: Store, shop: Shop, wanted: CalendarRequest, now: datetime) -> CalendarFile:
    """The calendar that a phone asks again: the same bytes until something changes.

    Raises NotFound, also before there is a calendar; Expired.
    """
    days = sheet(store, shop, wanted.token, now, wanted.language)
    return _events(store, days, shop, wanted.link, follows=True)


def _events(
    store: Store, days: CalendarSheet, shop: Shop, link: str, *, follows: bool
) -> CalendarFile:
    """The events with the link of the page, and the shop as who sends them: by its e-mail address
    where it has one, else by its phone.
    """
    from fitcounter.papers.calendar_ics import calendar_ics

    page = speech(days.language).say("Your page: {link}", link=link)
    sender = mail.in_link(mail.sender_of_shop(store))
    held = replace(
        days,
        link=link,
        texts={**days.texts, "page": page},
        follows=follows,
        organizer=f"mailto:{sender}" if sender else tel_uri(shop.phone, shop.country),
    )
    return CalendarFile(calendar_ics(held), "text/calendar; charset=utf-8; method=PUBLISH")
