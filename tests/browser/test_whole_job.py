"""The whole job on one real ticket: from the door to the end of the guarantee, in a browser on a
phone, over real HTTPS; in each language of the shop, with no word of the other one on any page or
paper on the way.

Every form goes out as it does in a shop: with the browser's own Origin, under a cookie that travels
by HTTPS alone; her page sends no referrer. A cookie that the browser does not take stops it at the
door, a check that wants a referrer on HTTPS at her page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser.whole_job.at_counter import agree, check_papers, measure, take_in
from browser.whole_job.from_pickup import comeback, hand_over, her_calendar, pickup_not_ready
from browser.whole_job.on_bench import Weeks, a_round, bag_done, finish
from browser.whole_job.watched_phone import Language, Phone, over_https
from playwright.sync_api import Page
from support.cast import PASSPHRASE, Clock
from support.served_shop import open_shop

from fitcounter.desk import shop
from fitcounter.desk.staff import passphrase_and_pin
from fitcounter.store import items, rounds
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


# In Spanish in the slow form: the words of every page are compared by
# tests/system/test_both_languages.py, their room by test_large_letters.py.
@pytest.fixture(params=["en_US", pytest.param("es_ES", marks=pytest.mark.slow)])
def language(request: pytest.FixtureRequest) -> Language:
    return Language(request.param)


@pytest.fixture
def address(
    store: Store,
    tmp_path: Path,
    clock: Clock,
    language: Language,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[str]:
    shop.choose(store, Act(clock.now), limits="usual", hold_h=48, locale=language.locale)
    # weeks go by, and each shift begins with a passphrase: how long a guess at it takes is tested
    # elsewhere
    monkeypatch.setattr(
        passphrase_and_pin,
        "_scrypt",
        lambda secret, salt, method=passphrase_and_pin.POLICY: secret + salt,
    )
    with store.write_tx():
        store.db.execute(
            "UPDATE staff SET passphrase_hash = ?", [passphrase_and_pin.hash_secret(PASSPHRASE)]
        )
        for label, side in (("4", "left"), ("9", "right")):
            store.insert("trees", label=label, side=side, size="M")
    with open_shop(tmp_path, clock, https=True) as opened:
        yield opened


def test_the_whole_job_from_the_door_to_the_end_of_the_guarantee(
    address: str,
    open_page: Callable[..., Page],
    store: Store,
    clock: Clock,
    language: Language,
):
    page = over_https(open_page, address + "/sign-in", language)
    counter = Phone(page, address, language).sign_in("CO")
    ticket_id, fit_id = take_in(counter, store)
    measure(counter, fit_id)
    agree(counter, ticket_id, fit_id, store)
    left, right, bag = (
        one.id
        for one in sorted(
            items.of_ticket(store, ticket_id), key=lambda one: (one.letter, one.side or "")
        )
    )
    her_link = check_papers(counter, ticket_id, store)
    stranger = Phone(over_https(open_page, her_link, language), address, language)
    assert stranger.reads("At the shop, next in line.")

    page = over_https(open_page, address + "/sign-in", language)
    bench = Phone(page, address, language).sign_in("BE")
    weeks = Weeks(clock, store)
    a_round(
        bench,
        left,
        "4",
        weeks,
        before="14 1/4",
        first="14 1/2",
        top="14 3/4",
        rested="14 1/2",
        hold_h=48,
    )
    bench.step(left, "another-round")
    a_round(
        bench,
        left,
        "4",
        weeks,
        before="",
        first="14 3/4",
        top="14 15/16",
        rested="14 3/4",
        hold_h=48,
    )
    a_round(
        bench,
        right,
        "9",
        weeks,
        before="14 1/4",
        first="14 1/2",
        top="14 3/4",
        rested="14 5/8",
        hold_h=48,
    )
    for item_id in (left, right):
        finish(bench, item_id)
    assert (
        store.value("SELECT count(*) FROM rounds WHERE rested_um IS NOT NULL AND rested_counts = 1")
        == 3
    )
    assert len(rounds.turns_of_item(store, left)) == 4

    pickup_not_ready(counter, ticket_id)
    bag_done(bench, bag)
    hand_over(counter, ticket_id, (left, right, bag), store)
    her_calendar(stranger, her_link, store, ticket_id, clock)
    comeback(counter, left, store, clock)
