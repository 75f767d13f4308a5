"""A closed till as a paper, to print and keep."""

from __future__ import annotations

from fitcounter.papers.bench_records import TillSlip
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Document, Press, print_pdf


def till_slip(
    slip: TillSlip, say: Say = in_english, language: str = "en", press: Press = print_pdf
) -> bytes:
    """What should be there and what was counted, by kind, as PDF. press: what makes it, a PDF
    unless another is given.

    Raises Unavailable when PDFs cannot be made here.
    """
    return press(
        Document(
            "closed_till.html", say("Till, {time}", time=slip.closed_at), slip.paper, language, say
        ),
        number="",
        shop=slip.shop,
        slip=slip,
    )
