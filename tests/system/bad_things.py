"""The ways that are no form: pictures, bytes on the wire to the real server, and files that are no
shop.
"""

from __future__ import annotations

import gzip
import io
import socket
import subprocess
import sys
from typing import Any
from urllib.parse import urlsplit

from PIL import Image
from support.disk_trouble import content
from support.paths import CHECKOUT
from support.served_shop import open_shop
from support.till import Answer, Till
from system.bad_ways import way
from werkzeug.datastructures import FileStorage
from werkzeug.test import encode_multipart

from fitcounter.serving.server import free_port


def jpeg(**more: object) -> bytes:
    out = io.BytesIO()
    Image.effect_noise((64, 48), 90).convert("RGB").save(out, "JPEG", **more)
    return out.getvalue()


def png_20000() -> bytes:
    out = io.BytesIO()
    Image.new("1", (20000, 20000)).save(out, "PNG", optimize=True)
    return out.getvalue()


def gif_500() -> bytes:
    out = io.BytesIO()
    frames = [Image.new("P", (8, 8), n % 250) for n in range(500)]
    frames[0].save(out, "GIF", save_all=True, append_images=frames[1:])
    return out.getvalue()


def sideways() -> bytes:
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825).update({1: "N", 2: (42.0, 12.0, 5.0)})
    return jpeg(exif=exif, comment=b"canary")


SHOTS = {
    "nothing": lambda: b"",
    "half a JPEG": lambda: jpeg()[:700],
    "a text": lambda: b"no picture at all",
    "20000 by 20000": png_20000,
    "HEIC": lambda: b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 200,
    "30 MB": lambda: b"\xff" * 30_000_000,
    "SVG": lambda: b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
    "PDF": lambda: b"%PDF-1.7\n%%EOF",
    "GIF": gif_500,
    "sideways with a place": sideways,
}


def pictures(till: Till) -> list[bytes]:
    return [
        one.read_bytes()
        for one in sorted(
            (till.store.path.parent / "photos").glob("*.jpg"),
            key=lambda one: one.stat().st_mtime_ns,
        )
    ]


def send(till: Till, shot: bytes, name: str) -> Answer:
    before = len(pictures(till))
    sent = {"csrf_token": till.token, "submission_id": "a-photo-of-bad-input", "moment": "before"}
    boundary, body = encode_multipart(
        {**sent, "photo": FileStorage(io.BytesIO(shot), name, "image/jpeg")}
    )
    answer = till.raw("/items/44/photos", body, f"multipart/form-data; boundary={boundary}")
    assert len(pictures(till)) == before + (answer.code == 303)
    return Answer(answer.code, answer.text)


@way("photo")
def photo(till: Till, what: str, _: object) -> Answer:
    answer = send(till, SHOTS[what](), "boot.jpg")
    if answer.code == 303:
        kept = pictures(till)[-1]
        assert Image.open(io.BytesIO(kept)).size == (48, 64)
        assert b"canary" not in kept
        assert b"Exif" not in kept
    return answer


@way("photo named")
def photo_named(till: Till, name: str, _: object) -> Answer:
    answer = send(till, jpeg(), name)
    names = [
        str(row["file"])
        for row in till.store.rows("SELECT file FROM photos ORDER BY id DESC LIMIT 1")
    ]
    assert names[0].removesuffix(".jpg").isalnum() or set(names[0]) <= set(
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_."
    )
    assert not any(part in names[0] for part in ("passwd", "con", "aaaa", "👢", "/"))
    return answer


def spoken(address: str, said: bytes, *, shut: bool = False) -> tuple[int, str]:
    """The code and the whole of what a server answers to these bytes; 0 where it hangs up without a
    word.
    """
    where = urlsplit(address)
    with socket.create_connection((str(where.hostname), int(where.port or 0)), timeout=20) as line:
        try:
            line.sendall(said)
            if shut:
                line.shutdown(socket.SHUT_WR)
        except (BrokenPipeError, ConnectionResetError):
            pass  # it has answered already
        heard = b""
        try:
            while part := line.recv(65536):
                heard += part
        except ConnectionResetError:
            pass
    first = heard.split(b"\r\n", 1)[0].split(b" ")
    return int(first[1]) if len(first) > 1 else 0, heard.decode("utf-8", "replace")


