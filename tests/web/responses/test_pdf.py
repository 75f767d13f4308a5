"""A paper on its way to the browser."""

from __future__ import annotations

from flask import Flask

from fitcounter.web.responses.pdf import as_pdf


def test_a_pdf_is_shown_in_the_browser_and_kept_under_its_own_name() -> None:
    with Flask(__name__).test_request_context():
        answer = as_pdf(b"%PDF-1.7", "bench-card")

    assert answer.data == b"%PDF-1.7"
    assert answer.mimetype == "application/pdf"
    assert answer.headers["Content-Disposition"] == 'inline; filename="bench-card.pdf"'
