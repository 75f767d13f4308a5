"""The shell on the phone: installable, light, never stale after an update, and nothing of anybody
in what is kept.
"""

from __future__ import annotations

import gzip
import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from browser.conftest import PHONE
from browser.offline_cast import (
    ColdServer,
    Meter,
    Pocket,
    Shelf,
    controlled,
    own_server,
    pocket,
    until,
)
from flask import Flask
from playwright.sync_api import Browser, Page
from support.bench_cast import Pair, pair
from support.cast import Clock, Counter
from support.one_chromium import browser_path
from support.paths import CHECKOUT

from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
ALL_KEPT = """async () => {
  const each = async (keys, ask) => Promise.all((await keys).map(ask));
  const kept = await each(caches.keys(), async (name) => {
    const cache = await caches.open(name);
    const text = async (key) => (await cache.match(key)).text();
    const path = (key) => new URL(key.url).pathname;
    return [name, await each(cache.keys(), async (key) => [path(key), await text(key)])];
  });
  return Object.fromEntries(kept);
}"""


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return pair(store, Act(clock.now))


def kept(page: Page) -> dict[str, list[list[str]]]:
    """Every cache of the phone: address and text of all it holds."""
    found: dict[str, list[list[str]]] = page.evaluate(ALL_KEPT)
    return found


def test_no_staff_page_is_kept_on_the_phone(phone: Pocket, boots: Pair) -> None:
    """After a walk through the shop the caches hold files and two pages of nobody; no name, no
    token.
    """
    page = phone.sign_in("OW")
    controlled(page)
    for path in (
        "/",
        "/new",
        f"/items/{boots.left}",
        f"/tickets/{boots.ticket_id}",
        f"/fits/{boots.fit_id}/measure",
        "/bench",
        "/pickup",
        "/find?q=41",
    ):
        page.goto(phone.address + path)
    everything = [entry for entries in kept(page).values() for entry in entries]
    pages = {path for path, _ in everything if not path.startswith("/static/")}
    assert pages == {"/offline", "/unsent"}
    assert len(everything) > 10
    for path, text in everything:
        assert "Okafor" not in text, path
        assert 'name="csrf' not in text, path
    assert "Okafor" not in json.dumps(page.evaluate("({...localStorage})"))


def test_the_ready_list_answers_without_network(phone: Pocket, boots: Pair, store: Store) -> None:
    """Any page that cannot be fetched shows it: number, words and shelf, how old it is, and no
    name.
    """
    with store.write_tx():
        for item_id in (boots.left, boots.right):
            store.change("items", item_id, state="shelved", shelf="C2")
    page = phone.sign_in("CO")
    controlled(page)
    page.goto(phone.address)
    until(page, lambda: bool(page.evaluate("localStorage.getItem('ready-list')")))
    phone.context.set_offline(True)
    page.goto(f"{phone.address}/tickets/{boots.ticket_id}")
    page.get_by_label("Ticket number").fill("41")
    ready = "41: all here. Both boots: ready, shelf C2"
    page.get_by_role("status").filter(has_text=ready).wait_for()
    assert "As of" in page.inner_text("main")
    assert "Okafor" not in page.content()
    page.get_by_label("Ticket number").fill("99")
    page.get_by_role("status").filter(has_text="Not on this phone’s list").wait_for()


def test_nothing_is_stale_after_an_update(chromium: Browser, store: Store, tmp_path: Path) -> None:
    """The shop renews the program while a phone is in use: the next page has the new look at once,
    and the old shell is gone.
    """
    copy = tmp_path / "checkout"
    for folder in ("fitcounter", "templates", "static"):
        shutil.copytree(
            CHECKOUT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__")
        )
    with own_server(tmp_path, ColdServer(copy)) as shelf, pocket(chromium, shelf.address) as phone:
        page = phone.sign_in("CO")
        controlled(page)
        before = kept(page)
        shelf.kill()
        with (copy / "static" / "app.css").open("a", encoding="utf-8") as sheet:
            sheet.write("\nh1 { letter-spacing: 3px; }\n")
        shelf.start()

        page.goto(phone.address)
        assert (
            page.evaluate("getComputedStyle(document.querySelector('h1')).letterSpacing") == "3px"
        )
        until(page, lambda: set(kept(page)).isdisjoint(before))
        (entries,) = kept(page).values()
        assert len({path.split("/")[2] for path, _ in entries if path.startswith("/static/")}) == 1
        assert next(text for path, text in entries if path.endswith("/app.css")).endswith(
            "letter-spacing: 3px; }\n"
        )


def test_the_page_of_a_hotel_is_not_kept_as_a_file(phone: Pocket, boots: Pair) -> None:
    """Its sign-in page came in place of the reader of codes: the next asking has the reader."""
    page = phone.sign_in("CO")
    controlled(page)
    phone.context.route(
        "**/qr/decode.js",
        lambda route: route.fulfill(content_type="text/html", body="<html>sign in"),
        times=1,
    )
    ask = (
        "async () => (await (await"
        " fetch(document.querySelector('script[src*=\"offline_count.js\"]')"
        ".src.replace('js/offline_count.js',"
        " 'vendor/qr/decode.js'))).text())"
    )
    assert page.evaluate(ask) == "<html>sign in"
    assert "decodeQR" in page.evaluate(ask)


