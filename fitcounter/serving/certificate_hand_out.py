"""The page that hands the authority's certificate to the shop's phones."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import Any

from fitcounter.desk.common.translation import say, spoken
from fitcounter.serving import certificate, certificate_files
from fitcounter.serving.server import Application, serve
from fitcounter.settings import Settings, lan_address

_PAGE = """<!doctype html>
<html lang="{lang}"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{title}</title></head>
<body><h1>{title}</h1>
<p>{what}</p>
<p><a href="/authority.crt">{get}</a></p>
<h2>iPhone</h2><p>{iphone}</p>
<h2>Android</h2><p>{android}</p>
<h2>{compare}</h2><p>{same}<br><code>{fingerprint}</code></p>
</body></html>
"""


def hand_out(folder: Path, settings: Settings) -> None:
    """Give the authority's certificate, which is no secret, to phones over plain HTTP, until
    stopped.

    Plain, because a phone trusts our HTTPS only afterwards; so the page and the terminal show the
    fingerprint to compare.
    """
    address = f"http://{lan_address()}:{settings.port}/"
    greeting = say(
        "On the phone, open {address} and compare the fingerprint. Stop with Ctrl-C when every"
        " phone has it.",
        address=address,
    )
    serve(authority_page(folder), settings, greeting)


def _words() -> dict[str, str]:
    """What the page says, in the language spoken now."""
    return {
        "lang": spoken().code,
        "title": say("The shop’s certificate"),
        "what": say(
            "For the shop’s own phones only. It lets them reach the shop’s computer safely; it can"
            " vouch for nothing else."
        ),
        "get": say("Download the certificate"),
        "iphone": say(
            "Allow the download. Settings: Profile Downloaded, Install. Then Settings, General,"
            " About, Certificate Trust Settings: switch it on for the shop."
        ),
        "android": say(
            "Settings, Security, Install a certificate, CA certificate: choose the file."
        ),
        "compare": say("Compare before you install"),
        "same": say("SHA-256 fingerprint, the same as on the shop’s computer:"),
    }


def authority_page(folder: Path) -> Application:
    """A WSGI application with a page that says how to install the authority, and the file
    itself.
    """
    file = certificate_files.Files(folder).authority.read_bytes()
    words = {"fingerprint": certificate.fingerprint(folder), **_words()}
    page = _PAGE.format(**{name: escape(text) for name, text in words.items()}).encode("utf-8")
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
