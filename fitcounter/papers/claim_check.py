"""What the customer is given at the counter: claim check, consent, receipt.

The claim check carries what a careful shop's receipt carries anywhere: name and address, each thing
and how many, each charge, the day we expect it, and how to reach us (a Pennsylvania statute of 1988
lists just these; other places differ).
"""

from __future__ import annotations

from typing import Final

from markupsafe import Markup

from fitcounter.errors import BadInput, message
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Press, print_pdf
from fitcounter.papers.qr_code import MODULE_MM, short_way_to, square
from fitcounter.papers.records import Charge, ClaimCheck, ConsentForm, Paper, Receipt

_PNG: Final = b"\x89PNG\r\n\x1a\n"
_LARGEST_SIGNATURE: Final = 1_000_000  # bytes


def claim_check(check: ClaimCheck, say: Say = in_english, press: Press = print_pdf) -> bytes:
    """The claim check as PDF, in the language of the record. say: gives our sentences in that
    language.

    press: what makes it, a PDF unless another is given.

    Raises Unavailable when PDFs cannot be made here.
    """
    deposit = (Charge(say("Deposit paid"), check.deposit),) if check.deposit else ()
    return press(
        "claim_check.html",
        title=say("Claim check"),
        paper=check.paper,
        language=check.language,
        say=say,
        number=check.number,
        shop=check.shop,
        check=check,
        deposit=deposit,
        square=_way_to(check.link, say("Code to scan for your own page")),
        second=short_way_to(check.link, check.typed, say, _small_module(check.paper)),
    )


def receipt(record: Receipt, say: Say = in_english, press: Press = print_pdf) -> bytes:
    """The receipt as PDF, with the last day of the guarantee and what it covers.

    Raises as claim_check.
    """
    return press(
        "receipt.html",
        title=say("Receipt, ticket {number}", number=record.number),
        paper=record.paper,
        language=record.language,
        say=say,
        number=record.number,
        shop=record.shop,
        receipt=record,
        covers=record.covers or _covers(say),
        not_covered=record.not_covered or _not_covered(say),
        square=_way_to(record.link, say("Code to scan for your calendar")),
    )


def consent(record: ConsentForm, say: Say = in_english, press: Press = print_pdf) -> bytes:
    """The consent as PDF: signed with the picture given, or with a line to sign on. Raises as
    claim_check.

    Raises BadInput when the signature is not a PNG picture of at most a megabyte.
    """
    signature = record.signature_png
    if signature is not None and (
        not signature.startswith(_PNG) or len(signature) > _LARGEST_SIGNATURE
    ):
        raise BadInput(
            message("The signature did not arrive. Please sign again."), field="signature"
        )
    return press(
        "consent.html",
        title=(
            say("What may happen with these boots") if record.boots else say("What you want done")
        ),
        paper=record.paper,
        language=record.language,
        say=say,
        pictures={"signature": signature} if signature else {},
        number=record.number,
        shop=record.shop,
        consent=record,
        signed=signature is not None,
        sides={"left": say("Left"), "right": say("Right"), "": say("Both")},
    )


def _small_module(paper: Paper) -> float:
    """Of the second square: a small sheet has little room."""
    return 0.62 if paper in ("a6", "half") else MODULE_MM


def _covers(say: Say) -> tuple[str, ...]:
    """What the usual guarantee covers."""
    return (
        say(
            "If the boots shrink back: bring them in. We measure them and stretch them again, free."
        ),
        say("Stitching and parts that we put in."),
    )


def _not_covered(say: Say) -> tuple[str, ...]:
    """What it does not."""
    return (
        say("A change in leg size."),
        say("Wear and tear, heat, soaking, and work done by someone else."),
    )


def _way_to(link: str | None, title: str) -> Markup | None:
    """The QR code of the customer's page; its letters are case-sensitive, so it is printed as it
    is.
    """
    return square(link, title=title) if link else None
