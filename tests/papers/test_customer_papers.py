"""What the customer gets on paper: claim check, receipt, consent, leg card and letter, in their own
language.
"""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from papers.paper_records import CLAIM, CONSENT, LEG_CARD, LINK, NAME, NOTICE, RECEIPT, printed
from PIL import Image, ImageDraw

from fitcounter.desk.common.translation import speech
from fitcounter.errors import BadInput
from fitcounter.papers import records
from fitcounter.papers.claim_check import claim_check, consent, receipt
from fitcounter.papers.html import in_english, plain
from fitcounter.papers.letters import leg_card, notice_letter


def test_twelve_things_begin_under_what_is_said_of_them(reader):
    """A list longer than what is left of the first page begins on it and goes on, rather than
    leaving that page empty.
    """
    many = tuple(records.ItemLine(f"Thing {n}", 1, "heel tips, half soles") for n in range(14))
    for make, record in ((claim_check, CLAIM), (receipt, RECEIPT)):
        first, *rest = reader.pages(make(replace(record, items=many)))
        assert "Thing 8" in first
        assert len(rest) == 1


def test_a_claim_check_has_every_field_of_a_careful_receipt(reader):
    """Number, name and address, each thing with its count and the sum, each charge, the day, and
    how to reach the shop.
    """
    text = reader.text(printed(claim_check, CLAIM))
    for words in (
        "Your number 41",
        NAME,
        "14 Tansy Court, Millbrook",
        "2 Chestnut tall boots, inside zip",
        "1 Bag, oxblood, brass clasp",
        "3 in all",
        "Stretching the pair, up to two goes $45.00",
        "Stitching the strap $18.00",
        "Total $63.00",
        "Deposit paid −$20.00",
        "Balance $43.00",
        "Saturday, April 25, 2026",
        "March 17, 2026",
        "555 0142",
        "8 Sallow Row",
        "Not more than $90.00 without asking you first.",
        "by Cora",
    ):
        assert words in text


def test_a_claim_check_without_a_day_or_a_link_says_so(reader):
    """No day is invented, and no square leads nowhere."""
    pdf = claim_check(replace(CLAIM, ready_on=None, link=None))
    assert "We will call you with a date." in reader.text(pdf)
    assert reader.codes(reader.picture(pdf)) == []


@pytest.mark.parametrize("make", [claim_check, receipt], ids=["claim check", "receipt"])
def test_her_link_is_in_the_square_as_it_is(make, reader):
    """The square on claim check and receipt leads to her own page; capitals and small letters are
    kept.
    """
    pdf = printed(make, CLAIM if make is claim_check else RECEIPT)
    assert [text for text, _ in reader.codes(reader.picture(pdf))] == [LINK]


@pytest.mark.parametrize(
    ("shows", "words"),
    [
        ("boots", "Scan to see where your boots are."),
        ("items", "Scan to see where your items are."),
        ("ticket", "Scan to see your page."),
    ],
)
def test_the_code_of_a_receipt_says_what_her_page_shows_now(reader, shows, words):
    """A calendar is not promised for boots that are at the shop, nor with a bag."""
    text = reader.text(receipt(replace(RECEIPT, shows=shows)))
    assert words in text
    assert "calendar" not in text


def test_a_receipt_says_how_long_and_what_is_covered(reader):
    """The last day covered, what the guarantee covers and what not, what the boots did and who
    fetched them.
    """
    text = reader.text(printed(receipt, RECEIPT))
    for words in (
        "Sunday, April 25, 2027",
        "If the boots shrink back: bring them in.",
        "A change in leg size.",
        "That day is the last",
        "from 14 15/16 to 15 1/2 at 10 1/2, grown by 9/16",
        "by Tobias Renwick",
    ):
        assert words in text
    assert "Your wearing-in calendar." in text
    own = reader.text(receipt(replace(RECEIPT, covers=("Only the zip.",))))
    assert "Only the zip." in own
    assert "shrink back" not in own
    assert "Guaranteed" not in reader.text(receipt(replace(RECEIPT, guarantee_until=None)))


