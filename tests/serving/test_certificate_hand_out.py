"""The page that hands the authority's certificate to the shop's phones."""

from __future__ import annotations

from dataclasses import replace

from support.served_settings import fetch, plain, running, secure

from fitcounter.serving import certificate, certificate_hand_out
from fitcounter.settings import Settings

__all__ = ["plain", "secure"]  # fixtures


def test_the_authority_is_handed_out_with_its_fingerprint(secure: Settings) -> None:
    """The page over plain HTTP has the file, how to install it, and the fingerprint to compare; no
    key, nothing else.
    """
    folder = secure.data_dir / "certificate"
    plain = replace(secure, https=False, certificate=None, certificate_key=None)
    with running(plain, certificate_hand_out.authority_page(folder)):
        status, page, _ = fetch(plain)
        assert status == 200
        assert certificate.fingerprint(folder).encode() in page
        status, file, answer = fetch(plain, "/authority.crt")
        assert (status, answer.headers["Content-Type"]) == (200, "application/x-x509-ca-cert")
        assert file == certificate.Files(folder).authority.read_bytes()
        assert fetch(plain, "/authority.key")[0] == 404
