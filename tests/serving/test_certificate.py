"""The shop's own certificate: what it says, whom it can vouch for, and that real TLS accepts it
(ssl, cryptography's verifier).
"""

from __future__ import annotations

import ipaddress
import ssl
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from fitcounter.errors import BadInput, NotFound
from fitcounter.serving import certificate

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
NAMES = ["boots.local", "192.168.1.20"]


@pytest.fixture
def files(tmp_path: Path) -> certificate.Files:
    """A certificate made now, in the certificate folder of an empty shop."""
    return certificate.make(tmp_path / "certificate", NAMES, "Bridge Street Boots", NOW)


def read(path: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(path.read_bytes())


def subject(name: str) -> x509.DNSName | x509.IPAddress:
    return certificate.general_name(name)


@pytest.mark.parametrize("name", [*NAMES, "localhost"])
def test_a_verifier_accepts_it_for_every_name(files: certificate.Files, name: str) -> None:
    """The chain holds by cryptography's own verifier, which follows RFC 5280 and the CA/Browser
    Forum's rules.
    """
    store = Store([read(files.authority)])
    verifier = PolicyBuilder().store(store).time(NOW).build_server_verifier(subject(name))

    assert verifier.verify(read(files.server), []) == [read(files.server), read(files.authority)]


@pytest.mark.parametrize(
    ("name", "later"),
    [("bank.example", 0), ("192.168.1.21", 0), ("boots.local", 398), ("boots.local", -1)],
)
def test_a_verifier_refuses_other_names_and_other_times(
    files: certificate.Files, name: str, later: int
) -> None:
    """It is good for its own names, for its own days."""
    moment = NOW + timedelta(days=later)
    verifier = (
        PolicyBuilder()
        .store(Store([read(files.authority)]))
        .time(moment)
        .build_server_verifier(subject(name))
    )

    with pytest.raises(VerificationError):
        verifier.verify(read(files.server), [])


def handshake(server: ssl.SSLContext, client: ssl.SSLContext, name: str) -> str:
    """Do a real TLS handshake between two ends in memory.

    Returns the protocol's version; raises ssl.SSLError.
    """
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    ends = [
        client.wrap_bio(to_client, to_server, server_hostname=name),
        server.wrap_bio(to_server, to_client, server_side=True),
    ]
    for _ in range(6):
        for end in ends:
            try:
                end.do_handshake()
            except ssl.SSLWantReadError:
                continue
    return str(ends[0].version())


@pytest.mark.parametrize("name", [*NAMES, "localhost"])
def test_openssl_accepts_it_in_a_real_handshake(files: certificate.Files, name: str) -> None:
    """A client that trusts the authority alone shakes hands with a server that has the
    certificate.
    """
    # OpenSSL judges by the machine's own clock, so this one is made with the true time.
    certificate.make(files.folder, NAMES, "Bridge Street Boots", datetime.now(UTC))
    server = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    server.load_cert_chain(files.server, files.server_key)
    client = ssl.create_default_context(cafile=str(files.authority))

    assert handshake(server, client, name) == "TLSv1.3"
    with pytest.raises(ssl.SSLCertVerificationError):
        handshake(server, client, "bank.example")
    with pytest.raises(ssl.SSLCertVerificationError):
        handshake(server, ssl.create_default_context(), name)


def test_it_keeps_to_what_phones_ask(files: certificate.Files) -> None:
    """At most 397 days, serverAuth, names in subjectAltName, EC P-256 with SHA-256, an authority of
    five to ten years.
    """
    server, authority = read(files.server), read(files.authority)
    names = server.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    uses = server.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value

    assert server.not_valid_after_utc - server.not_valid_before_utc <= timedelta(days=397)
    assert list(uses) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert names.get_values_for_type(x509.DNSName) == ["boots.local", "localhost"]
    assert names.get_values_for_type(x509.IPAddress) == [ipaddress.ip_address("192.168.1.20")]
    assert (
        timedelta(days=5 * 365) <= authority.not_valid_after_utc - NOW <= timedelta(days=10 * 366)
    )
    for one in (server, authority):
        key = one.public_key()
        assert isinstance(key, ec.EllipticCurvePublicKey)
        assert isinstance(key.curve, ec.SECP256R1)
        assert isinstance(one.signature_hash_algorithm, hashes.SHA256)


def test_a_stolen_authority_cannot_vouch_for_a_bank(files: certificate.Files) -> None:
    """Name constraints: a certificate that the authority's key signs for a foreign name is
    refused.
    """
    key = serialization.load_pem_private_key(files.authority_key.read_bytes(), None)
    assert isinstance(key, ec.EllipticCurvePrivateKey)
    own = read(files.server)

    def forge(name: x509.GeneralName) -> x509.Certificate:
        builder = x509.CertificateBuilder(
            own.issuer,
            own.subject,
            own.public_key(),
            7,
            own.not_valid_before_utc,
            own.not_valid_after_utc,
        )
        for extension in own.extensions:
            changed = (
                x509.SubjectAlternativeName([name])
                if isinstance(extension.value, x509.SubjectAlternativeName)
                else extension.value
            )
            builder = builder.add_extension(changed, extension.critical)
        return builder.sign(key, hashes.SHA256())

    def accepted(name: x509.DNSName | x509.IPAddress) -> bool:
        verifier = (
            PolicyBuilder()
            .store(Store([read(files.authority)]))
            .time(NOW)
            .build_server_verifier(name)
        )
        try:
            verifier.verify(forge(name), [])
        except VerificationError:
            return False
        return True

    assert accepted(subject("192.168.1.99"))  # the router may give the machine the one beside
    for foreign in ("10.9.8.7", "192.168.2.20", "127.0.0.2", "printer.local"):
        assert not accepted(subject(foreign)), foreign
    assert not accepted(subject("bank.example"))
    assert not accepted(subject("203.0.113.7"))


def test_it_says_all_that_its_authority_could_vouch_for(tmp_path: Path) -> None:
    """To whoever installs it on a phone; with a name alone, no address but the machine's own."""
    folder = tmp_path / "certificate"
    certificate.make(folder, ["boots.local", "192.168.1.20", "203.0.113.7"], "Shop", NOW)
    assert (
        "Vouches for: boots.local, *.boots.local, localhost, *.localhost, 127.0.0.1/32, ::1/128,"
        " 192.168.1.0/24, and 203.0.113.7/32"
    ) in certificate.describe(folder, NOW)
    certificate.make(tmp_path / "named", ["boots.local"], "Shop", NOW)
    said = certificate.describe(tmp_path / "named", NOW).splitlines()[2]
    assert said == "Vouches for: boots.local, *.boots.local, localhost, *.localhost," + (
        " 127.0.0.1/32, and ::1/128"
    )


def test_it_is_renewed_when_less_than_thirty_days_are_left(files: certificate.Files) -> None:
    """At a start in its last 30 days it is made again for the same names, by the same authority;
    before that it is left alone.
    """
    authority, server = files.authority.read_bytes(), files.server.read_bytes()

    assert not certificate.renew_if_due(files.folder, NOW + timedelta(days=366))
    assert files.server.read_bytes() == server
    assert certificate.renew_if_due(files.folder, NOW + timedelta(days=367))
    assert certificate.days_left(files.folder, NOW + timedelta(days=367)) == 396
    assert certificate.names(files.folder) == ["boots.local", "192.168.1.20", "localhost"]
    assert files.authority.read_bytes() == authority


def test_the_authority_stays_while_it_may_vouch_for_the_names(files: certificate.Files) -> None:
    """Phones keep what they have installed when the machine's address changes; a new name needs a
    new authority.
    """
    before = certificate.fingerprint(files.folder)

    certificate.make(
        files.folder,
        ["boots.local", "192.168.1.77", "till.boots.local"],
        "Bridge Street Boots",
        NOW,
    )
    assert certificate.fingerprint(files.folder) == before

    certificate.make(files.folder, ["shoes.local"], "Bridge Street Boots", NOW)
    assert certificate.fingerprint(files.folder) != before
    assert before not in certificate.describe(files.folder, NOW)


@pytest.mark.parametrize(
    "typed",
    [
        "https://boots.local",
        "boots.local:8443",
        "",
        " ",
        "-boots",
        "boots_local",
        "192.168.1",
        "a" * 64,
        "bö.local",
        "*.x",
    ],
)
def test_a_name_that_is_none_is_refused(tmp_path: Path, typed: str) -> None:
    """Anything but a host name or an address is answered by a sentence, and nothing is made."""
    with pytest.raises(BadInput, match=r"boots\.local") as caught:
        certificate.make(tmp_path / "certificate", [typed], "Shop", NOW)

    assert caught.value.typed == typed
    assert not (tmp_path / "certificate").exists()


def test_without_a_certificate_the_way_to_one_is_said(tmp_path: Path) -> None:
    """Asking for a certificate that was never made, or that is damaged, says the command."""
    with pytest.raises(NotFound, match="fitcounter certificate NAME"):
        certificate.describe(tmp_path, NOW)
    (tmp_path / "server.crt").write_text("rubbish", encoding="ascii")
    with pytest.raises(NotFound, match="is not a certificate"):
        certificate.days_left(tmp_path, NOW)


def test_the_shops_name_is_what_phones_show(files: certificate.Files) -> None:
    """The authority carries the shop's name, and says that it is for own phones."""
    assert (
        read(files.authority).subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value
        == "Bridge Street Boots (own phones only)"
    )
