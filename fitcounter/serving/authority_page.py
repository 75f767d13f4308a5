"""The page that hands the authority's certificate to the shop's phones."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import Any

from fitcounter.serving import certificate, certificate_files
from fitcounter.serving.server import Application, serve
from fitcounter.settings import Settings, lan_address

_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>The shop's certificate</title></head>
<body><h1>The shop's certificate</h1>
<p>For the shop's own phones only. It lets them reach the shop's machine safely; it can vouch for
nothing else.</p>
<p><a href="/authority.crt">Fetch the certificate</a></p>
<h2>iPhone</h2><p>Allow the download. Settings: Profile downloaded, Install. Then Settings, General,
About, Certificate Trust Settings: switch it on for the shop.</p>
<h2>Android</h2><p>Settings, Security, Install a certificate, CA certificate: choose the file.</p>
<h2>Compare before you install</h2><p>SHA-256 fingerprint, the same as on the shop's
machine:<br><code>{fingerprint}</code></p>
</body></html>
"""


def hand_out(folder: Path, settings: Settings) -> None:
    """Give the authority's certificate, which is no secret, to phones over plain HTTP, until
    stopped.

    Plain, because a phone trusts our HTTPS only afterwards; so the page and the terminal show the
    fingerprint to compare.
    """
    address = f"http://{lan_address()}:{settings.port}/"
    greeting = (
        f"On the phone, open {address} and compare the fingerprint. Stop with Ctrl-C when every"
        " phone has it."
    )
    serve(authority_page(folder), settings, greeting)


def authority_page(folder: Path) -> Application:
    """A WSGI application with a page that says how to install the authority, and the file
    itself.
    """
    file = certificate_files.Files(folder).authority.read_bytes()
    page = _PAGE.format(fingerprint=escape(certificate.fingerprint(folder))).encode("utf-8")
    answers = {
        "/": ("text/html; charset=utf-8", page),
        "/authority.crt": ("application/x-x509-ca-cert", file),
    }

    def application(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        kind, content = answers.get(environ["PATH_INFO"], ("", b""))
        status = "200 OK" if kind else "404 Not Found"
        headers = [
            ("Content-Type", kind or "text/plain"),
            ("Content-Length", str(len(content))),
            ("Cache-Control", "no-store"),
        ]
        start_response(
            status,
            [
                *headers,
                ("X-Content-Type-Options", "nosniff"),
                ("Content-Security-Policy", "default-src 'none'"),
            ],
        )
        return [content if environ["REQUEST_METHOD"] == "GET" else b""]

    return application
