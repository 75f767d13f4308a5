"""The headers of every answer, errors and static files included.

Staff pages are never kept by a browser or a proxy.
"""

from __future__ import annotations

from flask import Flask, g, request
from werkzeug.wrappers import Response

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src"
    " 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; media-src 'self' blob:;"
    " form-action 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'"
)
# Of a file that is no page nothing is loaded: the page that uses it has its own policy. A phone
# fetches some thirty of them at its first visit, so this one is short.
OF_A_FILE = (
    "default-src 'none'; form-action 'self'; base-uri 'none'; object-src 'none'; frame-ancestors"
    " 'none'"
)
_ALWAYS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=()",
}


def wire(app: Flask) -> None:
    @app.after_request
    def set_headers(response: Response) -> Response:
        if request.endpoint == "static" and response.mimetype != "text/html":
            response.headers.setdefault("Content-Security-Policy", OF_A_FILE)
        there = {name for name, _ in response.headers}
        for name, value in _ALWAYS.items():
            if name not in there:
                response.headers.add(name, value)
        if request.is_secure:
            response.headers.setdefault(
                "Strict-Transport-Security", "max-age=31536000; includeSubDomains"
            )
        if request.endpoint != "static" and "Cache-Control" not in response.headers:
            response.headers["Cache-Control"] = "no-store"
        if g.get("signed_out"):
            response.headers["Clear-Site-Data"] = '"cache", "storage"'
        return response
