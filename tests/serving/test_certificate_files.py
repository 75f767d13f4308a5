"""Certificates and keys as files: for their owner alone, and together or made again."""

from __future__ import annotations

import ssl
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fitcounter.serving import certificate

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


@pytest.fixture
def files(tmp_path: Path) -> certificate.Files:
    """A certificate made now, in the certificate folder of an empty shop."""
    return certificate.make(tmp_path / "certificate", ("boots.local",), "Bridge Street Boots", NOW)


def test_keys_are_for_their_owner_alone(files: certificate.Files) -> None:
    """Key files have mode 0600 and their folder 0700; the certificates are no secret."""
    assert {path.stat().st_mode & 0o777 for path in (files.authority_key, files.server_key)} == {
        0o600
    }
    assert files.folder.stat().st_mode & 0o777 == 0o700
    assert {path.suffix for path in files.folder.iterdir()} == {".crt", ".key"}


def test_a_certificate_without_its_key_is_made_again(files: certificate.Files) -> None:
    """After a power cut between the two files, or with a key file that is gone, the next start has
    a pair again.
    """
    for broken in (b"", None, files.authority_key.read_bytes()):
        files.server_key.unlink() if broken is None else files.server_key.write_bytes(broken)

        assert certificate.renew_if_due(files.folder, NOW)
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(
            files.server, files.server_key
        )
