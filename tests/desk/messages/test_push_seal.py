"""Sealed so that one phone reads it, signed so that one shop can send it: the RFCs' own vectors."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from cryptography.exceptions import InvalidSignature, InvalidTag
from cryptography.hazmat.primitives.asymmetric import ec
from support.push_service import claims, opened, point

from fitcounter.desk.messages import push_seal
from fitcounter.desk.messages.push_seal import as_text, from_text

# RFC 8291, section 5 and Appendix A.
WORDS = b"When I grow up, I want to be a watermelon"
SENDER = "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw"
RECEIVER = "q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"
PUBLIC = "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"
SECRET, SALT = "BTBZMqHH6r4Tts7J_aSIgg", "DGv6ra1nlYgDCS1FRnbzlw"
BODY = (
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmY"
    "WAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexS"
    "gSxsj_Qulcy4a-fN"
)
# RFC 8292, section 2.4.
SIGNED = (
    "vapid t=eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9.eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQ"
    "iLCJleHAiOjE0NTM1MjM3NjgsInN1YiI6Im1haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0.i3CYb7t4xfxCDquptFO"
    "epC9GAu_HLGkMlMuCGSK2rpiUfnK9ojFwDXb1JrErtmysazNjjvW2L9OkSSHzvoD1oA, k=BA1Hxzyi1RUM1b5wj"
    "xsn7nGxAszw2u61m164i3MrAIxHF6YK5h4SDYic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs"
)
KEYS = "0123456789abcdef" * 4
NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


def private(text: str) -> ec.EllipticCurvePrivateKey:
    return ec.derive_private_key(int.from_bytes(from_text(text)), ec.SECP256R1())


def test_the_appendix_comes_out_byte_for_byte():
    phone = (from_text(PUBLIC), from_text(SECRET))
    assert as_text(push_seal.seal(WORDS, phone, private(SENDER), from_text(SALT))) == BODY
    assert opened(from_text(BODY), private(RECEIVER), from_text(SECRET)) == WORDS


def test_only_that_phone_opens_it_and_its_length_tells_nothing():
    key, secret = ec.generate_private_key(ec.SECP256R1()), b"sixteen of these"
    public = as_text(point(key.public_key()))
    short, long = (push_seal.sealed(words, public, as_text(secret)) for words in (b"a", b"b" * 400))
    assert opened(short, key, secret) == b"a"
    assert len(short) == len(long)
    with pytest.raises(InvalidTag):
        opened(short, key, b"another sixteen.")
    with pytest.raises(ValueError, match="too long"):
        push_seal.sealed(b"c" * 4000, public, as_text(secret))


def test_the_signature_says_to_whom_until_when_and_from_whom():
    """The reader of the test takes the RFC's own example, and no other signature of it."""
    assert claims(SIGNED)["sub"] == "mailto:push@example.com"
    with pytest.raises(InvalidSignature):
        claims(SIGNED.replace("i3CYb7t4", "i3CYb7t5"))
    key = push_seal.shop_key(KEYS)
    contact = "mailto:shop@example.org"
    made = push_seal.signed(key, "https://push.example.net/p/1", contact, NOW)
    ends = int(NOW.timestamp()) + 12 * 3600
    assert claims(made) == {"aud": "https://push.example.net", "exp": ends, "sub": contact}
    assert made.endswith(f"k={push_seal.public_text(key)}")


def test_the_key_is_made_again_from_the_shops_keys_and_is_another_for_another_shop():
    one, again = (push_seal.public_text(push_seal.shop_key(KEYS)) for _ in range(2))
    assert one == again != push_seal.public_text(push_seal.shop_key(KEYS[::-1]))
    assert push_seal.is_key(one, SECRET)


@pytest.mark.parametrize(
    ("p256dh", "auth"),
    [
        (PUBLIC[:-4] + "AAAA", SECRET),
        (PUBLIC[:40], SECRET),
        ("", ""),
        ("not base64 at all", SECRET),
        (PUBLIC, SECRET[:10]),
        (PUBLIC, SECRET + "AAAA"),
    ],
)
def test_what_is_no_point_of_the_curve_or_no_secret_is_no_key(p256dh: str, auth: str):
    assert not push_seal.is_key(p256dh, auth)
