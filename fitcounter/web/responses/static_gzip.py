"""Style sheets, scripts and drawings go out gzipped (RFC 1952), each packed once.

Pages are packed each for itself: `page_gzip.py`.
"""

from __future__ import annotations

import gzip

from flask import Flask, request
from werkzeug.wrappers import Response

PACKED = (
    "text/css",
    "text/javascript",
    "application/javascript",
    "image/svg+xml",
    "application/manifest+json",
)
SAME_FOR_ALL = ("static", "app_shell.worker")
YEAR_S = 365 * 86400


def wire(app: Flask) -> None:
    held: dict[str, bytes] = {}

    @app.after_request
    def squeeze(response: Response) -> Response:
        if (
            request.endpoint not in SAME_FOR_ALL
            or response.status_code != 200
            or response.mimetype not in PACKED
        ):
            return response
        response.vary.add("Accept-Encoding")
        if request.accept_encodings.quality("gzip") <= 0 or request.range:
            return response
        if request.path not in held:
            response.direct_passthrough = False
            held[request.path] = gzip.compress(response.get_data(), 9, mtime=0)
        response.close()
        response.direct_passthrough = False
        response.set_data(held[request.path])
        response.headers["Content-Encoding"] = "gzip"
        return response
