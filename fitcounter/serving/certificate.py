"""The shop's own certificate, so that the shop's phones can reach the shop's machine over HTTPS
without a domain.

An authority of the shop's own signs a certificate for the machine; only the authority is installed
on the phones. Name constraints (RFC 5280 §4.2.1.10) keep it from vouching for anything but the
shop's names and private addresses, whoever gets hold of its key. Apple's requirements for trusted
certificates (support article 103769): at most 825 days, SHA-2, the name in subjectAltName, extended
key usage serverAuth; 397 days here, the limit that Apple sets for public ones.
"""

from __future__ import annotations

import argparse
import ipaddress
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from fitcounter.desk.common.translation import say, spoken
from fitcounter.errors import BadInput, NotFound, message
from fitcounter.serving.certificate_files import (
    Files,
    belong_together,
    key_usage,
    new_key,
    read_certificate,
    write_file,
)
from fitcounter.settings import Settings

AUTHORITY_DAYS = 3650
SERVER_DAYS = 397
RENEW_DAYS = 30
# RFC 1918 and RFC 4193: addresses in whose place a router may hand out the next one tomorrow.
PRIVATE = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "fc00::/7")
OWN_MACHINE = ("127.0.0.1/32", "::1/128")
# RFC 1123 §2.1: letters, digits and inner hyphens, in parts of at most 63
HOST_NAME = re.compile(
    r"(?=.{1,253}\Z)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*"
)


def make(folder: Path, names: Sequence[str], shop: str, now: datetime) -> Files:
    """Make, or make again, the server's certificate for `names`; the authority too when the one
    there may not sign them.

    names: host names ("boots.local") and addresses ("192.168.1.20"), at least one; localhost is
    always added. shop: the name that phones show for the authority, "" for any shop's. A new
    authority has to be installed on every phone again. Raises BadInput.
    """
    if not names:
        raise BadInput(
            message(
                "Name at least one name or address of the shop's machine, for example boots.local."
            ),
            field="names",
        )
    wanted = list(
        dict.fromkeys([*(general_name(name) for name in names), x509.DNSName("localhost")])
    )
    files = Files(folder)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if not (
        belong_together(files.authority, files.authority_key)
        and _may_sign(read_certificate(files.authority), wanted, now)
    ):
        _make_authority(files, wanted, shop or say("The shop"), now)
    _make_server(files, wanted, now)
    return files


def general_name(typed: str) -> x509.DNSName | x509.IPAddress:
    """A name as certificates hold it. Raises BadInput unless it is a host name or an IP address."""
    name = typed.strip().lower().rstrip(".")
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        if HOST_NAME.fullmatch(name) and not name.replace(".", "").isdigit():
            return x509.DNSName(name)
    raise BadInput(
        message(
            "Write names like boots.local and addresses like 192.168.1.20, without"
            " https:// or a port."
        ),
        typed=typed,
        field="names",
    )


def renew_if_due(folder: Path, now: datetime) -> bool:
    """Make the server's certificate again, for the same names, when it has less than 30 days left.
    True if it did.

    Also when its key does not belong to it, as after a power cut between the two files. Raises
    NotFound when no certificate was ever made there.
    """
    files = Files(folder)
    if days_left(folder, now) >= RENEW_DAYS and belong_together(files.server, files.server_key):
        return False
    _make_server(files, _names(read_certificate(files.server)), now)
    return True


def days_left(folder: Path, now: datetime) -> int:
    """Whole days until the server's certificate ends; negative after. Raises NotFound."""
    return (read_certificate(Files(folder).server).not_valid_after_utc - now).days


def days_left_if_any(folder: Path, now: datetime) -> int | None:
    """Whole days until the server's certificate ends; None where the shop has none of its own."""
    try:
        return days_left(folder, now)
    except NotFound:
        return None


def with_own_certificate(
    given: argparse.Namespace, environ: Mapping[str, str], now: datetime
) -> Settings:
    """The settings of a shop; with the certificate of `fitcounter certificate`, renewed if due,
    when one was made.

    A certificate that was given wins, and behind a proxy the proxy has the certificate.
    """
    settings = Settings.from_environment(environ, vars(given))
    files = Files(settings.data_dir / "certificate")
    if settings.certificate or settings.proxies or not files.server.is_file():
        return settings
    renew_if_due(files.folder, now)
    hosts = names(files.folder)
    own = {"certificate": files.server, "key": files.server_key}
    address = (
        vars(given).get("address")
        or environ.get("FITCOUNTER_ADDRESS")
        or f"https://{hosts[0]}:{settings.port}"
    )
    settings = Settings.from_environment(environ, vars(given) | own | {"address": address})
    return replace(settings, trusted_hosts=tuple(dict.fromkeys((*settings.trusted_hosts, *hosts))))


def names(folder: Path) -> list[str]:
    """The names and addresses that the server's certificate is for. Raises NotFound."""
    return [str(name.value) for name in _names(read_certificate(Files(folder).server))]


