"""What goes to a phone through its browser's service: sealed so that only that phone reads it
(RFC 8291, RFC 8188), and signed so that only this shop can send it (RFC 8292).

Loaded when somebody gets messages, not before: the library behind it is large.
"""

from __future__ import annotations

import base64
import hashlib
import json
import secrets
from datetime import datetime, timedelta
from urllib.parse import urlsplit

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

CURVE = ec.SECP256R1()
ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551  # FIPS 186-4, D.1.2.3
RECORD_BYTES = 4096
# Every message is as long as this at least, so that its length tells nothing.
PADDED_BYTES = 512
SIGNED_FOR = timedelta(hours=12)  # a day at most (RFC 8292 section 2)


def shop_key(csrf_key: str) -> ec.EllipticCurvePrivateKey:
    """The key that the shop signs with, made from one of its keys and told apart from its other
    uses: it is kept, copied and restored with it.
    """
    halves = (hashlib.sha256(b"web push %d\0" % n + csrf_key.encode()).digest() for n in (1, 2))
    drawn = b"".join(halves)  # so much longer than the order that the remainder favours nothing
    return ec.derive_private_key(int.from_bytes(drawn) % (ORDER - 1) + 1, CURVE)


def public_text(key: ec.EllipticCurvePrivateKey) -> str:
    """Its public half as browsers take it."""
    return as_text(_point(key))


def is_key(p256dh: str, auth: str) -> bool:
    """Whether a phone's two keys can be used: a point of the curve, and 16 bytes."""
    try:
        ec.EllipticCurvePublicKey.from_encoded_point(CURVE, from_text(p256dh))
        return len(from_text(auth)) == 16 and len(from_text(p256dh)) == 65
    except ValueError:
        return False


def sealed(words: bytes, p256dh: str, auth: str) -> bytes:
    """The words for the phone with these keys. Raises ValueError for words that are too long."""
    own, salt = ec.generate_private_key(CURVE), secrets.token_bytes(16)
    return seal(words, (from_text(p256dh), from_text(auth)), own, salt, PADDED_BYTES)


def seal(
    words: bytes,
    phone: tuple[bytes, bytes],
    own: ec.EllipticCurvePrivateKey,
    salt: bytes,
    padded: int = 0,
) -> bytes:
    """One record of aes128gcm. phone: its public key and its secret. padded: the least length.

    Raises ValueError for what does not go into one record.
    """
    public, secret = phone
    shared = own.exchange(ec.ECDH(), ec.EllipticCurvePublicKey.from_encoded_point(CURVE, public))
    ends = _derived(shared, secret, b"WebPush: info\0" + public + _point(own), 32)
    key = _derived(ends, salt, b"Content-Encoding: aes128gcm\0", 16)
    nonce = _derived(ends, salt, b"Content-Encoding: nonce\0", 12)
    plain = words + b"\x02" + bytes(max(0, padded - len(words) - 1))
    if len(plain) + 16 > RECORD_BYTES - 103:  # what every service takes (RFC 8291 section 4)
        raise ValueError("too long for a message to a phone")
    head = salt + RECORD_BYTES.to_bytes(4) + bytes([65]) + _point(own)
    return head + AESGCM(key).encrypt(nonce, plain, None)


def signed(key: ec.EllipticCurvePrivateKey, endpoint: str, contact: str, now: datetime) -> str:
    """The Authorization header for one service. contact: an address of the shop, mailto: or
    https:.
    """
    parts = urlsplit(endpoint)
    said = {
        "aud": f"{parts.scheme}://{parts.netloc}",
        "exp": int((now + SIGNED_FOR).timestamp()),
        "sub": contact,
    }
    token = f"{_json_text({'typ': 'JWT', 'alg': 'ES256'})}.{_json_text(said)}"
    r, s = decode_dss_signature(key.sign(token.encode(), ec.ECDSA(hashes.SHA256())))
    return f"vapid t={token}.{as_text(r.to_bytes(32) + s.to_bytes(32))}, k={public_text(key)}"


def as_text(raw: bytes) -> str:
    """base64url without its padding (RFC 7515)."""
    return base64.urlsafe_b64encode(raw).rstrip(b"=").decode("ascii")


def from_text(text: str) -> bytes:
    """The bytes behind it. Raises ValueError."""
    return base64.b64decode(text + "=" * (-len(text) % 4), b"-_", validate=True)


def _json_text(said: dict[str, object] | dict[str, str]) -> str:
    return as_text(json.dumps(said, separators=(",", ":")).encode())


def _point(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)


def _derived(secret: bytes, salt: bytes, info: bytes, length: int) -> bytes:
    return HKDF(algorithm=hashes.SHA256(), length=length, salt=salt, info=info).derive(secret)
