"""What every answer says of its kind, and who may keep it or lend it to another site."""

from __future__ import annotations

from werkzeug.test import TestResponse

# What a phone may hold: the worker and the page of nobody; its own calendar; a picture of a boot
# for an hour, wiped at signing out.
KEPT = {
    "app_shell.worker": "no-cache",
    "customer.worker": "no-cache",
    "customer.feed": "private, no-cache",
    "photos.show": "private, max-age=3600",
}
STARTS = {"application/pdf": b"%PDF-", "image/jpeg": b"\xff\xd8", "text/html": b"<!"}


def check_kind(answer: TestResponse, address: str, endpoint: str, secure: bool) -> None:
    """Charset on every text; no-store but on files with a version; no CORS; HTTPS for a year, also
    under the shop's name (3.4.1, 3.4.2, 4.1.1, 14.3.2).
    """
    headers = answer.headers
    assert "Access-Control-Allow-Origin" not in headers, address
    if secure:
        year = "max-age=31536000; includeSubDomains"
        assert headers["Strict-Transport-Security"] == year, address
    if answer.data:
        assert answer.mimetype, address
        if answer.mimetype.startswith("text/"):
            kind = headers["Content-Type"]
            assert "charset=utf-8" in kind.split("; "), (address, kind)
        assert answer.data.startswith(STARTS.get(answer.mimetype, b"")), address
    if not address.startswith("/static/") and answer.status_code == 200:
        assert headers["Cache-Control"] == KEPT.get(endpoint, "no-store"), (address, endpoint)
