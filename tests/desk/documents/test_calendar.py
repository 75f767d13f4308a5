"""The calendar as a file and as a feed: what only one of them has."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
import vobject
from support.ticket_rows import Job

from fitcounter.desk.common import link_token
from fitcounter.desk.documents.calendar import CalendarRequest, calendar_feed, calendar_file
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

LINK = "https://boots.example.org/c/AAAA"


@pytest.fixture
def token(store: Store, job: Job, home: object, tmp_path: Path) -> str:
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change("tickets", job.ticket_id, link_hash=link_token.link_hash(made))
    return made


def descriptions(content: bytes) -> set[str]:
    return {one.description.value for one in vobject.readOne(content.decode()).vevent_list}


def test_a_feed_has_no_word_about_copies_and_both_name_the_shop_and_the_page_in_each_event(
    store: Store, choices: Shop, token: str, act: Act
):
    wanted = CalendarRequest(token=token, file_format="ics", link=LINK)
    feed = calendar_feed(store, choices, wanted, act.at).content
    file = calendar_file(store, choices, wanted, act.at).content
    assert all(f"Your page: {LINK}" in words for words in descriptions(feed) | descriptions(file))
    assert not any("does not follow" in words for words in descriptions(feed))
    assert all("does not follow" in words for words in descriptions(file))
    assert feed.count(b"ORGANIZER;CN=") == feed.count(b"BEGIN:VEVENT") > 3


def test_without_an_address_that_opens_at_home_no_event_has_a_link(
    store: Store, choices: Shop, token: str, act: Act
):
    wanted = CalendarRequest(token=token, file_format="ics")
    file = calendar_file(store, choices, wanted, act.at).content
    assert not any("Your page:" in words for words in descriptions(file))


def test_a_format_that_does_not_exist_is_not_found(
    store: Store, choices: Shop, token: str, act: Act
):
    at: datetime = act.at
    with pytest.raises(NotFound):
        calendar_file(store, choices, CalendarRequest(token=token, file_format="doc"), at)
