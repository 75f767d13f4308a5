"""Letters and cards to one customer: the leg card, and the letter about things not picked up.

The leg card is body data, for that customer alone. The letter asks; it never says that something
will happen by itself, because what a shop may do with things not picked up differs by place.
"""

from __future__ import annotations

from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Document, Press, print_pdf
from fitcounter.papers.records import LegCard, NoticeLetter


def leg_card(card: LegCard, say: Say = in_english, press: Press = print_pdf) -> bytes:
    """Both legs at the heights read, as PDF. say: gives our sentences in the customer's language.

    press: what makes it, a PDF unless another is given.

    Raises Unavailable when PDFs cannot be made here.
    """
    return press(
        Document("leg_card.html", say("Your leg measurements"), card.paper, card.language, say),
        shop=card.shop,
        card=card,
        units={"in": say("inches"), "cm": "cm", "mm": "mm"},
    )


def notice_letter(letter: NoticeLetter, say: Say = in_english, press: Press = print_pdf) -> bytes:
    """The letter about things not picked up, as PDF. Raises as leg_card."""
    return press(
        Document(
            "notice.html",
            say("Your items are ready to pick up"),
            letter.paper,
            letter.language,
            say,
        ),
        number=letter.number,
        shop=letter.shop,
        letter=letter,
    )
