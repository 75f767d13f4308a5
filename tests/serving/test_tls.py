"""What the server's own HTTPS agrees to (OWASP ASVS 5.0 12.1.1, 12.1.2)."""

from __future__ import annotations

import ssl
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fitcounter.serving import certificate, server
from fitcounter.settings import Settings


@pytest.fixture
def tls(tmp_path: Path) -> ssl.SSLContext:
    files = certificate.make(tmp_path / "certificate", ["127.0.0.1"], "Shop", datetime.now(UTC))
    settings = replace(
        Settings(data_dir=tmp_path),
        certificate=files.server,
        certificate_key=files.server_key,
        https=True,
    )
    return server.LateHandshake(settings).context


def hands_shaken(tls: ssl.SSLContext, version: ssl.TLSVersion) -> str | None:
    """The version that a phone which knows only this one gets; None where the server refuses.

    In memory, by the real library.
    """
    phone = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    phone.check_hostname, phone.verify_mode = False, ssl.CERT_NONE
    phone.set_ciphers("ALL:@SECLEVEL=0")
    phone.minimum_version = phone.maximum_version = version
    up, down = ssl.MemoryBIO(), ssl.MemoryBIO()
    ours, theirs = tls.wrap_bio(up, down, server_side=True), phone.wrap_bio(down, up)
    for _ in range(4):
        for side in (theirs, ours):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
            except ssl.SSLError:
                return None
    return ours.version()


@pytest.mark.filterwarnings("ignore:ssl.TLSVersion.TLSv1:DeprecationWarning")
def test_only_tls_1_2_and_1_3_with_forward_secrecy(tls: ssl.SSLContext) -> None:
    """Older versions are refused in a real handshake, and every suite draws a key of its own for
    each line.
    """
    assert hands_shaken(tls, ssl.TLSVersion.TLSv1_2) == "TLSv1.2"
    assert hands_shaken(tls, ssl.TLSVersion.TLSv1_3) == "TLSv1.3"
    assert hands_shaken(tls, ssl.TLSVersion.TLSv1_1) is None
    assert hands_shaken(tls, ssl.TLSVersion.TLSv1) is None
    suites = tls.get_ciphers()
    assert suites[0]["protocol"] == "TLSv1.3"
    for suite in suites:
        assert suite["protocol"] == "TLSv1.3" or suite["kea"] in ("kx-ecdhe", "kx-dhe"), suite[
            "name"
        ]
        assert suite["strength_bits"] >= 128, suite["name"]
        assert not any(weak in suite["name"] for weak in ("RC4", "3DES", "NULL", "MD5", "EXP")), (
            suite["name"]
        )
