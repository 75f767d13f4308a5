"""The work that a shop like this one usually does on boots, before the owner says otherwise: what
it is called, how many days it takes, what it waits for.

Common practice in the trade, without a source; prices are the owner's own.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.translation import Speech, marked, spoken
from fitcounter.fit.work_timing import Timing

BEFORE, ANY, AFTER, LAST = Timing.BEFORE, Timing.ANY, Timing.AFTER, Timing.LAST


class UsualWork(NamedTuple):
    """sized: its price goes by its size. answer: what is said of work that is not done here.

    also: other words in which it is asked for.
    """

    code: str
    what: str
    days: int
    timing: Timing
    sized: bool = False
    answer: str = ""
    also: str = ""


USUAL = {
    work.code: work
    for work in (
        UsualWork("heel-tips", marked("Heel tips"), 1, ANY),
        UsualWork("heels", marked("New heels"), 2, ANY),
        UsualWork("half-soles", marked("Half soles"), 2, ANY),
        UsualWork("soles", marked("New soles"), 4, ANY),
        UsualWork("heel-fastened", marked("Heel or sole refastened"), 1, AFTER),
        UsualWork("seam", marked("Seam restitched"), 1, BEFORE),
        UsualWork("lining", marked("Lining patched"), 1, BEFORE),
        UsualWork("conditioned", marked("Cleaned and conditioned"), 1, BEFORE),
        UsualWork("zip", marked("New zipper"), 2, AFTER),
        UsualWork("slider", marked("New slider, zipper waxed"), 1, AFTER),
        UsualWork("zip-gusset", marked("Gusset beside the zipper"), 3, AFTER, sized=True),
        UsualWork("elastic", marked("New elastic"), 2, AFTER),
        UsualWork("elastic-gusset", marked("Elastic gusset"), 3, AFTER, sized=True),
        UsualWork("panel", marked("Leather panel"), 3, AFTER, sized=True),
        UsualWork("toe-box", marked("Toe box stretched"), 2, ANY),
        UsualWork("instep", marked("Instep stretched"), 2, ANY),
        UsualWork("foot-wider", marked("Foot stretched wider"), 2, ANY),
        UsualWork("shortened", marked("Shaft shortened"), 3, AFTER),
        UsualWork("strap", marked("Strap or buckle moved"), 1, AFTER),
        UsualWork("dyed", marked("Dyed"), 2, LAST),
        UsualWork("recolored", marked("Scuffs recolored"), 1, LAST),
        UsualWork("cleaned", marked("Cleaned and recolored"), 1, LAST),
        UsualWork("color-fixed", marked("Color fixed"), 1, LAST),
        UsualWork("waterproofed", marked("Waterproofed"), 1, LAST),
        UsualWork(
            "foot-longer",
            marked("Foot made longer"),
            0,
            ANY,
            answer=marked("We do not lengthen feet. Leather gives in width, not in length."),
            also=marked("lengthen feet foot, longer feet foot"),
        ),
        UsualWork(
            "heel-height",
            marked("Heel made higher or lower"),
            0,
            ANY,
            answer=marked("We do not change the height of a heel. The boot is built around it."),
            also=marked("higher lower heel heels, heel height, raise lower heel heels"),
        ),
    )
}
_NAMES = {work.what for work in USUAL.values()}
_ANSWERS = {work.answer for work in USUAL.values() if work.answer}
# On which boots of a pair, as it ends a price line.
_ON = (marked("both boots"), marked("left boot"), marked("right boot"))


def work_name(what: str, words: Speech | None = None) -> str:
    """What a job is called in the language of `words`, the one spoken now where None; the owner's
    own words as they are.
    """
    return (words or spoken()).say(what) if what in _NAMES or what in _ANSWERS else what


def line_name(what: str, words: Speech) -> str:
    """A price line of ours, "Heel tips, both boots", in the language of `words`; "" for others."""
    for on in _ON:
        base = what.removesuffix(f", {on}")
        if base != what and base in _NAMES:
            return words.say("{work}, {item}", work=words.say(base), item=words.say(on))
    return words.say(what) if what in _NAMES else ""