def signature() -> bytes:
    """A finger's signature as the counter's screen gives it."""
    picture = Image.new("RGBA", (600, 200), (0, 0, 0, 0))
    ImageDraw.Draw(picture).line(
        [(20, 150), (80, 40), (120, 160), (200, 60), (560, 100)], fill=(0, 0, 0, 255), width=6
    )
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def test_a_consent_shows_the_signature_or_a_line_for_it(reader):
    """Signed, the picture is on the page with a description; not signed, there is no picture."""
    signed = consent(
        replace(CONSENT, signature_png=signature(), signed_name=NAME, signed_on=date(2026, 3, 17))
    )
    assert len(reader.read(signed).pages[0].images) == 1
    assert f"Signature of {NAME}".encode("utf-16-be") in signed or "Figure" in reader.tags(signed)
    assert not reader.read(printed(consent, CONSENT)).pages[0].images
    assert "tape frayed" in reader.text(signed)
    assert "Text version 2026-1." in reader.text(signed)
    assert "No damage seen on either boot." in reader.text(consent(replace(CONSENT, findings=())))


@pytest.mark.parametrize(
    "wrong", [b"", b"GIF89a", b"<svg onload=x>", b"\x89PNG\r\n\x1a\n" + b"0" * 1_000_001]
)
def test_a_broken_signature_is_asked_for_again(wrong):
    """What is no small PNG is refused with a sentence, never dropped in silence."""
    with pytest.raises(BadInput, match="Please sign again"):
        consent(replace(CONSENT, signature_png=wrong))


def test_a_leg_card_is_the_customers(reader):
    """Both legs at the heights read, what to look for, and the caution; a height that was not read
    stays empty.
    """
    text = reader.text(printed(leg_card, LEG_CARD))
    assert "10 1/2 15 1/4 15 7/16" in text
    assert "a shaft of at least 15 3/4 at 10 1/2" in text
    assert "see a doctor today" in text
    assert "For Marisol only. Measured on March 17, 2026." in text
    assert "For you only. Measured on March 17, 2026." in reader.text(
        leg_card(replace(LEG_CARD, first_name=""))
    )


def test_a_tower_of_accents_stays_within_its_line(reader):
    """Three dozen marks on one letter lie over no other word and past no edge; four on a letter, as
    scripts have them, are all there.
    """
    tower = replace(CONSENT, customer="Z" + "\u0301\u0323\u0308" * 12 + "oe, and so on")
    left_edges = [
        int(np.argmax(np.asarray(reader.picture(consent(one), dpi=72)).min(axis=0) < 200))
        for one in (CONSENT, tower)
    ]
    assert left_edges[1] >= left_edges[0] - 3
    assert (
        plain("e\u0302\u0301 ש\u05c1\u05bc\u05b8\u0591")
        == "e\u0302\u0301 ש\u05c1\u05bc\u05b8\u0591"
    )


def test_a_bag_alone_is_not_called_boots(reader):
    """Claim check and consent of things without boots speak of things, in both languages."""
    bag = (records.ItemLine("Bag, oxblood", 1),)
    risks = ("You may have your things back at any point.",)
    papers = (
        lambda say, code: claim_check(
            replace(CLAIM, items=bag, charges=(), boots=False, language=code), say
        ),
        lambda say, code: consent(
            replace(CONSENT, items=bag, findings=(), risks=risks, boots=False, language=code), say
        ),
    )
    for make in papers:
        assert "boots" not in reader.text(make(in_english, "en"))
        spanish = reader.text(make(speech("es").say, "es"))
        assert "botas" not in spanish
        assert "tus cosas" in spanish


def test_a_notice_asks_and_threatens_nothing(reader):
    """The letter names the day it asks for and what was tried, and nothing that would happen by
    itself.
    """
    text = reader.text(printed(notice_letter, NOTICE)).lower()
    assert "please pick them up by saturday, july 11, 2026" in text
    assert "we left you a message on apr 26" in text
    assert not any(
        word in text
        for word in ("dispose", "sell", "sold", "auction", "fee", "property", "forfeit")
    )


def test_her_papers_speak_her_language(reader):
    """Every sentence of ours goes through the given catalogue, dates follow the language, and the
    PDF says which it is.
    """
    asked: set[str] = set()

    def catalogue(text: str, /, **values: object) -> str:
        asked.add(text)
        return f"¿{text}".format(**values)

    for make, record in (
        (claim_check, CLAIM),
        (receipt, RECEIPT),
        (consent, CONSENT),
        (leg_card, LEG_CARD),
        (notice_letter, NOTICE),
    ):
        pdf = make(replace(record, language="es"), catalogue)
        assert reader.read(pdf).trailer["/Root"]["/Lang"] == "es"
        text = reader.text(pdf)
        assert "abril" in text or "marzo" in text
        assert "April" not in text
    assert len(asked) > 40
