"""Her calendar on paper and in her phone: one sheet for the PDF, the phone's own calendar and the
page to save.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer.calendar import sheet
from fitcounter.desk.documents.ticket import paper_of
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.papers.calendar_ics import calendar_ics
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.records import Paper
from fitcounter.papers.saved_page import calendar_page
from fitcounter.store.database import Store


@dataclass(frozen=True, slots=True)
class Made:
    """A file to send. mimetype: with its charset."""

    content: bytes
    mimetype: str


def make(
    store: Store,
    shop: Shop,
    token: str,
    now: datetime,
    form: str,
    language: str,
    paper: str = "",
    link: str = "",
) -> Made:
    """form: ics, pdf or html. paper: a4 or letter, else as the shop's country has it. link: of her
    page, for the square on the paper.

    Raises NotFound; Unavailable where no PDF can be made: the page to save is printed instead.
    """
    told = sheet(store, shop, token, now, language)
    say = speech(told.language).say
    if form == "ics":
        return Made(calendar_ics(told), "text/calendar; charset=utf-8; method=PUBLISH")
    if form == "html":
        return Made(calendar_page(told, say), "text/html; charset=utf-8")
    if form == "pdf":
        sizes: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
        return Made(
            calendar_pdf(replace(told, link=link), say, sizes.get(paper, paper_of(shop))),
            "application/pdf",
        )
    raise NotFound("There is no such paper. Go back to your page.")
