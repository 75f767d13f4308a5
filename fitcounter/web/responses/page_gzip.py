"""Pages go out gzipped (RFC 1952) to whoever can read them so. Their tokens are masked
(`guards/csrf_token.py`), so that the length of a page gives none away.
"""

from __future__ import annotations

import gzip

from flask import Flask, request
from werkzeug.wrappers import Response

LEAST_BYTES = 1000  # less is one packet on any line
LEVEL = 4  # most of the gain for little of the time


def wire(app: Flask) -> None:
    """To be wired before all else, so that it packs what the others have made of an answer."""

    @app.after_request
    def pack(response: Response) -> Response:
        if response.mimetype != "text/html" or response.is_streamed:
            return response
        if len(response.get_data()) < LEAST_BYTES:  # as every redirect: goes out as it is, always
            return response
        response.vary.add("Accept-Encoding")
        if request.accept_encodings.quality("gzip") > 0:
            response.set_data(gzip.compress(response.get_data(), LEVEL, mtime=0))
            response.headers["Content-Encoding"] = "gzip"
        return response
