"""One ticket of an invented shop as each of its papers has it, from claim check to wall strip."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from fitcounter.fit.drawings.pair import profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint
from fitcounter.papers import bench_records as bench
from fitcounter.papers import records

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


@cache
def printed(make, record):
    """A paper that several tests look at, set once."""
    return make(record)
