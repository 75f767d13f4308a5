"""Slips of tape and pencil, as questions that never block, and "Once more, please" where it could
change the answer.

Worded the same for everybody. A second reading that agrees confirms the first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from fitcounter.errors import message
from fitcounter.fit.assessment import legs
from fitcounter.fit.assessment.job import FootReading, Job, Reading, Side
from fitcounter.fit.assessment.need import leg_curve, shaft_curve, with_ease_mm
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.assessment.safety_warnings import heel_measure_mm
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.handbook import plausible
from fitcounter.fit.repeats import agree
from fitcounter.fit.tape import MM_PER_UNIT, Length, say_length, say_short_by

INCH_MM = float(book.MM_PER_INCH)
_DIFFER = message("Please measure again: the readings differ, one more decides.")
_SIDES = {"left": message("left"), "right": message("right")}
# What a question is about, on one side or on both.
_THINGS = {"leg": message("leg"), "boot": message("boot"), "gap": message("gap")}
_BOTH = {"leg": message("both legs"), "boot": message("both boots")}


@dataclass(frozen=True, slots=True)
class Slip:
    """A question about a reading. side: "left" or "right"; thing: "left leg"; height: "12 in" or a
    station, "" for all of it; rough: a height in between is wanted.
    """

    side: str
    thing: str
    height: str
    question: str
    rough: bool = False

    @property
    def where(self) -> str:
        """ "left leg, 12 in"."""
        if not self.height:
            return self.thing
        return message("{thing}, {height}", thing=self.thing, height=self.height)


def at(side: Side, what: str, height: Length) -> tuple[str, str]:
    """Where a question belongs: "left leg" and "12 in"."""
    return of_side(side, what), say_length(height.mm, height.unit)


def of_side(side: Side, what: str) -> str:
    """ "left leg". what: leg, boot or gap."""
    return message("{side} {thing}", side=_SIDES[side.name], thing=_THINGS[what])


def reading_slips(job: Job) -> list[Slip]:
    """All questions that the readings raise by themselves, left before right."""
    slips: list[Slip] = []
    for side in job.sides:
        slips.extend(_unit_slips(side))
        slips.extend(_out_of_order(side))
        slips.extend(_off_trend(side))
        slips.extend(_disagreeing(side))
        slips.extend(_implausible(side))
        slips.extend(_far_apart(side))
        slips.extend(_heel_missing(side))
        slips.extend(_gap_against_tape(job, side))
    if len(job.sides) > 1:
        slips.extend(_between_sides(*job.sides))
    return slips


def _unit_slips(side: Side) -> Iterator[Slip]:
    """A girth that would be ordinary in the other unit and is none in the one it was typed in."""
    shaft = side.shaft if side.boot.method != "flat" else ()
    for what, readings in (("leg", side.leg), ("boot", shaft)):
        for reading in readings:
            for girth in reading.girths:
                if _looks_like_other_unit(girth):
                    length = say_length(girth.mm, girth.unit)
                    question = (
                        message("{length}: centimeters?", length=length)
                        if girth.unit == "in"
                        else message("{length}: inches?", length=length)
                    )
                    yield Slip(side.name, *at(side, what, reading.height), question)


def _looks_like_other_unit(girth: Length) -> bool:
    if girth.unit not in plausible.UNIT_SLIP:
        return False
    low, high = plausible.UNIT_SLIP[girth.unit]
    ordinary = plausible.ASK_UNDER_MM["small"] <= girth.mm <= plausible.REFUSE_MM["below-knee"][1]
    return not ordinary and low <= girth.mm / MM_PER_UNIT[girth.unit] <= high


def _out_of_order(side: Side) -> Iterator[Slip]:
    for what, readings in (("leg", side.leg), ("boot", side.shaft)):
        heights = [reading.height.mm for reading in readings]
        if heights != sorted(heights) and heights != sorted(heights, reverse=True):
            yield Slip(
                side.name,
                of_side(side, what),
                "",
                message("The heights go up and down: is each girth at its own height?"),
            )


def _off_trend(side: Side) -> Iterator[Slip]:
    """A reading just an inch off the line between its neighbours, where it should lie on it; not
    the fullest nor the smallest.
    """
    for what, readings in (("leg", side.leg), ("boot", side.shaft)):
        ordered = sorted(readings, key=lambda reading: reading.height.mm)
        girths = [reading.girth_mm for reading in ordered]
        for below, here, above in zip(ordered, ordered[1:], ordered[2:], strict=False):
            if here.girth_mm in (max(girths), min(girths)):
                continue
            low, high = sorted((below.girth_mm, above.girth_mm))
            line = Profile.straight(
                (one.height.float_mm, one.girth_mm) for one in (below, above)
            ).at(here.height.float_mm)
            outside = not low <= here.girth_mm <= high
            if outside and _is_an_inch(here.girth_mm - line):
                yield Slip(
                    side.name,
                    *at(side, what, here.height),
                    message("Please measure again: it is one inch off the heights next to it."),
                )


def _is_an_inch(differ_mm: float) -> bool:
    return abs(abs(differ_mm) - INCH_MM) <= plausible.INCH_SLIP_WITHIN_MM


def _disagreeing(side: Side) -> Iterator[Slip]:
    for what, readings in (("leg", side.leg), ("boot", side.shaft)):
        for reading in readings:
            close = what == "boot" or reading.station == "small"
            if not _agree(reading, book.AGREE_CLOSE_MM if close else book.AGREE_MM):
                yield Slip(side.name, *at(side, what, reading.height), _DIFFER)
    for foot in side.foot:
        if not _agree(foot, book.AGREE_MM):
            yield Slip(side.name, *_station(side, foot.station), _DIFFER)
    for gap in side.gaps:
        if not agree([reading.mm for reading in gap.readings], book.AGREE_MM):
            yield Slip(side.name, *at(side, "gap", gap.height), _DIFFER)


def _station(side: Side, station: str) -> tuple[str, str]:
    """Where a question about a station belongs: "left leg" and "heel measure"."""
    return of_side(side, "leg"), legs.NAMES[station]


def _agree(reading: Reading | FootReading, within_mm: float) -> bool:
    return agree([girth.mm for girth in reading.girths], within_mm)


def _confirmed(reading: Reading | FootReading) -> bool:
    """Read twice at least, and two of the readings agree."""
    return len(reading.girths) > 1 and _agree(
        reading, book.AGREE_CLOSE_MM if reading.station == "small" else book.AGREE_MM
    )


def _implausible(side: Side) -> Iterator[Slip]:
    """Readings that few legs give, unless a second one confirmed them."""
    girths = {reading.station: reading.girth_mm for reading in side.leg if reading.station}
    girths.update({reading.station: reading.girth_mm for reading in side.foot})
    heel = heel_measure_mm(side)
    if heel is not None:
        girths["heel"] = heel
    read: list[Reading | FootReading] = [*side.leg, *side.foot]
    confirmed = {reading.station for reading in read if _confirmed(reading)}
    for station, why in legs.asks_again(girths).items():
        if station not in confirmed:
            question = message("Please measure again: {reason}.", reason=why)
            yield Slip(side.name, *_station(side, station), question)


def _far_apart(side: Side) -> Iterator[Slip]:
    """Neighbouring heights too far apart for a full profile."""
    if side.target != "leg":
        return
    for what, readings in (("leg", side.leg), ("boot", side.shaft)):
        ordered = sorted((reading.height for reading in readings), key=lambda height: height.mm)
        for low, high in pairwise(ordered):
            if high.mm - low.mm > book.WIDEST_GAP_MM:
                question = message(
                    "Big jump between {low} and {high}: measure one height in between.",
                    low=say_length(low.mm, low.unit),
                    high=say_length(high.mm, high.unit),
                )
                yield Slip(side.name, of_side(side, what), "", question, rough=True)


def _heel_missing(side: Side) -> Iterator[Slip]:
    if side.target == "leg" and side.boot.zip is None and heel_measure_mm(side) is None:
        yield Slip(
            side.name,
            *_station(side, "heel"),
            message("A boot without a zipper: measure around heel and instep too."),
        )


def _gap_against_tape(job: Job, side: Side) -> Iterator[Slip]:
    """Leg and boot readings against the gap at the zip, where both are there."""
    leg = leg_curve(job, side)
    if leg is None or not side.gaps:
        return
    shaft = shaft_curve(side)
    for gap in side.gaps:
        height = gap.height.float_mm
        if not (leg.profile.covers(height) and shaft.profile.covers(height)):
            continue
        taped = with_ease_mm(leg.profile.at(height), job.ease) - shaft.profile.at(height)
        doubt = (
            leg.doubt_mm(height) ** 2
            + shaft.doubt_mm(height) ** 2
            + book.GAP_READING_MM**2 / len(gap.readings)
        ) ** 0.5
        if abs(taped - gap.amount_mm) > book.LOOK_AGAIN_U * doubt:
            question = message(
                "The tape says short by {taped}, the gap {gap}: was the boot taped outside?",
                taped=say_short_by(taped, job.unit),
                gap=say_short_by(gap.amount_mm, job.unit),
            )
            yield Slip(side.name, *at(side, "boot", gap.height), question)


def _between_sides(left: Side, right: Side) -> Iterator[Slip]:
    """What only both sides together can show."""
    if _copied(left.leg, right.leg):
        yield Slip(
            right.name,
            _BOTH["leg"],
            "",
            message("Left and right read the same everywhere: was one copied from the other?"),
        )
    for what, ours, theirs in (("leg", left.leg, right.leg), ("boot", left.shaft, right.shaft)):
        pairs = _same_heights(ours, theirs)
        inches = [pair for pair in pairs if _inch_apart(pair, pairs)]
        for here, _ in inches:
            question = message("Please measure again: they are one inch apart there.")
            yield Slip(left.name, *_both_at(what, here.height), question)
        if what == "leg":
            yield from _apart(left, [pair for pair in pairs if pair not in inches])


def _same_heights(
    ours: Iterable[Reading], theirs: Sequence[Reading]
) -> list[tuple[Reading, Reading]]:
    return [(here, there) for here in ours for there in theirs if here.height.mm == there.height.mm]


def _inch_apart(pair: tuple[Reading, Reading], pairs: Sequence[tuple[Reading, Reading]]) -> bool:
    """An inch apart here, and alike elsewhere."""
    others = [here.girth_mm - there.girth_mm for here, there in pairs if (here, there) != pair]
    if len(others) < 2:
        return False
    usual = median(others)
    return abs(usual) < plausible.SIDES_DIFFER_MM and _is_an_inch(
        pair[0].girth_mm - pair[1].girth_mm - usual
    )


def _apart(left: Side, pairs: Iterable[tuple[Reading, Reading]]) -> Iterator[Slip]:
    for here, there in pairs:
        apart = abs(here.girth_mm - there.girth_mm)
        if apart >= plausible.SIDES_DIFFER_MM and not (_confirmed(here) and _confirmed(there)):
            question = message(
                "Please measure again: left and right differ by {length}.",
                length=say_length(apart, here.height.unit),
            )
            yield Slip(left.name, *_both_at("leg", here.height), question)


def _both_at(what: str, height: Length) -> tuple[str, str]:
    """ "both legs" and "12 in"."""
    return _BOTH[what], say_length(height.mm, height.unit)


def _copied(ours: Sequence[Reading], theirs: Sequence[Reading]) -> bool:
    return len(ours) >= plausible.COPIED_FROM and _as_typed(ours) == _as_typed(theirs)


def _as_typed(readings: Iterable[Reading]) -> list[tuple[Length, tuple[Length, ...]]]:
    return [(reading.height, reading.girths) for reading in readings]
