"""What is said beside the answer to a boot, in the words of the counter: room, notes, why to stop,
and how sure "done" is.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.desk.common.lengths import say_height, say_length, say_room, say_short_by
from fitcounter.desk.common.translation import marked, say
from fitcounter.fit.assessment.heel_seat_heights import boot_span_mm
from fitcounter.fit.assessment.job import Side
from fitcounter.fit.assessment.kept_fraction import with_other_boot
from fitcounter.fit.assessment.no_further_round import STOPS
from fitcounter.fit.assessment.verdict import Case, Verdict
from fitcounter.fit.assessment.words import tenths_said
from fitcounter.fit.handbook import rounds as book

NOTES = {
    "not-above": marked("The boot ends below the highest reading: compared up to {highest}."),
    "not-below": marked("The boot was not measured below {lowest}."),
    "nearly-closes": marked("Nearly closes: {left} at {height}."),
    "springs-back": marked(
        "So small a stretch mostly springs back. Condition the boots and wear them first."
    ),
    "low-place": marked("That is low on the shaft: few trees open so low."),
    "elastic-first": marked("The elastic may be enough. Try the boots on first."),
    "rested-again": marked(
        "Measure a second time, tape off in between: it could turn done into not done, or back."
    ),
}
_MOVED = {
    ("left", True): marked("The left kept more than usual, so we expect the right to."),
    ("left", False): marked("The left kept less than usual, so we expect the right to."),
    ("right", True): marked("The right kept more than usual, so we expect the left to."),
    ("right", False): marked("The right kept less than usual, so we expect the left to."),
}


def note_sentences(side: Side, verdict: Verdict, unit: str) -> list[str]:
    """Room first, then a sentence for each note of the answer, in their order.

    unit: of the lengths, "in", "cm" or "mm".
    """
    lowest, highest = boot_span_mm(side)
    worst = verdict.worst
    values = {
        "lowest": say_length(lowest, unit),
        "highest": say_length(highest, unit),
        "left": say_short_by(worst.need_mm, unit),
        "height": say_height(worst.height_mm, unit),
    }
    return [*_room(verdict, unit), *(say(NOTES[note], **values) for note in verdict.notes)]


def _room(verdict: Verdict, unit: str) -> Iterator[str]:
    """Where the boot is too wide everywhere, or where nothing is short."""
    room = verdict.room
    if room is None or verdict.tier == "refuse" or (verdict.worst.short and not room.everywhere):
        return
    yield say(
        "Too wide by up to {most} at {height}: taking in, not stretching.",
        most=say_room(room.most_mm, unit),
        height=say_height(room.height_mm, unit),
    )


def nearly_closes(verdict: Verdict) -> bool:
    """True where nothing is short and yet a gap is left: never to be called a fit."""
    return "nearly-closes" in verdict.notes


def stop_sentence(verdict: Verdict) -> str:
    """The rule that says to stop before another round; '' where none holds."""
    stop = verdict.course.stop if verdict.course else None
    return say(STOPS[stop]) if stop else ""


def fits_sentence(verdict: Verdict) -> str:
    """How sure "done" will be, beside the odds; '' where no odds are said."""
    course = verdict.course
    if course is None or course.stop is not None or course.odds.fits is None:
        return ""
    if course.within_max < book.DONE_ODDS:
        return ""
    return say(
        "Of boots called done, {tenths} in 10 truly close: try them on before the shelf.",
        tenths=tenths_said(course.odds.fits, course.stand.kept.boots),
    )


def moved_sentence(case: Case, name: str) -> str:
    """What the rounds of the other boot did to the guess of this one; '' where hardly anything.

    name: of this side, "left" or "right".
    """
    moved = with_other_boot(case.prior, case.other_rounds).mean - case.prior.mean
    if abs(moved) < book.OTHER_BOOT_SAID:
        return ""
    return say(_MOVED["right" if name == "left" else "left", moved > 0])