def said(till: Till, how: str, port: int) -> bytes:
    """The bytes of a request that is wrong in one way."""
    own = f"Host: localhost:{port}\r\n".encode()
    held = till.client.get_cookie("fitcounter")
    assert held
    form = (
        b"POST /tickets/22/call HTTP/1.1\r\n"
        + own
        + f"Cookie: {held.key}={held.value}\r\n".encode()
    )
    form += b"Content-Type: application/x-www-form-urlencoded\r\nConnection: close\r\n"
    body = b"how=called"
    get = b"GET /sign-in HTTP/1.1\r\nConnection: close\r\n"
    return {
        "another host": get + b"Host: evil.example\r\n\r\n",
        "forwarded host": get + own + b"X-Forwarded-Host: evil.example\r\n\r\n",
        "two hosts": get + own + b"Host: evil.example\r\n\r\n",
        "a header of 100 KB": get + own + b"X-Long: " + b"a" * 100_000 + b"\r\n\r\n",
        "no length": form + b"\r\n" + body,
        "a false length": form + b"Content-Length: 400\r\n\r\n" + body,
        "a length of 99 GB": form + b"Content-Length: 99000000000\r\n\r\n" + body,
        "a length in words": form + b"Content-Length: ten\r\n\r\n" + body,
        "chunks": form + b"Transfer-Encoding: chunked\r\n\r\nzz\r\nhow=called\r\n0\r\n\r\n",
    }[how]


@way("on the wire")
def on_the_wire(till: Till, how: str, _: object) -> Answer:
    """To the real server over a real socket; the answer comes before anybody's patience ends, and
    nothing is stored.
    """
    before = content(till.store)
    with open_shop(till.store.path.parent, till.shop.clock) as address:
        port = int(address.rsplit(":", 1)[1])
        code, heard = spoken(
            address, said(till, how, port), shut=how in ("a false length", "no length")
        )
    assert content(till.store) == before
    assert "evil.example" not in heard
    assert "Traceback" not in heard
    return Answer(code, heard)


@way("upload cut")
def upload_cut(till: Till, _: object, __: object) -> Answer:
    """The network goes in the middle of a photo: no file, no row."""
    held = till.client.get_cookie("fitcounter")
    assert held
    body = b'--x\r\nContent-Disposition: form-data; name="csrf_token"\r\n\r\n' + till.token.encode()
    body += (
        b'\r\n--x\r\nContent-Disposition: form-data; name="photo"; filename="p.jpg"\r\n\r\n'
        + jpeg()
    )
    before, files = content(till.store), len(pictures(till))
    with open_shop(till.store.path.parent, till.shop.clock) as address:
        head = (
            f"POST /items/44/photos HTTP/1.1\r\nHost: {urlsplit(address).netloc}\r\nCookie:"
            f" {held.key}={held.value}\r\nConnection: close\r\n"
        )
        head += (
            "Content-Type: multipart/form-data; boundary=x\r\nContent-Length:"
            f" {len(body) + 5000}\r\n\r\n"
        )
        code, heard = spoken(address, head.encode() + body, shut=True)
    assert (content(till.store), len(pictures(till))) == (before, files)
    return Answer(code, heard)


@way("another file")
def another_file(till: Till, how: str, _: object) -> Answer:
    """`fitcounter serve` says in one sentence why it does not start, and changes nothing."""
    folder, store = till.store.path.parent, till.store
    if how == "foreign":
        store.db.execute("PRAGMA application_id = 1")
    elif how == "newer":
        store.db.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('fitcounter',"
            " 'm9999_later', 'x')"
        )
    store.db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
    store.close()
    if how == "corrupt":
        held = bytearray((folder / "shop.db").read_bytes())
        held[0:100] = gzip.compress(b"x" * 500)[:100].ljust(100, b"z")
        (folder / "shop.db").write_bytes(held)
    before = (folder / "shop.db").read_bytes()
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "fitcounter",
            "serve",
            "--data",
            str(folder),
            "--port",
            str(free_port("127.0.0.1", 0)),
        ],
        capture_output=True,
        text=True,
        cwd=CHECKOUT,
        timeout=60,
    )
    assert (folder / "shop.db").read_bytes() == before
    words: Any = done.stdout + done.stderr
    assert "Traceback" not in words
    return Answer(done.returncode, words)
