"""Claim check, consent, receipt, letters and the bench's own papers: what is on them, how large,
and who can read them.
"""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest
from papers.conftest import HOSTILE
from PIL import Image, ImageDraw

from fitcounter.desk.common.translation import speech
from fitcounter.errors import BadInput
from fitcounter.fit.drawings.pair import profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint
from fitcounter.papers import bench_records as bench
from fitcounter.papers import records
from fitcounter.papers.bench_papers import bench_card, blank_slips, evening_sheet, wall_strip
from fitcounter.papers.claim_check import claim_check, consent, receipt
from fitcounter.papers.html import in_english, plain
from fitcounter.papers.letters import leg_card, notice_letter

LINK = "https://quillmarsh.example/k/9fKx2mQv7TtYwB3nRz0aLc"
SHOP = records.Letterhead(
    "Quillmarsh Leather Bench", "555 0142", "8 Sallow Row", "Tuesday to Saturday, 9 to 6"
)
ITEMS = (
    records.ItemLine("Chestnut tall boots, inside zip", 2, "left and right"),
    records.ItemLine("Bag, oxblood, brass clasp", 1, "strap to be stitched"),
)
CHARGES = (
    records.Charge("Stretching the pair, up to two goes", "$45.00"),
    records.Charge("Stitching the strap", "$18.00"),
)
NAME = "Marisol Okafor-Lind"

CLAIM = records.ClaimCheck(
    SHOP, "41", NAME, date(2026, 3, 17), ITEMS, CHARGES, "$63.00", "−$20.00", "$43.00",
    ceiling="Not more than $90.00 without asking you first.", ready_on=date(2026, 4, 25),
    customer_address="14 Tansy Court, Millbrook", taken_by="Cora", link=LINK,
)  # fmt: skip
RECEIPT = records.Receipt(
    SHOP,
    "41",
    NAME,
    date(2026, 4, 25),
    ITEMS,
    CHARGES,
    "$63.00",
    (records.Charge("Deposit", "−$20.00"),),
    "$43.00",
    collected_by="Tobias Renwick",
    results=("Left: from 14 15/16 to 15 1/2 at 10 1/2, grown by 9/16.",),
    guarantee_until=date(2027, 4, 25),
    link=LINK,
)
CONSENT = records.ConsentForm(
    SHOP,
    "41",
    NAME,
    "2026-1",
    ITEMS,
    (records.FindingLine("left", "zip, at the top", "tape frayed"),),
    ("The zip may give way at the top.", "The boots keep only part of each stretch."),
    "$45.00",
    ready_on=date(2026, 4, 25),
)
LEG_CARD = records.LegCard(
    SHOP,
    "Marisol",
    date(2026, 3, 17),
    "in",
    (records.LegRow("10 1/2", "15 1/4", "15 7/16"), records.LegRow("14", "14", "")),
    ("a shaft of at least 15 3/4 at 10 1/2",),
    "sheer stocking",
    "standing",
)
NOTICE = records.NoticeLetter(
    SHOP,
    "41",
    NAME,
    "14 Tansy Court\nMillbrook",
    date(2026, 6, 20),
    ITEMS,
    date(2026, 4, 25),
    date(2026, 7, 11),
    "$43.00",
    ("we left you a message on Apr 26",),
)
DRAWN = profile_drawing(
    BootProfile(
        (ShaftPoint(150, 300, -4), ShaftPoint(266.7, 365, 14), ShaftPoint(350, 360, 6)), 266.7
    ),
    None,
    unit="in",
)
BOOT = bench.BenchBoot(
    "left",
    "41",
    "chestnut tall boot",
    (bench.BenchHeight("10 1/2", "14 15/16", "15 1/2", "9/16", True),),
    "15 1/2 at 10 1/2",
    "15 3/4",
    "not past 15 7/8: the zip",
    "K2 left, 7 days",
    "outside tape at the mark",
    ("zip tape frayed",),
    (("Thu 19 March", "on the tree"),),
    DRAWN,
)
CARD = bench.BenchCard(
    SHOP, "41", NAME, date(2026, 4, 25), (BOOT, replace(BOOT, side="right")), ("left first",), LINK
)
ROW = bench.EveningRow(
    "41",
    NAME,
    "boots and bag",
    "shelf C2",
    "on the tree",
    "off on Thursday",
    date(2026, 4, 25),
    "$43.00",
    "555 0199",
    True,
)
EVENING = bench.EveningSheet(
    SHOP,
    date(2026, 4, 24),
    "Friday 24 April, 18:05",
    (ROW,),
    (bench.EveningTree("K2", "41 left", "until Thursday"),),
    ("41 off the tree",),
    ("43: all here",),
)
SLIPS = bench.BlankSlips(SHOP, ("6", "8", "10 1/2", "12", "top"), "in", 2)
WALL = records.WallStrip(
    SHOP, (records.WallTree("K2", "7K3M9QXWE", "https://b.example/t/7K3M9QXWE", "left", "Medium"),)
)

