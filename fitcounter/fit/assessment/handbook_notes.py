"""What the handbook says beside its figures: the anchors of the ceiling, and what the saying of 600
psi can mean.

Every number in these sentences is computed from the figures, by the geometry and the thin wall of
fit.anchors.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.assessment.anchors import BallTest, each_way, wall_pressure_mpa, wall_stress_mpa
from fitcounter.fit.handbook import anchors as book
from fitcounter.fit.handbook.figure import Trust
from fitcounter.fit.handbook.leg import MM_PER_INCH
from fitcounter.fit.tape import say_length


@dataclass(frozen=True, slots=True)
class Note:
    """A sentence with how far to trust it and where it comes from."""

    sentence: str
    trust: Trust
    source: str


def beside_the_ceiling(unit: str = "in") -> list[Note]:
    """What the limits are to be compared with; shown beside the ceiling, whoever sets it.

    unit: of the shop's tape.
    """
    return [
        _ball_test(),
        _lasting_test(),
        _one_visit(unit),
        Note(
            message(
                "An eighth more girth, about {share}, on supple lined leather in one to several"
                " week-long rounds.",
                share=_percent(book.EIGHTH_MORE),
            ),
            Trust.COMMON_PRACTICE,
            message("no source"),
        ),
        Note(
            _on_the_tree(),
            Trust.OUR_MODEL,
            message("from that eighth, with 50 of 362 mm not leather"),
        ),
        Note(
            message(
                "A better anchor for what stays: CEN/TS 14689, leather: bagginess, creep,"
                " relaxation, set."
            ),
            Trust.STANDARD,
            message("abstract read"),
        ),
        Note(
            message(
                "Coated fabrics may break at {share}: refused.", share=_percent(book.COATED_BREAK)
            ),
            Trust.PUBLISHED,
            message("a buyer's specification"),
        ),
    ]


def _ball_test() -> Note:
    ball = BallTest(book.BALL_CLAMP_RADIUS_MM, book.BALL_RADIUS_MM).strain(book.BALL_HEIGHT_MM)
    return Note(
        message(
            "A leather that just meets {height} mm at the ball test has been strained {share} on"
            " average.",
            height=f"{book.BALL_HEIGHT_MM:.1f}",
            share=_percent(ball),
        ),
        Trust.PUBLISHED,
        message(
            "geometry; sizes of the ISO 3379 method from a tester maker's page; 7.0 mm from memory"
            " of the UNIDO quality levels"
        ),
    )


def _lasting_test() -> Note:
    return Note(
        message(
            "The shoe trade's set-in-lasting test strains {area} in area, {share} each way.",
            area=_percent(book.DOME_AREA),
            share=_percent(each_way(book.DOME_AREA)),
        ),
        Trust.PUBLISHED,
        message("BS 3144 method as its fixture's maker describes it"),
    )


def _on_the_tree() -> str:
    """What that eighth is of the leather, for good and on the tree."""
    two, three, four = (_percent(share) for share in book.EIGHTH_ON_THE_TREE)
    return message(
        "That is {share} of the leather for good, so {two}, {three} or {four} on the tree in two,"
        " three or four rounds: supple full grain alone is let so far.",
        share=_percent(book.EIGHTH_OF_LEATHER),
        two=two,
        three=three,
        four=four,
    )


def _one_visit(unit: str) -> Note:
    """What a trade page lets a boot grow in one visit, as a length and as a share of girths."""
    lined = book.LINED_VISIT_INCH * float(MM_PER_INCH)
    unlined = book.UNLINED_VISIT_INCH * float(MM_PER_INCH)
    narrow, fuller = book.ANCHOR_GIRTHS_MM
    return Note(
        message(
            "One visit: {lined} lined, {unlined} unlined, {least} to {most} on girths of {narrow}"
            " to {fuller} mm.",
            lined=say_length(lined, unit),
            unlined=say_length(unlined, unit),
            least=_percent(lined / fuller),
            most=_percent(unlined / narrow),
            narrow=f"{narrow:.0f}",
            fuller=f"{fuller:.0f}",
        ),
        Trust.PUBLISHED,
        message("one experienced wearer's page, 2011; weak"),
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
    sentence = message(
        "“About {psi} lb per square inch to stretch leather” is {mpa} MPa. As stress in a section"
        " of {thin} to {thick} mm on a radius of {radius} mm that is {low_n} to {high_n} N/mm and"
        " only {low_psi} to {high_psi} psi on the wall; as pressure on the wall it would need"
        " {most} to {least} MPa in leather that breaks at {low_mpa} to {high_mpa}. The saying can"
        " only mean stress in the leather.",
        psi=book.SAYING_PSI,
        mpa=f"{mpa:.3f}",
        thin=f"{thin}",
        thick=f"{thick}",
        radius=f"{radius:.0f}",
        low_n=f"{mpa * thin:.2f}",
        high_n=f"{mpa * thick:.2f}",
        low_psi=f"{low:.1f}",
        high_psi=f"{high:.1f}",
        most=f"{most:.0f}",
        least=f"{least:.0f}",
        low_mpa=f"{book.LEATHER_BREAK_LOW_MPA:.0f}",
        high_mpa=f"{book.LEATHER_BREAK_HIGH_MPA:.0f}",
    )
    return Note(
        sentence,
        Trust.COMMON_PRACTICE,
        message("no source for the saying; the rest is the textbook's thin wall"),
    )


def _percent(share: float) -> str:
    return f"{share * 100:.3g} %"
