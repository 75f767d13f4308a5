"""The scanner before a camera that films what a test writes: boot after boot without leaving the
page, and the ways without a camera.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
import qrcode
from browser.offline_cast import Pocket, Shelf, pocket, until
from PIL import Image
from playwright.sync_api import Browser, Page
from support.bench_cast import Pair, pair, tree
from support.cast import Clock
from support.measured_pair import measured_pair
from support.one_chromium import browser_path
from support.paths import CHECKOUT

from fitcounter.fit.tagcode import new_code
from fitcounter.store import items, tags
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
SIZE = (640, 480)
BLANK_FRAMES, CODE_FRAMES = 6, 10
TONES = """window.tones = 0; const plain = AudioContext.prototype.createOscillator;
AudioContext.prototype.createOscillator = function () {
  window.tones += 1; return plain.call(this);
};"""


def filmed(path: Path, texts: list[str]) -> None:
    """A film in YUV4MPEG2, ten pictures a second: each text as a square code for a while, then
    white paper.
    """
    with path.open("wb") as film:
        film.write(b"YUV4MPEG2 W%d H%d F10:1 Ip A1:1 C420jpeg\n" % SIZE)
        grey = bytes([128]) * (SIZE[0] * SIZE[1] // 2)
        for text in texts:
            for picture, times in (
                (Image.new("L", SIZE, 255), BLANK_FRAMES),
                (tag(text), CODE_FRAMES),
            ):
                film.write((b"FRAME\n" + picture.tobytes() + grey) * times)


def tag(text: str) -> Image.Image:
    """A tag lying slightly turned on the table."""
    code = qrcode.QRCode(border=4, error_correction=qrcode.constants.ERROR_CORRECT_Q)
    code.add_data(text)
    picture = code.make_image().get_image().convert("L").resize((300, 300))
    page = Image.new("L", SIZE, 255)
    page.paste(picture, (170, 90))
    return page.rotate(8, fillcolor=255)


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    tree(store, "4")
    return pair(store, Act(clock.now))


@pytest.fixture
def codes(store: Store, boots: Pair) -> dict[str, str]:
    """A tag on the left and one on the right."""
    made = {side: new_code(secrets.token_bytes) for side in ("left", "right")}
    at = "2026-03-17T14:00:00Z"
    with store.write_tx():
        for side, item_id in (("left", boots.left), ("right", boots.right)):
            store.insert(
                "tags",
                code=made[side],
                number=41,
                side=side,
                item_id=item_id,
                printed_at=at,
                bound_at=at,
            )
    return made


@pytest.fixture(scope="module")
def camera(
    chromium: Browser, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Browser, Path]]:
    """One Chromium for all films: it reads the file as the page opens the camera."""
    film = tmp_path_factory.mktemp("camera") / "tags.y4m"
    seen = (
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    )
    browser = chromium.browser_type.launch(
        executable_path=browser_path(), args=["--no-sandbox", "--disable-dev-shm-usage", *seen]
    )
    yield browser, film
    browser.close()


@pytest.fixture
def film_crew(
    camera: tuple[Browser, Path], shelf: Shelf
) -> Iterator[Callable[[list[str]], Pocket]]:
    """A phone whose camera sees a film of these texts, over and over."""
    browser, film = camera
    with ExitStack() as open_until_the_end:

        def make(texts: list[str]) -> Pocket:
            filmed(film, texts)
            return open_until_the_end.enter_context(pocket(browser, shelf.address))

        yield make


def address(code: str) -> str:
    return f"HTTP://LOCALHOST/T/{code}"


def heard(page: Page) -> str:
    return " ".join(page.locator("h1").inner_text().split())


def test_both_boots_are_scanned_one_after_another_without_leaving_the_page(
    film_crew: Callable[[list[str]], Pocket], codes: dict[str, str]
) -> None:
    """The camera stays open while the page below it changes from boot to boot, in large words and
    with one tone or two.
    """
    phone = film_crew([address(codes["left"]), address(codes["right"])])
    page = phone.sign_in("BE")
    page.add_init_script(TONES)
    page.goto(f"{phone.address}/bench/stand")
    page.evaluate("window.same = true")
    page.get_by_role("button", name="Scan").tap()
    for _ in range(2):
        for side in ("Left 41", "Right 41"):
            until(page, lambda side=side: heard(page) == side)  # type: ignore[misc]
            assert page.get_by_label("Scanner").get_by_role("status").inner_text() == side
    assert page.evaluate("window.same"), "the page was loaded anew"
    assert page.evaluate("window.tones") >= 4
    page.get_by_role("button", name="Close the scanner").tap()
    assert page.evaluate(
        "document.querySelector('video').srcObject.getTracks().every((one) => one.readyState ==="
        " 'ended')"
    )


def test_a_boot_and_then_a_tree_leave_one_save(
    film_crew: Callable[[list[str]], Pocket], codes: dict[str, str], store: Store
) -> None:
    """From the list of the bench: boot, tree, put on this tree, all filled in, with the tape's keys
    at its girths.
    """
    code = new_code(secrets.token_bytes)
    with store.write_tx():
        store.insert(
            "tags",
            code=code,
            tree_id=1,
            printed_at="2026-03-17T14:00:00Z",
            bound_at="2026-03-17T14:00:00Z",
        )
    phone = film_crew([address(codes["left"]), address(code)])
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/bench")
    page.get_by_role("button", name="Scan").tap()
    until(
        page,
        lambda: page.locator("[name=tree]").count() == 1 and page.input_value("[name=tree]") == "4",
    )
    page.get_by_role("button", name="Close the scanner").tap()
    assert heard(page) == "Left 41"
    page.locator("#put-on-on_tree").tap()
    assert page.locator("[data-pad] [data-part='1/2']").is_visible()


def test_a_scan_strikes_a_line_at_pickup(
    film_crew: Callable[[list[str]], Pocket], codes: dict[str, str], boots: Pair, store: Store
) -> None:
    """Each tag held before the camera strikes its own line; nothing is handed over by it."""
    with store.write_tx():
        for item_id in (boots.left, boots.right):
            store.change("items", item_id, state="shelved", shelf="C2")
    phone = film_crew([address(codes["right"]), address(codes["left"])])
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/pickup/{boots.ticket_id}")
    page.get_by_role("button", name="Scan").tap()
    until(page, lambda: page.locator("[name=items]:checked").count() == 2)
    assert {row["state"] for row in store.rows("SELECT state FROM items")} == {"shelved"}


def test_tags_that_hang_ready_are_scanned_onto_a_pair_in_any_order(
    film_crew: Callable[[list[str]], Pocket], store: Store, clock: Clock
) -> None:
    """Each one goes into the next field with nothing sent; after the last the camera closes, and
    the pair has them by side.
    """
    ticket_id, _ = measured_pair(store, Act(clock.now, 1))
    with store.write_tx():
        made = {
            side: tags.get(store, tags.make(store, Act(clock.now), 57, side)).code
            for side in ("left", "right")
        }
    phone = film_crew([address(made["right"]), address(made["left"])])
    page = phone.sign_in("CO")
    page.goto(f"{phone.address}/tickets/{ticket_id}/agree")
    page.get_by_role("button", name="Scan").tap()
    until(page, lambda: all(one.input_value() for one in page.locator("[data-tag]").all()))
    assert page.locator("section.scanner").is_hidden()
    page.locator("label[for=agreed]").tap()
    page.fill("[name=initials]", "CO")
    with page.expect_navigation():
        page.get_by_role("button", name="Save the agreement").tap()
    assert {
        one.side: tags.of_item(store, one.id).code for one in items.of_ticket(store, ticket_id)
    } == made  # type: ignore[union-attr]


def test_a_scan_at_the_one_field_opens_the_boot(
    film_crew: Callable[[list[str]], Pocket], codes: dict[str, str]
) -> None:
    phone = film_crew([address(codes["right"])])
    page = phone.sign_in("CO")
    page.goto(phone.address)
    page.get_by_role("button", name="Scan").tap()
    page.wait_for_url("**/T/*")
    assert heard(page) == "Right 41"


@pytest.mark.parametrize("stopped", [Image.new("L", SIZE, 255), None])
def test_where_there_is_no_camera_a_photo_of_the_tag_does_it(
    chromium: Browser,
    shelf: Shelf,
    codes: dict[str, str],
    tmp_path: Path,
    stopped: Image.Image | None,
) -> None:
    """The phone's own camera takes it, the page reads it; a photo without a code says what to
    do.
    """
    (stopped or tag(address(codes["left"]))).save(tmp_path / "tag.png")
    with pocket(chromium, shelf.address) as phone:
        phone.context.add_init_script(
            "Object.defineProperty(navigator, 'mediaDevices', { value: undefined });"
        )
        page = phone.sign_in("BE")
        page.goto(f"{phone.address}/bench/stand")
        page.locator(".scan-ways input[type=file]").set_input_files(tmp_path / "tag.png")
        if stopped:
            page.get_by_text("No code on that photo").wait_for()
        else:
            until(page, lambda: heard(page) == "Left 41")


def test_the_reader_of_codes_is_as_it_was_published() -> None:
    """Vendored files stay untouched, with their licences beside them."""
    folder = CHECKOUT / "static" / "vendor" / "qr"
    for line in (folder / "SHA256SUMS").read_text(encoding="ascii").splitlines():
        digest, name = line.split()
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest
    assert {path.name for path in folder.iterdir()} == {
        "decode.js",
        "index.js",
        "LICENSE",
        "LICENSE-MIT",
        "README.md",
        "SHA256SUMS",
    }
