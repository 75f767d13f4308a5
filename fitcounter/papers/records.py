"""What goes into each paper the customer sees: frozen records, filled by the desk, printed by this
room.

The bench's own papers and the rulers have theirs in bench_records.

Lengths and money arrive as the words to print ("15 11/16", "$45.00"): the unit and the currency
were chosen at the counter, and a paper must not choose again. Plain n/16 is set as a true fraction.
Dates arrive as dates (shop-local), because each paper writes them in the language of its reader. An
empty string or None leaves the line out.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Side = Literal["left", "right", ""]
Shows = Literal["boots", "items", "calendar", "ticket"]  # of the customer's page
Paper = Literal["a4", "letter", "label", "a6", "half", "roll80", "roll58"]
"""half: of Letter. roll80, roll58: a till roll of that many mm, as long as what stands on it."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The head of every paper. hours: one line in words ("Tuesday to Saturday, 9 to 6")."""

    name: str
    phone: str
    address: str = ""
    hours: str = ""
    email: str = ""
    tax_number: str = ""


# ---------------------------------------------------------------- tags and trees


@dataclass(frozen=True, slots=True)
class TagLabel:
    """One label of 62 by 100 mm.

    number: the spoken number ("41"). code: nine characters, see fit.tagcode. address: the whole
    address the code leads to; it is printed in capitals. kind: "item" bound to a job, "free" made
    in advance, "tree" for a tree. title: what hangs on it ("chestnut tall boot", "Medium, screw").
    lines: up to three (word, value) pairs, such as ("wanted", "15 1/2 at 10 1/2"), ("day", "25
    April"); two beside a name. name: whose it is, where the shop wants that said.
    """

    number: str
    code: str
    address: str
    side: Side = ""
    kind: Literal["item", "free", "tree"] = "free"
    title: str = ""
    lines: tuple[tuple[str, str], ...] = ()
    name: str = ""


@dataclass(frozen=True, slots=True)
class TagSheet:
    """Labels to print: one a page ("label"), or eight a sheet with cutting lines ("a4",
    "letter").
    """

    shop: Letterhead
    labels: tuple[TagLabel, ...]
    paper: Paper = "label"


@dataclass(frozen=True, slots=True)
class WallTree:
    """A tree on the wall strip.

    size: "M" or its girths in words; note: what to mind ("handle sticks").
    """

    label: str
    code: str
    address: str
    side: Literal["left", "right", "either"] = "either"
    size: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class WallStrip:
    """All trees with their codes, to hang where the trees hang."""

    shop: Letterhead
    trees: tuple[WallTree, ...]
    paper: Paper = "a4"


# ---------------------------------------------------------------- what the customer takes home


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One line of what was handed in.

    count: how many single things (a pair is 2). what: told from the next such pair.
    """

    what: str
    count: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class Charge:
    """One itemised charge. what: in words; amount: as printed ("$45.00")."""

    what: str
    amount: str


@dataclass(frozen=True, slots=True)
class ClaimCheck:
    """What she is given at the counter.

    number: her spoken number. ready_on: the day promised, None where none can be said. link:
    address of her page, None where the shop gives none. total, deposit, due: as printed. ceiling:
    "not more than $90 without asking you". credit: what the shop owes the customer;
    tax: what of the total is tax, where it is included.
    boots: whether there are boots among the items; otherwise the words are of things.
    typed: address of her page to type, "" where there is none.
    """

    shop: Letterhead
    number: str
    customer: str
    taken_on: date
    items: tuple[ItemLine, ...]
    charges: tuple[Charge, ...] = ()
    total: str = ""
    deposit: str = ""
    due: str = ""
    ceiling: str = ""
    ready_on: date | None = None
    typed: str = ""
    customer_address: str = ""
    taken_by: str = ""
    notes: tuple[str, ...] = ()
    link: str | None = None
    credit: str = ""
    tax: str = ""
    boots: bool = True
    language: str = "en"
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class Receipt:
    """What she is given at pickup, or for one payment: received, in words. collected_by: who
    fetched it. results: "Left: 14 1/4, now 14
    7/16 at 12" and the like.

    guarantee_until: last day covered, None where there is none. covers, not_covered: sentences,
    empty means the usual ones (a free hold if the boot went back; not if the leg grew).
    shows: what her page shows now, where its code leads.
    """

    shop: Letterhead
    number: str
    customer: str
    handed_over_on: date
    items: tuple[ItemLine, ...]
    charges: tuple[Charge, ...] = ()
    total: str = ""
    paid: tuple[Charge, ...] = ()
    due: str = ""
    credit: str = ""
    tax: str = ""
    collected_by: str = ""
    received: str = ""
    results: tuple[str, ...] = ()
    guarantee_until: date | None = None
    covers: tuple[str, ...] = ()
    not_covered: tuple[str, ...] = ()
    link: str | None = None
    shows: Shows = "calendar"
    language: str = "en"
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class FindingLine:
    """What we saw on an item.

    place: "zip, at the top"; what: "tape frayed"; watch: it may give way, or stops the work.
    """

    side: Side
    place: str
    what: str


@dataclass(frozen=True, slots=True)
class ConsentForm:
    """What may happen with these boots, and her yes.

    text_version: of the sentences. findings: empty prints "nothing seen on either" where somebody
    looked. risks: sentences chosen from the findings. signature_png: the finger signature; None
    prints a line to sign on. initials: where a tick and initials were enough. signed_on: None while
    it is still to be signed. change: why a price was changed and how that was agreed; charges: its
    lines then.
    boots: as on the claim check. as_signed: the risks in the words that were signed,
    where the paper is in another language.
    """

    shop: Letterhead
    number: str
    customer: str
    text_version: str
    items: tuple[ItemLine, ...]
    findings: tuple[FindingLine, ...]
    risks: tuple[str, ...]
    price: str = ""
    ceiling: str = ""
    ready_on: date | None = None
    signed_name: str = ""
    initials: str = ""
    signature_png: bytes | None = None
    signed_on: date | None = None
    as_signed: tuple[str, ...] = ()
    change: str = ""
    charges: tuple[Charge, ...] = ()
    boots: bool = True
    looked: bool = True
    language: str = "en"
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class LegRow:
    """One height of her leg card.

    height, left, right: as printed, without unit ("12", "15 1/4"); "" was not read.
    """

    height: str
    left: str
    right: str


@dataclass(frozen=True, slots=True)
class LegCard:
    """For her only: both legs at the heights read.

    look_for: "at least 15 3/4 at 12" sentences; over: what was worn.
    """

    shop: Letterhead
    first_name: str
    measured_on: date
    unit: Literal["in", "cm", "mm"]
    rows: tuple[LegRow, ...]
    look_for: tuple[str, ...] = ()
    over: str = ""
    posture: str = ""
    language: str = "en"
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class NoticeLetter:
    """A letter about things not fetched. ready_since: the day they were ready; told: earlier calls
    and letters in words.

    fetch_by: the day the shop asks for, never a day on which something happens by itself.
    """

    shop: Letterhead
    number: str
    customer: str
    customer_address: str
    written_on: date
    items: tuple[ItemLine, ...]
    ready_since: date
    fetch_by: date | None = None
    due: str = ""
    told: tuple[str, ...] = ()
    language: str = "en"
    paper: Paper = "a4"