def fingerprint(folder: Path) -> str:
    """SHA-256 of the authority, in pairs of digits, as a phone shows it. Raises NotFound."""
    return read_certificate(Files(folder).authority).fingerprint(hashes.SHA256()).hex(":").upper()


def describe(folder: Path, now: datetime) -> str:
    """What a person wants to know about the certificate, in a few lines. Raises NotFound."""
    files = Files(folder)
    vouches = spoken().listed(_vouches_for(read_certificate(files.authority)))
    return "\n".join(
        (
            say("For: {names}", names=spoken().listed(names(folder))),
            say(
                "Days left: {days} (renewed by itself at a start with less than {least})",
                days=days_left(folder, now),
                least=RENEW_DAYS,
            ),
            say("Vouches for: {names}", names=vouches),
            say(
                "Authority: {file} (install this one file on the shop’s phones, nowhere else)",
                file=files.authority,
            ),
            say("Fingerprint: {fingerprint}", fingerprint=fingerprint(folder)),
        )
    )


def _vouches_for(authority: x509.Certificate) -> list[str]:
    """All that whoever stole the authority's key could pretend to be, to a phone that trusts it."""
    permitted = _permitted(authority)
    names = [
        f"{tree.value}, *.{tree.value}" for tree in permitted if isinstance(tree, x509.DNSName)
    ]
    return names + [str(tree.value) for tree in permitted if isinstance(tree, x509.IPAddress)]


def _permitted(authority: x509.Certificate) -> list[x509.GeneralName]:
    found = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    return list(found.permitted_subtrees or [])


def _names(certificate: x509.Certificate) -> list[x509.DNSName | x509.IPAddress]:
    held = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return [name for name in held if isinstance(name, x509.DNSName | x509.IPAddress)]


def _may_sign(
    authority: x509.Certificate, wanted: Sequence[x509.GeneralName], now: datetime
) -> bool:
    """True if the authority outlives a certificate made now and its name constraints admit every
    name.
    """
    permitted = _permitted(authority)

    def admitted(name: x509.GeneralName) -> bool:
        if isinstance(name, x509.IPAddress):
            networks = [
                ipaddress.ip_network(str(tree.value))
                for tree in permitted
                if isinstance(tree, x509.IPAddress)
            ]
            return any(ipaddress.ip_address(str(name.value)) in network for network in networks)
        return any(
            isinstance(tree, x509.DNSName) and f".{name.value}".endswith(f".{tree.value}")
            for tree in permitted
        )

    return authority.not_valid_after_utc >= now + timedelta(days=SERVER_DAYS) and all(
        admitted(name) for name in wanted
    )


def _network(address: str) -> ipaddress.IPv4Network | ipaddress.IPv6Network:
    """What the authority may vouch for with an address: itself; of a private one, whose router may
    give the machine another, the addresses beside it.
    """
    there = ipaddress.ip_address(address)
    by_router = any(there in ipaddress.ip_network(text) for text in PRIVATE)
    beside = (24 if there.version == 4 else 64) if by_router else there.max_prefixlen
    return ipaddress.ip_network(f"{there}/{beside}", strict=False)


def _make_authority(
    files: Files, wanted: Sequence[x509.GeneralName], shop: str, now: datetime
) -> None:
    key = new_key(files.authority_key)
    own = say("{shop} (own phones only)", shop=shop[:50])
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, own)])
    networks = [ipaddress.ip_network(text) for text in OWN_MACHINE]
    networks += [_network(str(name.value)) for name in wanted if isinstance(name, x509.IPAddress)]
    trees: list[x509.GeneralName] = [name for name in wanted if isinstance(name, x509.DNSName)]
    trees += [x509.IPAddress(network) for network in networks]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))  # a phone's clock may be a little behind
        .not_valid_after(now + timedelta(days=AUTHORITY_DAYS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(key_usage(signs_certificates=True), critical=True)
        .add_extension(
            x509.NameConstraints(permitted_subtrees=trees, excluded_subtrees=None), critical=True
        )
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    write_file(files.authority, certificate.public_bytes(serialization.Encoding.PEM), 0o644)


def _make_server(files: Files, wanted: Sequence[x509.GeneralName], now: datetime) -> None:
    authority = read_certificate(files.authority)
    if not belong_together(files.authority, files.authority_key):
        raise NotFound(
            message(
                "The authority's key is missing. Make a new authority with: fitcounter"
                " certificate NAME"
            ),
            field="names",
        )
    authority_key = serialization.load_pem_private_key(
        files.authority_key.read_bytes(), password=None
    )
    assert isinstance(authority_key, ec.EllipticCurvePrivateKey)  # the pair was made here
    key = new_key(files.server_key)
    start = now - timedelta(hours=1)
    certificate = (
        x509.CertificateBuilder()
        .subject_name(
            x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, str(wanted[0].value)[:64])])
        )
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(min(start + timedelta(days=SERVER_DAYS), authority.not_valid_after_utc))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(key_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(wanted), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )
    write_file(files.server, certificate.public_bytes(serialization.Encoding.PEM), 0o644)
