"""A customer's page is theirs: its own place on the home screen, its own worker, and a link that
opens nothing says whom to call and nothing else.
"""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from support.cast import Clock, Counter
from support.paths import CHECKOUT
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.store.database import Act, Store
from fitcounter.web.customer.shell import FILES

IMPORTED = re.compile(r"^import (?:[^'\n]+ from )?'\./([\w.]+)'", re.MULTILINE)


def test_the_home_screen_opens_the_customers_own_page_in_their_language(
    stranger: Counter, home: str
) -> None:
    page = stranger.get(f"/c/{home}?language=es").text
    address = re.search(r'rel="manifest" href="([^"]+)"', page)
    assert address
    manifest = stranger.get(address[1].replace("&amp;", "&")).json
    assert manifest
    assert (manifest["start_url"], manifest["scope"]) == (f"/c/{home}",) * 2
    assert manifest["name"] == "Mis botas"
    for icon in manifest["icons"]:
        with stranger.get(icon["src"]) as picture:
            assert picture.mimetype == "image/png"
    for staffs in ("/sw.js", "/static/manifest", "/unsent", "/sign-in"):
        assert f'"{staffs}' not in page


def test_the_worker_keeps_every_file_of_the_page_and_nothing_of_the_staff(
    stranger: Counter, home: str
) -> None:
    answer = stranger.get(f"/c/{home}/sw.js")
    assert answer.headers["Service-Worker-Allowed"] == f"/c/{home}"
    assert "/unsent" not in answer.text
    assert '"/offline"' not in answer.text
    seen, ahead = set[str](), ["offline_count.js", "wear_clock.js"]
    while ahead:
        name = ahead.pop()
        seen.add(f"js/{name}")
        source = (CHECKOUT / "static/js" / name).read_text(encoding="utf-8")
        ahead += [one for one in IMPORTED.findall(source) if f"js/{one}" not in seen]
    assert seen <= set(FILES)
    offline = stranger.get(f"/c/{home}/offline").text
    assert "No connection" in offline
    assert "Okafor" not in offline


def test_how_it_comes_to_the_home_screen_stands_there_before_there_is_a_calendar(
    stranger: Counter, token: str
) -> None:
    page = stranger.get(f"/c/{token}").text
    assert "Day by day" not in page
    assert "Android: open the menu with the three dots, then Add to Home screen." in page
    assert "iPhone: tap Share, then Add to Home Screen." in page


@pytest.mark.parametrize(
    "kind",
    [
        *("mistyped", "revoked", "ended", "too short", "unknown place"),
        *("in capitals", "below a code", "other case"),
    ],
)
def test_a_dead_link_says_whom_to_call_and_nothing_else(
    stranger: Counter, store: Store, job: Job, token: str, clock: Clock, kind: str
) -> None:
    shop.choose(store, Act(clock.now, 1), phone="(555) 010-0100")
    change: dict[str, str] = {
        "revoked": {"link_revoked_at": "2026-03-17T00:00:00Z"},
        "ended": {"link_until": "2026-03-18T00:00:00Z"},
    }.get(kind, {})
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=store.value("SELECT link_hash FROM tickets WHERE id = ?", job.ticket_id),
            **change,
        )
    clock.now += timedelta(days=2)
    path = {"mistyped": f"/c/{token[:-1]}x", "too short": "/c/abc", "unknown place": "/c/a/b/c"}
    path |= {"in capitals": f"/C/{token}", "below a code": "/b/7K3M/x"}
    path |= {"other case": f"/c/{token.swapcase()}"}
    answer = stranger.client.get(
        path.get(kind, f"/c/{token}"), headers={"Accept-Language": "es-MX,es;q=0.9"}
    )
    assert answer.status_code in (404, 410)
    assert 'href="tel:555010-0100"' in answer.text
    assert '<html lang="es' in answer.text
    main = answer.text.partition("<main")[2]
    assert main.count("<a ") == 1
    assert "<form" not in answer.text
    assert "offline_count.js" not in answer.text
    assert "Okafor" not in answer.text


def test_what_a_message_program_adds_to_the_link_is_left_out_of_the_address(
    stranger: Counter, home: str
) -> None:
    """What a phone keeps of the page, its clock too, is kept by the address."""
    for more in (".", "/", ")", ".?language=es"):
        answer = stranger.client.get(f"/c/{home}{more}")
        assert (answer.status_code, answer.location) == (302, f"/c/{home}{more.lstrip('./)')}")


def test_the_worker_is_another_where_another_language_was_chosen(
    stranger: Counter, home: str
) -> None:
    """Its page for no network would go on speaking the old one."""
    english, spanish = (
        re.findall(r'data-worker="([^"]+)"', stranger.get(f"/c/{home}?language={one}").text)[0]
        for one in ("en", "es")
    )
    assert english != spanish
    (kept,) = re.findall(r'OFFLINE = "([^"]+)"', stranger.get(spanish).text)
    offline = stranger.get(kept.replace("\\u0026", "&")).text
    assert "Los precios y los papeles no se guardan en este teléfono." in offline


def test_declined_work_is_never_all_ready_for_you(
    stranger: Counter, store: Store, job: Job, token: str
) -> None:
    for states, words in (
        (("declined", "declined", "declined"), "We could not do this; it is ready to pick up."),
        (("declined", "shelved", "shelved"), "but not everything could be done."),
        (("shelved", "shelved", "shelved"), "Everything is ready for you."),
    ):
        with store.write_tx():
            for item_id, state in zip((job.left, job.right, job.bag), states, strict=True):
                store.change("items", item_id, state=state)
        page = stranger.get(f"/c/{token}").text
        assert words in page
        assert page.count("Everything is ready for you.") == (states[0] == "shelved")


def test_it_says_until_when_the_shop_is_open_today(stranger: Counter, token: str) -> None:
    assert "Open today until 6:00 PM." in stranger.get(f"/c/{token}").text
