"""A closed till prints what should be there beside what was counted."""

from __future__ import annotations

from fitcounter.papers import closed_till
from fitcounter.papers.bench_records import TillSlip, TillSlipLine
from fitcounter.papers.pdf import page_press
from fitcounter.papers.records import Letterhead

LINES = (
    TillSlipLine("Cash", "$45.50", "−$10.50", "$35.00", "$33.00", "$2.00 short."),
    TillSlipLine("Card", "$22.00", "$0.00", "$22.00", "$22.00", "Right to the cent."),
)
SHOP = Letterhead("Quillmarsh Leather Bench", "(555) 010-0100", tax_number="DE 123")
SLIP = TillSlip(SHOP, "Mar 17, 6:05 PM", "OW", "$100.00", LINES, "$2.00 short.", "two coins")


def test_every_kind_stands_with_its_difference():
    page = closed_till.till_slip(SLIP, press=page_press("print.css", "no PDFs here")).decode()
    for words in (
        "Till, Mar 17, 6:05 PM",
        "$2.00 short.",
        "Right to the cent.",
        "Tax number DE 123",
        "Cash with $100.00 change from before.",
        "two coins",
        "Closed by OW.",
    ):
        assert words in page
