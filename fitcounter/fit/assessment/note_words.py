"""The notes of an answer and its room as sentences, beside the numbers that decided.

Sentences without a capital and without a stop; lengths in the counter's unit.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.errors import message
from fitcounter.fit.assessment.heel_seat_heights import boot_span_mm
from fitcounter.fit.assessment.job import Job, Side
from fitcounter.fit.assessment.verdict import Verdict
from fitcounter.fit.tape import say_height, say_length, say_room, say_short_by

WEAR_FIRST = message("so small a stretch mostly springs back: condition the boot and wear it first")
LOW_PLACE = message("that is low on the shaft: few trees open so low")
ELASTIC_FIRST = message("the elastic may be enough: try the boot on first")
MEASURE_AGAIN = message(
    "measure the rested boot a second time: it could turn done into not done, or back"
)


def note_sentences(job: Job, side: Side, verdict: Verdict) -> Iterator[str]:
    """Room first, then a sentence for each note, in their order."""
    yield from room_sentences(job, verdict)
    lowest, highest = (say_length(mm, job.unit) for mm in boot_span_mm(side))
    worst = verdict.worst
    left_over, where = say_short_by(worst.need_mm, job.unit), say_height(worst.height_mm, job.unit)
    said = {
        "not-above": message(
            "the boot ends below the highest reading: compared up to {height}", height=highest
        ),
        "not-below": message("the boot was not measured below {height}", height=lowest),
        "nearly-closes": message(
            "nearly closes: {length} at {height}", length=left_over, height=where
        ),
        "springs-back": WEAR_FIRST,
        "low-place": LOW_PLACE,
        "elastic-first": ELASTIC_FIRST,
        "rested-again": MEASURE_AGAIN,
    }
    yield from (said[note] for note in verdict.notes)


def room_sentences(job: Job, verdict: Verdict) -> Iterator[str]:
    """Where the boot is too wide everywhere, or where nothing is short: by how much, and where."""
    room = verdict.room
    if room is None or verdict.tier == "refuse" or (verdict.worst.short and not room.everywhere):
        return
    most, where = say_room(room.most_mm, job.unit), say_height(room.height_mm, job.unit)
    yield message(
        "too wide by up to {length} at {height}: taking in, not stretching",
        length=most,
        height=where,
    )
