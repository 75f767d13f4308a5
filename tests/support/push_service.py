"""A browser's push service of our own on the loopback, over HTTPS, and the phone behind it: it
looks whether the shop signed, and opens what was sealed (RFC 8030, 8291, 8292), or misbehaves as
told.
"""

from __future__ import annotations

import json
import ssl
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from fitcounter.desk.messages.push_asked_by_phone import TypedPhone
from fitcounter.desk.messages.push_seal import as_text, from_text
from fitcounter.serving import certificate

HOST = "push.boots.local"
# What a browser gives, with keys of its own: the example of RFC 8291.
ANY_PHONE = {
    "endpoint": "https://fcm.googleapis.com/fcm/send/abc",
    "p256dh": (
        "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"
    ),
    "auth": "BTBZMqHH6r4Tts7J_aSIgg",
}
STATUS = {"takes": 201, "gone": 410, "missing": 404, "busy": 503, "keys": 403, "refuses": 400}


@dataclass
class Phone:
    """A browser's keys for one subscription. heard: what it could open."""

    number: int
    key: ec.EllipticCurvePrivateKey = field(
        default_factory=lambda: ec.generate_private_key(ec.SECP256R1())
    )
    secret: bytes = b"sixteen of these"
    heard: list[dict[str, Any]] = field(default_factory=list)

    @property
    def typed(self) -> TypedPhone:
        """What its browser gives to the page."""
        public = point(self.key.public_key())
        endpoint = f"https://{HOST}/wp/{self.number}"
        return TypedPhone(endpoint, as_text(public), as_text(self.secret))


@dataclass
class PushService:
    """mode: a key of STATUS, or drops, stalls, redirects. asked: headers of each request."""

    port: int
    phones: dict[str, Phone] = field(default_factory=dict)
    mode: str = "takes"
    asked: list[dict[str, str]] = field(default_factory=list)
    elsewhere: int = 0

    def phone(self) -> Phone:
        made = Phone(len(self.phones) + 1)
        self.phones[f"/wp/{made.number}"] = made
        return made

    @property
    def heard(self) -> list[dict[str, Any]]:
        return [one for phone in self.phones.values() for one in phone.heard]


def point(key: ec.EllipticCurvePublicKey) -> bytes:
    return key.public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)


def opened(body: bytes, key: ec.EllipticCurvePrivateKey, secret: bytes) -> bytes:
    """The words, as a browser opens them: one record, its padding taken off. Raises InvalidTag."""
    salt, size, length = body[:16], int.from_bytes(body[16:20]), body[20]
    sender, rest = body[21 : 21 + length], body[21 + length :]
    assert len(rest) <= size
    shared = key.exchange(
        ec.ECDH(), ec.EllipticCurvePublicKey.from_encoded_point(key.curve, sender)
    )

    def derived(held: bytes, seed: bytes, info: bytes, count: int) -> bytes:
        return HKDF(hashes.SHA256(), count, seed, info).derive(held)

    info = b"WebPush: info\0" + point(key.public_key()) + sender
    ends = derived(shared, secret, info, 32)
    inner = derived(ends, salt, b"Content-Encoding: aes128gcm\0", 16)
    nonce = derived(ends, salt, b"Content-Encoding: nonce\0", 12)
    plain = AESGCM(inner).decrypt(nonce, rest, None).rstrip(b"\0")
    assert plain[-1:] == b"\x02"
    return plain[:-1]


def claims(authorization: str) -> dict[str, Any]:
    """What the signed header says. Raises InvalidSignature."""
    scheme, _, rest = authorization.partition(" ")
    parts = dict(one.strip().split("=", 1) for one in rest.split(","))
    assert (scheme, set(parts)) == ("vapid", {"t", "k"})
    head, said, signature = parts["t"].split(".")
    assert json.loads(from_text(head))["alg"] == "ES256"
    raw = from_text(signature)
    halves = (int.from_bytes(raw[:32]), int.from_bytes(raw[32:]))
    key = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), from_text(parts["k"]))
    key.verify(encode_dss_signature(*halves), f"{head}.{said}".encode(), ec.ECDSA(hashes.SHA256()))
    read: dict[str, Any] = json.loads(from_text(said))
    return read


def _handler(service: PushService) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            if self.path == "/elsewhere":
                service.elsewhere += 1
                return self.send_response(201)
            if service.mode == "drops":
                return self.connection.close()
            if service.mode == "stalls":
                time.sleep(0.5)
            service.asked.append(dict(self.headers.items()))
            assert claims(self.headers["Authorization"])["aud"] == f"https://{HOST}"
            phone = service.phones[self.path]
            words = json.loads(opened(body, phone.key, phone.secret))
            if service.mode == "takes":
                phone.heard.append(words)
            self.send_response(STATUS.get(service.mode, 307))
            self.send_header("Location", f"https://{HOST}:{service.port}/elsewhere")
            self.send_header("Content-Length", "0")
            return self.end_headers()

        def log_message(self, *_: object) -> None:
            pass

    return Handler


def certificate_for(folder: Path) -> tuple[ssl.SSLContext, Path]:
    """The service's own TLS, and the file of the authority that vouches for it."""
    files = certificate.make(folder, [HOST], "Push", datetime.now(UTC))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.server, files.server_key)
    return context, files.authority


@contextmanager
def push_service(tls: ssl.SSLContext) -> Iterator[PushService]:
    """The service while the block runs."""
    service = PushService(0)
    server = ThreadingHTTPServer(("127.0.0.1", 0), _handler(service))
    server.daemon_threads = True
    server.handle_error = lambda *_: None  # type: ignore[method-assign]
    server.socket = tls.wrap_socket(server.socket, server_side=True)
    service.port = server.server_port
    thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    try:
        yield service
    finally:
        server.shutdown()
        server.server_close()
