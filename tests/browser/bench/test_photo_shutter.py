"""The shutter stays open, photos are shrunk on the phone, and without network they wait beside the
forms.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser.offline_cast import Pocket, Shelf, controlled, pocket, until
from PIL import Image
from playwright.sync_api import Browser, Page
from support.bench_cast import Pair, pair
from support.cast import Clock
from support.one_chromium import browser_path

from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
CAMERA = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream")


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return pair(store, Act(clock.now))


@pytest.fixture(scope="module")
def filming(chromium: Browser) -> Iterator[Browser]:
    """A Chromium whose camera films a test picture."""
    browser = chromium.browser_type.launch(
        executable_path=browser_path(), args=["--no-sandbox", "--disable-dev-shm-usage", *CAMERA]
    )
    yield browser
    browser.close()


@pytest.fixture
def phone(filming: Browser, shelf: Shelf) -> Iterator[Pocket]:
    with pocket(filming, shelf.address) as held:
        yield held


def a_photo(path: Path, size: tuple[int, int] = (4000, 3000)) -> Path:
    """Twelve megapixels with something to see."""
    Image.linear_gradient("L").resize(size).convert("RGB").save(path, "JPEG", quality=95)
    return path


def kept(store: Store) -> list[dict[str, object]]:
    return store.rows(
        "SELECT ticket_id, item_id, moment, width_px, height_px, bytes FROM photos ORDER BY id"
    )


def pick(page: Page, path: Path) -> None:
    """By the script's own field: the plain one goes away once the script is there."""
    page.locator("[data-shutter] input.vh[type=file]").set_input_files(path)


def test_three_taps_are_three_photos(phone: Pocket, boots: Pair, store: Store) -> None:
    """Nothing opens or closes between them, and each is on its way at once."""
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.left}")
    page.get_by_role("button", name="Take photos").tap()
    for n in range(3):
        page.get_by_role("button", name="Take photo", exact=True).tap()
        page.get_by_role("img", name=f"Photo {n + 1}").wait_for()
    until(page, lambda: len(kept(store)) == 3)
    assert {(row["item_id"], row["moment"]) for row in kept(store)} == {(boots.left, "before")}
    page.get_by_role("button", name="Close camera").tap()
    page.reload()
    assert page.locator(".which img").evaluate("(one) => one.complete && one.naturalWidth > 0")


def test_a_large_photo_is_shrunk_before_it_is_sent(
    phone: Pocket, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """Twelve megapixels leave the phone as 1600 by 1200."""
    photo = a_photo(tmp_path / "boot.jpg")
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.left}")
    sent: list[int] = []
    page.on(
        "request",
        lambda one: (
            sent.append(len(one.post_data_buffer or b"")) if one.url.endswith("/photos") else None
        ),
    )
    pick(page, photo)
    page.get_by_text("Sent.", exact=True).wait_for()
    (row,) = kept(store)
    assert (row["width_px"], row["height_px"]) == (1600, 1200)
    assert sent[0] < photo.stat().st_size / 2


def test_photos_wait_without_network_and_let_the_forms_pass(
    phone: Pocket, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """Counted among what is not sent, they go out when the network is back, with the moment they
    were taken.
    """
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.left}")
    controlled(page)
    phone.context.set_offline(True)
    for n in range(2):
        pick(page, a_photo(tmp_path / f"{n}.jpg", (400, 300)))
        page.get_by_role("img", name=f"Photo {n + 1}").wait_for()
    until(
        page,
        lambda: (
            page.locator("[data-outbox]").inner_text() == "No connection. 2 waiting on this phone."
        ),
    )
    assert kept(store) == []
    page.goto(f"{phone.address}/unsent")
    until(page, lambda: page.get_by_text("A photo", exact=True).count() == 2)
    phone.context.set_offline(False)
    until(page, lambda: len(kept(store)) == 2)
    until(page, lambda: page.locator("[data-outbox]").inner_text() == "All sent")


