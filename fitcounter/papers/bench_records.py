"""What goes into the bench's own papers: bench card, evening sheet, blank slips, rulers.

As in records, words are as printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from fitcounter.fit.drawings.pair import Drawing
from fitcounter.papers.records import Letterhead, Paper, Side


@dataclass(frozen=True, slots=True)
class BenchHeight:
    """One height of one boot on the bench card. All as printed; "" was not read."""

    height: str
    girth: str
    wanted: str
    short_by: str
    tightest: bool = False


@dataclass(frozen=True, slots=True)
class BenchBoot:
    """One boot on the bench card. made_of: leather, lining, closure; target: "16 1/16 at 12";
    by_tape: the same as the outside tape reads it; panel: its size where a panel goes in; limit:
    "not past 16 1/4: the zip"; plan: (day, what to do); work: beside the stretching. now: the tree
    it is on, its setting and until when; tree: the next one; hold: of each round; watch: at which
    faults to stop.

    drawing: the boot against the line it must reach, None where it was not measured.
    """

    side: Side
    tag_number: str
    title: str
    heights: tuple[BenchHeight, ...] = ()
    target: str = ""
    opening: str = ""
    limit: str = ""
    tree: str = ""
    method: str = ""
    findings: tuple[str, ...] = ()
    plan: tuple[tuple[str, str], ...] = ()
    drawing: Drawing | None = None
    made_of: str = ""
    by_tape: str = ""
    panel: str = ""
    work: tuple[str, ...] = ()
    now: str = ""
    hold: str = ""
    watch: str = ""


@dataclass(frozen=True, slots=True)
class BenchCard:
    """One job for the bench, both boots side by side, with rows to write on with a pencil.

    when: how its day stands, where it is not on track.
    """

    shop: Letterhead
    number: str
    customer: str
    promised_on: date | None
    boots: tuple[BenchBoot, ...]
    notes: tuple[str, ...] = ()
    address: str | None = None
    paper: Paper = "a4"
    when: str = ""


@dataclass(frozen=True, slots=True)
class EveningRow:
    """One open job.

    where: shelf or tree in words; next_step: what is next, and when; late: it is past its day;
    rush: it goes first, and is not done yet.
    """

    number: str
    customer: str
    what: str
    where: str
    state: str
    next_step: str
    promised_on: date | None = None
    owes: str = ""
    phone: str = ""
    late: bool = False
    rush: bool = False


@dataclass(frozen=True, slots=True)
class EveningTree:
    """One tree. holds: "41 left" or "" when free; until: in words."""

    label: str
    holds: str
    until: str = ""


@dataclass(frozen=True, slots=True)
class EveningSheet:
    """Everything open at closing time: tomorrow runs on it if the computer is dead.

    made_at: "25 April, 18:05".
    """

    shop: Letterhead
    day: date
    made_at: str
    jobs: tuple[EveningRow, ...]
    trees: tuple[EveningTree, ...] = ()
    to_do_tomorrow: tuple[str, ...] = ()
    to_call: tuple[str, ...] = ()
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class BlankSlips:
    """Slips for a day on paper, in the order of the screens.

    heights: the shop's fixed list as printed.
    """

    shop: Letterhead
    heights: tuple[str, ...]
    unit: Literal["in", "cm", "mm"]
    copies: int = 2
    findings: tuple[str, ...] = ()
    paper: Paper = "a4"


# ---------------------------------------------------------------- rulers


@dataclass(frozen=True, slots=True)
class RulerMark:
    """One of the shop's heights.

    height_mm: exact, from the inside heel seat or the floor; words: "12" or "30 cm".
    """

    height_mm: Fraction
    words: str


@dataclass(frozen=True, slots=True)
class Rulers:
    """Boot stick, leg board and wall card.

    marks: the shop's heights, any order; unit: which scale is drawn.
    """

    shop: Letterhead
    marks: tuple[RulerMark, ...]
    unit: Literal["in", "cm"]
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class TillSlipLine:
    """One kind of payment: what came in and went out, what should be there, what was counted."""

    kind: str
    came_in: str
    went_out: str
    expected: str
    counted: str
    difference: str


@dataclass(frozen=True, slots=True)
class TillSlip:
    """A closed till. closed_at: in words. change: the cash in it before."""

    shop: Letterhead
    closed_at: str
    who: str
    change: str
    lines: tuple[TillSlipLine, ...]
    difference: str
    note: str = ""
    paper: Paper = "a4"
