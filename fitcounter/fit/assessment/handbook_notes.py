"""What the handbook says beside its figures: the anchors of the ceiling, and what the saying of 600
psi can mean.

Every number in these sentences is computed from the figures, by the geometry and the thin wall of
fit.anchors.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.assessment.anchors import BallTest, each_way, wall_pressure_mpa, wall_stress_mpa
from fitcounter.fit.handbook import anchors as book
from fitcounter.fit.handbook.figure import Trust
from fitcounter.fit.handbook.leg import MM_PER_INCH
from fitcounter.fit.tape import say_inches


@dataclass(frozen=True, slots=True)
class Note:
    """A sentence with how far to trust it and where it comes from."""

    sentence: str
    trust: Trust
    source: str

    def __str__(self) -> str:
        return f"{self.sentence} ({self.trust}: {self.source})"


def beside_the_ceiling() -> list[Note]:
    """What the limits are to be compared with; shown beside the ceiling, whoever sets it."""
    ball = BallTest(book.BALL_CLAMP_RADIUS_MM, book.BALL_RADIUS_MM).strain(book.BALL_HEIGHT_MM)
    dome = each_way(book.DOME_AREA)
    return [
        Note(
            f"A leather that just meets {book.BALL_HEIGHT_MM} mm at the ball test has been strained"
            f" {_percent(ball)} on average.",
            Trust.PUBLISHED,
            "geometry; sizes of the ISO 3379 method from a tester maker's page; 7.0 mm from memory"
            " of the UNIDO quality levels",
        ),
        Note(
            f"The shoe trade's set-in-lasting test strains {_percent(book.DOME_AREA)} in area,"
            f" {_percent(dome)} each way.",
            Trust.PUBLISHED,
            "BS 3144 method as its fixture's maker describes it",
        ),
        _one_visit(),
        Note(
            f"An eighth more girth, about {_percent(book.EIGHTH_MORE)}, on supple lined leather in"
            " one to several week-long rounds.",
            Trust.COMMON_PRACTICE,
            "no source",
        ),
        Note(_on_the_tree(), Trust.OUR_MODEL, "from that eighth, with 50 of 362 mm not leather"),
        Note(
            "A better anchor for what stays: CEN/TS 14689, leather: bagginess, creep, relaxation,"
            " set.",
            Trust.STANDARD,
            "abstract read",
        ),
        Note(
            f"Coated fabrics may break at {_percent(book.COATED_BREAK)}: refused.",
            Trust.PUBLISHED,
            "a buyer's specification",
        ),
    ]


def _on_the_tree() -> str:
    """What that eighth is of the leather, for good and on the tree."""
    two, three, four = (_percent(share) for share in book.EIGHTH_ON_THE_TREE)
    return (
        f"That is {_percent(book.EIGHTH_OF_LEATHER)} of the leather for good, so {two}, {three} or"
        f" {four} on the tree in two, three or four rounds: supple full grain alone is let so far."
    )


def _one_visit() -> Note:
    """What a trade page lets a boot grow in one visit, in inches and as a share of girths."""
    lined = book.LINED_VISIT_INCH * float(MM_PER_INCH)
    unlined = book.UNLINED_VISIT_INCH * float(MM_PER_INCH)
    narrow, fuller = book.ANCHOR_GIRTHS_MM
    return Note(
        f"One visit: {say_inches(lined)} in lined, {say_inches(unlined)} in unlined,"
        f" {_percent(lined / fuller)} to {_percent(unlined / narrow)} on girths of {narrow:.0f} to"
        f" {fuller:.0f} mm.",
        Trust.PUBLISHED,
        "one experienced wearer's page, 2011; weak",
    )


def the_saying() -> Note:
    """ "About 600 lb per square inch to stretch leather": it can only mean stress in the
    leather.
    """
    mpa = book.SAYING_PSI * book.MPA_PER_PSI
    thin, thick, radius = book.SAYING_THIN_MM, book.SAYING_THICK_MM, book.SAYING_RADIUS_MM
    low, high = (
        wall_pressure_mpa(mpa, thickness, radius) / book.MPA_PER_PSI for thickness in (thin, thick)
    )
    most, least = (wall_stress_mpa(mpa, thickness, radius) for thickness in (thin, thick))
    sentence = (
        f"“About {book.SAYING_PSI} lb per square inch to stretch leather” is {mpa:.3f} MPa. As"
        f" stress in a section of {thin} to {thick} mm on a radius of {radius:.0f} mm that is"
        f" {mpa * thin:.2f} to {mpa * thick:.2f} N/mm and only {low:.1f} to {high:.1f} psi on the"
        f" wall; as pressure on the wall it would need {most:.0f} to {least:.0f} MPa in leather"
        f" that breaks at {book.LEATHER_BREAK_LOW_MPA:.0f} to {book.LEATHER_BREAK_HIGH_MPA:.0f}."
        " The saying can only mean stress in the leather."
    )
    return Note(
        sentence,
        Trust.COMMON_PRACTICE,
        "no source for the saying; the rest is the textbook's thin wall",
    )


def _percent(share: float) -> str:
    return f"{share * 100:.3g} %"