def test_photos_of_a_new_job_follow_its_ticket(phone: Pocket, store: Store, tmp_path: Path) -> None:
    """Taken before there is a ticket, they wait for it and then belong to it."""
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/new")
    pick(page, a_photo(tmp_path / "boot.jpg", (400, 300)))
    page.get_by_role("img", name="Photo 1").wait_for()
    page.wait_for_timeout(500)
    assert kept(store) == []
    page.fill("[name=phone]", "(412) 555-0142")
    page.fill("[name=name]", "Marisol Okafor-Lind")
    page.locator("[name=nothing_seen]").check(force=True)
    with page.expect_navigation():
        page.get_by_role("button", name="Open the ticket").tap()
    until(page, lambda: len(kept(store)) == 1)
    assert kept(store)[0]["ticket_id"] == store.value("SELECT id FROM tickets")
    page.goto(f"{phone.address}/tickets/1")
    assert page.get_by_role("img", name="Photo 1, before").is_visible()


def test_a_photo_that_is_refused_says_why_and_can_be_thrown_away_or_tried_again(
    phone: Pocket, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """The thirteenth of a ticket and one more: one is let go, the other is taken once there is room
    for it.
    """
    with store.write_tx():
        for n in range(12):
            store.insert(
                "photos",
                ticket_id=boots.ticket_id,
                item_id=boots.left,
                moment="before",
                file=f"{n}.jpg",
                width_px=1,
                height_px=1,
                bytes=1,
                content_hash="",
                taken_at="2026-03-17T14:00:00Z",
            )
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.right}")
    for name in ("boot.jpg", "heel.jpg"):
        pick(page, a_photo(tmp_path / name, (400, 300)))
    until(page, lambda: page.locator("[data-outbox]").inner_text() == "2 to fix")
    page.goto(f"{phone.address}/unsent")
    page.get_by_text("This ticket already has 12 photos").first.wait_for()
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Delete").first.tap()
    until(page, lambda: page.get_by_role("button", name="Send the photo again").count() == 1)
    with store.write_tx():
        store.db.execute("DELETE FROM photos WHERE file = '11.jpg'")
    page.get_by_role("button", name="Send the photo again").tap()
    page.get_by_text("All sent. Nothing is waiting").wait_for()
    assert len(kept(store)) == 12


def test_one_broken_among_many_is_named_and_the_others_are_kept(
    phone: Pocket, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """What stands there about the good ones does not wipe the sentence away."""
    (tmp_path / "broken.jpg").write_bytes(b"no picture")
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.left}")
    page.locator("[data-shutter] input.vh[type=file]").set_input_files(
        [tmp_path / "broken.jpg", a_photo(tmp_path / "boot.jpg", (400, 300))]
    )
    page.get_by_text("Sent.", exact=True).wait_for()
    assert "Not saved: broken.jpg" in page.get_by_role("alert").inner_text()
    assert len(kept(store)) == 1


def test_without_script_a_photo_is_a_plain_form(
    chromium: Browser, shelf: Shelf, boots: Pair, store: Store, tmp_path: Path
) -> None:
    content = io.BytesIO()
    Image.new("RGB", (300, 200)).save(content, "JPEG")
    with pocket(chromium, shelf.address, java_script_enabled=False) as phone:
        page = phone.sign_in("CO")
        page.goto(f"{phone.address}/items/{boots.left}")
        page.locator("[name=photo]").set_input_files(
            {"name": "boot.jpg", "mimeType": "image/jpeg", "buffer": content.getvalue()}
        )
        with page.expect_navigation():
            page.get_by_role("button", name="Save this photo").tap()
    assert [row["width_px"] for row in kept(store)] == [300]


def test_the_first_photo_of_a_view_is_a_ghost_over_the_camera(
    phone: Pocket, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """Where the camera is not open, it stands beside the button."""
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/items/{boots.left}")
    page.locator("label:has-text('front')").tap()
    pick(page, a_photo(tmp_path / "boot.jpg", (400, 300)))
    until(page, lambda: len(kept(store)) == 1)
    assert store.value("SELECT view FROM photos") == "front"
    page.reload()
    assert not page.locator(".ghost").is_visible()
    page.locator("label:has-text('front')").tap()
    assert page.locator(".shutter > .ghost").is_visible()
    page.get_by_role("button", name="Take photos").tap()
    page.locator(".film > .ghost").wait_for()
    page.get_by_role("button", name="Close camera").tap()
    assert page.locator(".shutter > .ghost").is_visible()
    page.locator("label:has-text('back')").tap()
    assert not page.locator(".ghost").is_visible()