PAPERS = {
    "claim check": (claim_check, CLAIM, "Claim check", 1),
    "receipt": (receipt, RECEIPT, "Receipt, ticket 41", 1),
    "consent": (consent, CONSENT, "What may happen with these boots", 1),
    "leg card": (leg_card, LEG_CARD, "Your leg measurements", 1),
    "notice": (notice_letter, NOTICE, "Your items are ready to pick up", 1),
    "bench card": (bench_card, CARD, "Bench card 41", 1),
    "evening sheet": (evening_sheet, EVENING, "Evening sheet, Friday, April 24, 2026", 1),
    "slips": (blank_slips, SLIPS, "Slips for a day on paper", 5),
    "wall strip": (wall_strip, WALL, "Trees", 1),
}
# What stands on a paper twice comes from the same lines of its template: once is enough where each
# of many names takes seconds.
ONCE = {
    "slips": (blank_slips, replace(SLIPS, copies=1), "Slips for a day on paper", 3),
}


@pytest.fixture(params=PAPERS)
def paper(request):
    """(printing function, record, title, pages) of each paper."""
    return PAPERS[request.param]


@cache
def printed(make, record):
    """A paper that several tests look at, set once."""
    return make(record)


@pytest.mark.parametrize(("size", "wanted"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_every_paper_on_both_sizes(paper, reader, size, wanted):
    """On A4 and on Letter: the page size, the number of pages, title, language and structure, our
    own letters only.
    """
    make, record, title, pages = paper
    pdf = printed(make, replace(record, paper=size))
    assert reader.size_mm(pdf) == pytest.approx(wanted, abs=0.05)
    assert len(reader.read(pdf).pages) == pages
    assert reader.is_accessible(pdf, title)
    assert reader.fonts(pdf)
    assert all(font.startswith("Paper-S") for font in reader.fonts(pdf)), reader.fonts(pdf)


def test_every_paper_is_black_and_white(paper, reader):
    """Nothing on any page has a colour: what it says survives a copier."""
    make, record, _, _ = paper
    import pypdfium2

    document = pypdfium2.PdfDocument(printed(make, record))
    for page in document:
        red, green, blue = np.moveaxis(
            np.asarray(page.render(scale=1).to_pil().convert("RGB")).astype(int), 2, 0
        )
        assert abs(red - green).max() <= 2
        assert abs(green - blue).max() <= 2
    document.close()


def test_nothing_runs_off_a_page(paper, reader):
    """Around every page at least 4 mm stay white, which is what a printer needs."""
    make, record, _, pages = paper
    pdf = printed(make, replace(record, paper="letter"))
    for number in range(pages):
        picture = np.asarray(reader.picture(pdf, number, 100)) < 200
        edge = round(4 / 25.4 * 100)
        assert not picture[:edge].any()
        assert not picture[-edge:].any()
        assert not picture[:, :edge].any()
        assert not picture[:, -edge:].any()


def test_the_same_record_is_the_same_bytes(paper):
    """Printed twice, it is the same paper."""
    make, record, _, _ = paper
    assert make(record) == printed(make, record)


def hostile_everywhere(record, text):
    """The record with this text in place of every word in it, in nested records too; choices, links
    and drawings stay.
    """
    if isinstance(record, str):
        return text
    if isinstance(record, tuple):
        return tuple(hostile_everywhere(part, text) for part in record)
    if not hasattr(record, "__dataclass_fields__"):
        return record
    kept = (
        {"paper", "language", "unit", "side", "link", "address", "code", "drawing", "shows"}
        if not isinstance(record, records.Letterhead)
        else set()
    )
    changed = {
        name: hostile_everywhere(getattr(record, name), text)
        for name in record.__dataclass_fields__
        if name not in kept and getattr(record, name) not in ("", None)
    }
    return replace(record, **changed)


def each_with_each():
    """Every paper with three of the names and every name on two papers at least; the slow form has
    every paper with every name.
    """
    for i, name in enumerate(PAPERS):
        for j, text in enumerate(HOSTILE):
            marks = () if (i + j) % 3 == 0 else (pytest.mark.slow,)
            yield pytest.param(name, text, id=f"{name}-{j}", marks=marks)


@pytest.mark.parametrize(("name", "hostile"), list(each_with_each()))
def test_a_hostile_name_everywhere_breaks_no_paper(name, reader, hostile):
    """With the text in every field at once: it prints, nothing is computed or hidden, no font or
    page is lost.
    """
    make, record, _, pages = {**PAPERS, **ONCE}[name]
    pdf = make(hostile_everywhere(record, hostile))
    read = reader.read(pdf)
    assert pages <= len(read.pages) <= pages + 7
    text = "".join(reader.text(pdf).split())
    assert "49" not in text
    visible = "".join(c for c in hostile if c.isalnum() and c.isascii())
    assert visible[:18] in "".join(c for c in text if c.isalnum())
    assert not any(
        "/JavaScript" in str(page) or "/EmbeddedFile" in str(page) for page in read.pages
    )
    assert (
        "/Names" not in read.trailer["/Root"]
        or "/EmbeddedFiles" not in read.trailer["/Root"]["/Names"]
    )


def test_a_bench_card_draws_the_boot_and_says_the_drawing_in_words(reader):
    """The drawing is read aloud in a sentence; a boot nobody measured has none, and the card is
    whole without it.
    """
    drawn, plain = (
        bench_card(replace(CARD, boots=(replace(BOOT, drawing=one),))) for one in (DRAWN, None)
    )
    assert any(DRAWN.description in alt for alt in reader.said_of_pictures(drawn))
    assert "tightest place" in DRAWN.description
    assert "inches up" in reader.text(drawn)
    assert "inches up" not in reader.text(plain)
    assert len(reader.said_of_pictures(drawn)) == len(reader.said_of_pictures(plain)) + 1


def test_a_long_title_on_a_bench_card_leaves_the_drawing_alone(reader):
    """What the boot is called in three lines lies beside the drawing, not on it."""
    blank = bench.BenchBoot("left", "", "")

    def ink(boot):
        picture = np.asarray(reader.picture(bench_card(replace(CARD, boots=(boot,))), 0, 100)) < 128
        return picture[:, 120:390]  # between the black edge and the other boot

    named = replace(blank, title="black synthetic knee boots with a strap at the calf")
    always, title, drawing = ink(blank), ink(named), ink(replace(blank, drawing=DRAWN))
    first = np.flatnonzero((drawing & ~always).any(axis=1))[0]
    rows = slice(
        first, first + 100
    )  # an inch of it; what stands below it moves with the height of all this
    assert (title & ~always)[rows].any()
    assert not (title & drawing & ~always)[rows].any()


def test_twelve_things_begin_under_what_is_said_of_them(reader):
    """A list longer than what is left of the first page begins on it and goes on, rather than
    leaving that page empty.
    """
    many = tuple(records.ItemLine(f"Thing {n}", 1, "heel tips, half soles") for n in range(14))
    for make, record in ((claim_check, CLAIM), (receipt, RECEIPT)):
        first, *rest = (
            page.extract_text() for page in reader.read(make(replace(record, items=many))).pages
        )
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


def test_an_evening_of_eighty_jobs_has_every_one(reader):
    """Eighty jobs take as many pages as they need, none is lost, the head is repeated, lateness is
    a word.
    """
    jobs = tuple(
        replace(ROW, number=str(n), late=n % 10 == 0, rush=n == 1005) for n in range(1000, 1080)
    )
    pdf = evening_sheet(replace(EVENING, jobs=jobs))
    text = reader.text(pdf)
    assert all(str(job.number) in text for job in jobs)
    assert "80, 8 of them late" in text
    assert text.count("Rush job") == 1
    pages = reader.read(pdf).pages
    assert all("Customer, phone" in page.extract_text() for page in pages[:-1])


def test_an_evening_without_jobs_says_so(reader):
    """An empty shop gets a sheet that says it is empty."""
    assert "No ticket is open." in reader.text(
        evening_sheet(replace(EVENING, jobs=(), trees=(), to_call=(), to_do_tomorrow=()))
    )


def test_the_slips_follow_the_screens(reader):
    """New job, Measure, then bench and pickup; every height of the shop has its row, with two more
    to fill in.
    """
    text = reader.text(printed(blank_slips, SLIPS))
    screens = (
        "New job",
        "The boots",
        "What we saw",
        "How much",
        "Measure",
        "Can it be done?",
        "Bench and pickup",
    )
    places = [text.index(words) for words in screens]
    assert places == sorted(places)
    assert "6 8 10 1/2 12 top" in text
    assert text.count("New job, on paper") == 2


def test_the_wall_strip_leads_to_every_tree(reader):
    """Six trees, six squares, each with its own address; the side stands as a word beside the black
    edge.
    """
    trees = tuple(
        records.WallTree(f"K{n}", "7K3M9QXWE", f"https://b.example/t/{n}", side)
        for n, side in enumerate(("left", "right", "either") * 2)
    )
    pdf = wall_strip(replace(WALL, trees=trees))
    seen = {text for text, _ in reader.codes(reader.picture(pdf))}
    assert seen == {f"HTTPS://B.EXAMPLE/T/{n}" for n in range(6)}
    assert "Left or right" in reader.text(pdf)


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
