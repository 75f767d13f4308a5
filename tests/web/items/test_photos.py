"""Photos: only pixels are kept, whatever is sent; a row has its file and a file its row; nobody
outside sees one.
"""

from __future__ import annotations

import io
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image, ImageCms, PngImagePlugin
from support.bench_cast import Pair, pair
from support.cast import Clock, Counter
from support.counter_forms import fresh, new_job
from support.pictures import RED, picture, png_that_claims
from support.sent_photo import kept, send

from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return pair(store, Act(clock.now))


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def with_everything() -> bytes:
    """A sideways JPEG with GPS, comment, profile and XMP, as phones send them."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825).update({1: "N", 2: (42.0, 12.0, 5.0)})
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return picture(
        size=(640, 480),
        exif=exif,
        comment=b"canary-comment",
        icc_profile=profile,
        xmp=b"<x:canary-xmp/>",
    )


def test_a_photo_keeps_its_pixels_and_nothing_else(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """No Exif, GPS, comment, profile or XMP comes along, and it stands upright."""
    assert send(bench, f"/items/{boots.left}/photos", with_everything()).status_code == 303
    (content,) = kept(store, tmp_path)
    one = opened(content)
    assert one.size == (480, 640)
    assert dict(one.getexif()) == {}
    for trace in (b"canary", b"Exif", b"ICC_PROFILE", b"GPS", b"http://ns.adobe.com"):
        assert trace not in content
    assert all(
        abs(a - b) < 8 for a, b in zip(one.convert("RGB").getpixel((240, 320)), RED, strict=True)
    )  # type: ignore[arg-type]


def test_a_large_photo_is_kept_no_larger_than_a_screen(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    assert send(bench, f"/items/{boots.left}/photos", picture(size=(4000, 3000))).status_code == 303
    assert opened(kept(store, tmp_path)[0]).size == (1600, 1200)


@pytest.mark.parametrize(
    ("what", "content"),
    [
        ("cmyk", picture(mode="CMYK")),
        ("grey", picture(mode="L")),
        ("one pixel", picture(size=(1, 1))),
        ("png with text", picture("PNG", pnginfo=PngImagePlugin.PngInfo())),
        ("webp", picture("WEBP")),
        ("see-through", picture("PNG", mode="LA")),
        ("palette", picture("PNG", mode="P")),
        ("sixteen bit", picture("PNG", mode="I;16")),
        ("a page behind a picture", picture() + b"<script>alert(1)</script>"),
        ("a zip behind a picture", picture() + b"PK\x03\x04canary"),
    ],
)
def test_odd_pictures_become_clean_ones(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path, what: str, content: bytes
) -> None:
    """Whatever their colours, and whatever hangs behind them, a clean JPEG is all that stays."""
    assert send(bench, f"/items/{boots.left}/photos", content).status_code == 303
    (one,) = kept(store, tmp_path)
    assert (opened(one).format, opened(one).mode) == ("JPEG", "RGB")
    assert b"alert" not in one
    assert b"canary" not in one


def test_of_a_moving_picture_the_first_one_is_kept(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    frames = [Image.new("RGB", (64, 64), colour) for colour in (RED, (0, 0, 255))]
    out = io.BytesIO()
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    assert send(bench, f"/items/{boots.left}/photos", out.getvalue()).status_code == 303
    (one,) = kept(store, tmp_path)
    assert opened(one).getpixel((32, 32))[0] > 150  # type: ignore[index]


# what → its bytes, made when they are sent: some take a second
NO_PHOTOS: dict[str, tuple[Callable[[], bytes], str]] = {
    "nothing": (bytes, "boot.jpg"),
    "svg": (
        lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
        "boot.jpg",
    ),
    "a page": (lambda: b"<!doctype html><script>alert(1)</script>", "boot.jpg"),
    "gif": (lambda: picture("GIF", mode="P"), "boot.jpg"),
    "bmp": (lambda: picture("BMP"), "boot.png"),
    "tiff": (lambda: picture("TIFF"), "boot.jpg"),
    "half a jpeg": (lambda: picture(size=(900, 900))[:2000], "boot.jpg"),
    "half a png": (lambda: picture("PNG", size=(900, 900))[:300], "boot.png"),
    "a jpeg's first bytes": (lambda: b"\xff\xd8\xff\xe0", "boot.jpg"),
    "noise": (lambda: os.urandom(5000), "boot.webp"),
    "400 megapixels in a few kilobytes": (lambda: png_that_claims(20000, 20000), "boot.png"),
    "41 megapixels": (lambda: png_that_claims(8200, 5000), "boot.png"),
    "a claim beyond all bounds": (lambda: png_that_claims(2**30, 8, 9999)[:64], "boot.png"),
}


@pytest.mark.parametrize("what", NO_PHOTOS)
def test_what_is_no_photo_is_refused_in_a_sentence(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path, what: str
) -> None:
    """422 and one sentence; neither row nor file."""
    content, name = NO_PHOTOS[what]
    answer = send(bench, f"/items/{boots.left}/photos", content(), name)
    assert answer.status_code == 422
    assert "photo" in answer.text
    assert kept(store, tmp_path) == []


def test_more_than_twelve_megabytes_are_refused_unread(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    assert (
        send(
            bench, f"/items/{boots.left}/photos", b"\xff\xd8" + b"\0" * (13 * 1024 * 1024)
        ).status_code
        == 413
    )
    assert kept(store, tmp_path) == []


def test_only_the_views_that_take_photos_take_more_than_a_form(bench: Counter, boots: Pair) -> None:
    """A megabyte for a step is refused, for a photo it is looked at."""
    large = picture("PNG", size=(640, 480)) + b"\0" * 1_000_000
    bench.get(f"/items/{boots.left}")
    assert (
        bench.post(
            f"/items/{boots.left}/prepare", submission_id=fresh(), prepared_with="x" * 1_000_000
        ).status_code
        == 413
    )
    assert send(bench, f"/items/{boots.left}/photos", large).status_code == 303


def test_a_ticket_has_twelve_photos_at_most(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    codes = [
        send(
            bench, f"/items/{(boots.left, boots.right)[n % 2]}/photos", picture(size=(20, 20))
        ).status_code
        for n in range(13)
    ]
    assert codes == [303] * 12 + [422]
    assert len(kept(store, tmp_path)) == 12


def test_a_photo_sent_twice_is_kept_once(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    again = {"submission_id": fresh()}
    assert [
        send(bench, f"/items/{boots.left}/photos", picture(), **again).status_code for _ in range(2)
    ] == [303, 303]
    assert len(kept(store, tmp_path)) == 1


def test_a_photo_is_shown_to_staff_as_a_picture_and_nothing_else(
    bench: Counter, stranger: Counter, boots: Pair
) -> None:
    send(bench, f"/items/{boots.left}/photos", picture())
    answer = bench.get("/photos/1")
    assert (answer.status_code, answer.mimetype) == (200, "image/jpeg")
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Disposition"] == 'inline; filename="photo.jpg"'
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert answer.headers["Cache-Control"].startswith("private")
    assert stranger.get("/photos/1").status_code == 303
    assert bench.get("/photos/2").status_code == 404


def test_a_stranger_cannot_send_a_photo(
    stranger: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    assert send(stranger, f"/items/{boots.left}/photos", picture()).status_code == 401
    assert kept(store, tmp_path) == []


@pytest.mark.parametrize(
    "where", ["/items/{item}/photos", "/tickets/{ticket}/photos", "/new/some-form-id/photos"]
)
def test_a_photo_is_sent_by_a_form_alone(counter: Counter, boots: Pair, where: str) -> None:
    assert counter.get(where.format(item=boots.left, ticket=boots.ticket_id)).status_code == 405


def test_a_photo_of_nothing_is_not_kept(
    bench: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    """No such item, no such ticket, no such moment."""
    assert send(bench, "/items/999/photos", picture()).status_code == 404
    assert send(bench, "/tickets/999/photos", picture()).status_code == 404
    assert (
        send(bench, f"/items/{boots.left}/photos", picture(), moment="yesterday").status_code == 422
    )
    assert kept(store, tmp_path) == []


def test_a_photo_of_a_new_job_waits_for_its_ticket(
    counter: Counter, store: Store, tmp_path: Path
) -> None:
    """Taken while the form is filled in, it is asked to come again until the ticket is open, and
    then belongs to it.
    """
    job = new_job()
    where = f"/new/{job['submission_id']}/photos"
    assert send(counter, where, picture()).status_code == 425
    counter.get("/new")
    assert counter.post("/new", **job).status_code == 303
    assert send(counter, where, picture()).status_code == 303
    assert [row["ticket_id"] for row in store.rows("SELECT ticket_id FROM photos")] == [1]
    assert len(kept(store, tmp_path)) == 1


def test_the_last_photo_of_a_boot_stands_large_on_its_page(bench: Counter, boots: Pair) -> None:
    """On its page and on the stand; a photo of a slip is no picture of the boot."""
    for moment in ("before", "slip"):
        send(bench, f"/items/{boots.left}/photos", picture(), moment=moment)
    for page in (f"/items/{boots.left}", f"/bench/stand?boot={boots.left}"):
        assert 'src="/photos/1"' in bench.get(page).text
    assert 'src="/photos/' not in bench.get(f"/items/{boots.right}").text


def test_a_photo_keeps_its_view_and_the_next_one_is_taken_over_it(
    bench: Counter, store: Store, boots: Pair
):
    """The page tells the camera which photo was the first of each view; both stand side by side,
    in a dispute too.
    """
    where = f"/items/{boots.left}/photos"
    for moment in ("before", "after"):
        assert send(bench, where, picture(), view="front", moment=moment).status_code == 303
    page = bench.get(f"/items/{boots.left}").text
    assert 'data-first="/photos/1"' in page
    assert 'alt="front, before"' in page
    assert 'alt="front, after"' in page
    assert send(bench, where, picture(), view="above").status_code == 422
    with store.write_tx():
        incident = store.insert(
            "incidents", item_id=boots.left, opened_at="2026-03-17T10:00:00Z", what="grain cracked"
        )
    assert 'alt="front, after"' in bench.get(f"/incidents/{incident}").text


def test_then_and_now_stand_where_the_boots_are_handed_over(
    counter: Counter, store: Store, boots: Pair
):
    address = f"/pickup/{boots.ticket_id}"
    assert "then and now" not in counter.get(address).text
    for moment in ("before", "after"):
        send(counter, f"/items/{boots.left}/photos", picture(), view="back", moment=moment)
    page = counter.get(address).text
    assert "Photos, then and now" in page
    assert 'alt="Left boot, back, after"' in page
