"""Certificates and keys as files, and the small parts they are made of."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from fitcounter.errors import NotFound, message


class Files(NamedTuple):
    """Where the four files lie in a folder: the authority and the server's certificate, each with
    its key (mode 0600).
    """

    folder: Path

    @property
    def authority(self) -> Path:
        return self.folder / "authority.crt"

    @property
    def authority_key(self) -> Path:
        return self.folder / "authority.key"

    @property
    def server(self) -> Path:
        return self.folder / "server.crt"

    @property
    def server_key(self) -> Path:
        return self.folder / "server.key"


def read_certificate(path: Path) -> x509.Certificate:
    """The certificate in a PEM file. Raises NotFound."""
    try:
        return x509.load_pem_x509_certificate(path.read_bytes())
    except OSError as error:
        raise NotFound(
            message("There is no certificate yet. Make one with: fitcounter certificate NAME"),
            field="names",
        ) from error
    except ValueError as error:
        raise NotFound(
            message(
                "{path} is not a certificate. Move it away, then: fitcounter certificate NAME",
                path=path,
            ),
            field="names",
        ) from error


def belong_together(certificate: Path, key: Path) -> bool:
    """True if both files are there and belong together."""
    if not (certificate.is_file() and key.is_file()):
        return False
    try:
        private = serialization.load_pem_private_key(key.read_bytes(), password=None)
    except ValueError:
        return False
    return private.public_key() == read_certificate(certificate).public_key()


def key_usage(*, signs_certificates: bool) -> x509.KeyUsage:
    """RFC 5280 §4.2.1.3: an authority signs certificates and lists of revoked ones, a server
    nothing but its handshakes.
    """
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def new_key(path: Path) -> ec.EllipticCurvePrivateKey:
    """A fresh P-256 key, written to the file with mode 0600."""
    key = ec.generate_private_key(ec.SECP256R1())
    form = serialization.PrivateFormat.PKCS8
    write_file(
        path,
        key.private_bytes(serialization.Encoding.PEM, form, serialization.NoEncryption()),
        0o600,
    )
    return key


def write_file(path: Path, content: bytes, mode: int) -> None:
    """Write a file that is never seen half-written nor, for a moment, with wider rights."""
    draft = path.with_suffix(f"{path.suffix}.new")
    draft.unlink(missing_ok=True)
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(path)