def test_a_changed_byte_is_another_version(tmp_path: Path) -> None:
    """Every file that a phone may keep counts: style, script, icon, the pages and the worker
    itself; no version can be forgotten.
    """
    from fitcounter.web.offline import app_shell

    for folder in ("templates", "static"):
        shutil.copytree(
            CHECKOUT / folder, tmp_path / folder, ignore=shutil.ignore_patterns("*.ttf")
        )
    seen = {app_shell.version(tmp_path)}
    names = (
        "static/app.css",
        "static/js/tape.js",
        "static/icons/favicon.svg",
        "templates/offline/offline.html",
        "templates/base.html",
        "templates/offline/sw.js",
    )
    for name in names:
        with (tmp_path / name).open("ab") as file:
            file.write(b" ")
        seen.add(app_shell.version(tmp_path))
    assert len(seen) == 1 + len(names)


def test_the_worker_is_short_and_names_only_files_that_are_there(
    app: Flask, stranger: Counter
) -> None:
    answer = stranger.get("/sw.js")
    assert answer.headers["Cache-Control"] == "no-cache"
    assert answer.mimetype == "text/javascript"
    assert len(answer.text.splitlines()) < 80
    files = json.loads(re.search(r"FILES = (\[.*?\]);", answer.text)[1])  # type: ignore[index]
    assert len(files) > 10
    for path in files:
        with stranger.get(path) as answered:
            assert answered.status_code == 200, path
    assert app.config["VERSION"] in answer.text


def test_the_program_can_be_installed(chromium: Browser, shelf: Shelf, tmp_path: Path) -> None:
    """Chromium finds nothing that stands in the way."""
    launched = chromium.browser_type.launch_persistent_context(
        tmp_path / "profile",
        executable_path=browser_path(),
        args=["--no-sandbox", "--disable-dev-shm-usage"],
        **PHONE,
    )
    try:
        page = launched.new_page()
        page.goto(f"{shelf.address}/sign-in")
        found = launched.new_cdp_session(page).send("Page.getInstallabilityErrors")
    finally:
        launched.close()
    assert found["installabilityErrors"] == []


@pytest.mark.parametrize(("place", "most_kb"), [("Today", 60), ("Measure", 90)])
def test_a_first_visit_is_light(
    phone: Pocket, shelf: Shelf, boots: Pair, place: str, most_kb: int
) -> None:
    """Bytes down the wire to an empty phone, headers too: the page with all it fetches, and then
    the whole shell beside it.
    """
    phone.sign_in("CO").close()
    browser = phone.context.browser
    assert browser
    with (
        Meter(shelf.port) as meter,
        pocket(browser, meter.address, service_workers="block") as bare,
    ):
        bare.context.add_cookies(phone.context.cookies())  # type: ignore[arg-type]
        page = bare.page("/" if place == "Today" else f"/fits/{boots.fit_id}/measure")
        page.wait_for_load_state("networkidle")
        alone = meter.down / 1024
    with Meter(shelf.port) as meter, pocket(browser, meter.address) as whole:
        whole.context.add_cookies(phone.context.cookies())  # type: ignore[arg-type]
        page = whole.page("/" if place == "Today" else f"/fits/{boots.fit_id}/measure")
        controlled(page)
        page.wait_for_load_state("networkidle")
        together = meter.down / 1024
    print(f"{place}: {alone:.1f} KB, with the whole shell {together:.1f} KB")
    assert 10 < alone <= most_kb
    assert alone < together <= 95


def test_style_script_and_pages_go_out_packed(counter: Counter, app: Flask) -> None:
    packed = {"Accept-Encoding": "gzip"}
    address = f"{app.static_url_path}/app.css"
    with counter.get(address, headers=packed) as sheet, counter.get(address) as plain:
        assert sheet.headers["Content-Encoding"] == "gzip"
        assert "Accept-Encoding" in sheet.headers["Vary"]
        assert gzip.decompress(sheet.data) == plain.data
        assert "Content-Encoding" not in plain.headers
        assert len(sheet.data) < len(plain.data) / 3
    with counter.client.get("/", headers=packed) as page, counter.get("/") as plain:
        assert page.headers["Content-Encoding"] == "gzip"
        assert len(page.data) < len(plain.data) / 2
    assert gzip.decompress(counter.get("/sw.js", headers=packed).data) == counter.get("/sw.js").data


def test_an_old_address_of_a_file_leads_to_the_new_one(app: Flask, stranger: Counter) -> None:
    """A page that was open over an update still finds its scripts."""
    moved: Any = stranger.get("/static/0123456789ab/js/tape.js")
    assert (moved.status_code, moved.headers["Location"]) == (
        302,
        f"{app.static_url_path}/js/tape.js",
    )
    assert stranger.get(f"{app.static_url_path}/js/no-such.js").status_code == 404
