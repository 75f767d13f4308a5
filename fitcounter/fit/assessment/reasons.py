"""The numbers that decided, as sentences for the counter: what the need comes from, where it is
tightest, what stopped it.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.errors import message, message_n
from fitcounter.fit.assessment.job import SIDES, Job, Side
from fitcounter.fit.assessment.kept_fraction import with_other_boot
from fitcounter.fit.assessment.materials import (
    OPEN_SEAM,
    PRIOR_STRETCH,
    REFUSING_FINDINGS,
    Limits,
)
from fitcounter.fit.assessment.no_further_round import STOPS
from fitcounter.fit.assessment.note_words import note_sentences
from fitcounter.fit.assessment.safety_warnings import heel_measure_mm, will_not_pass
from fitcounter.fit.assessment.verdict import Case, Course, Verdict, repairs, stopped_by
from fitcounter.fit.assessment.words import (
    LIMIT_WORDS,
    about,
    fits_words,
    odds_in_ten,
    percent,
    rounds_sentence,
    tenths_said,
)
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import FEW_STATIONS
from fitcounter.fit.handbook.load import SAME_STRAIN
from fitcounter.fit.tape import say_height, say_length, say_short_by

_MENDS = {
    "zip": message("the zipper is damaged: repair it first"),
    "seam": message("a seam is open: sew it first"),
}
_BY = {
    "leg": message("by leg"),
    "gap": message("by the gap at the zipper"),
    "amount": message("by how much bigger"),
}
_OTHER = {"left": message("left"), "right": message("right")}
LOOK_AT_GRAIN_WORDS = message("from here on look at the grain at every turn of the tree")
_KNOWN_FINDINGS = (*REFUSING_FINDINGS, OPEN_SEAM, PRIOR_STRETCH)


def reasons(job: Job, side: Side, case: Case, verdict: Verdict) -> list[str]:
    """Sentences without a capital, in the order they weigh."""
    return [
        *deciding(job, side, case, verdict),
        *(_course(job, side, case, verdict.course, verdict.limits) if verdict.course else ()),
        *note_sentences(job, side, verdict),
        *_besides(job, side),
    ]


def deciding(job: Job, side: Side, case: Case, verdict: Verdict) -> list[str]:
    """The first of them: what it is short by, and what stands in the way."""
    return [
        *_standing(job, side, verdict),
        *verdict.refused,
        *_why_panel(job, case, verdict),
        *(_MENDS[broken] for broken in repairs(case)),
    ]


def _standing(job: Job, side: Side, verdict: Verdict) -> Iterator[str]:
    """Short by how much, where, and what that rests on."""
    worst = verdict.worst
    by = _BY[side.target]
    where = say_height(worst.height_mm, job.unit)
    if not worst.short:
        yield message("nowhere short by more than a tape can tell ({by})", by=by)
        return
    yield message(
        "short by {length} at {height}, the tightest place ({by})",
        length=say_short_by(worst.need_mm, job.unit),
        height=where,
        by=by,
    )
    yield message(
        "that is {share} of the leather there, counted from the boot as first brought in",
        share=percent(worst.strain_total),
    )
    if side.target == "leg" and min(len(side.leg), len(side.shaft)) <= FEW_STATIONS:
        yield message("few heights were measured: rough between them")


def _why_panel(job: Job, case: Case, verdict: Verdict) -> Iterator[str]:
    if verdict.tier != "panel" or verdict.course is None:
        return
    if verdict.too_little_at is not None:
        share = percent(leather_book.TOO_LITTLE_LEATHER)
        yield message(
            "too little leather to stretch at {height}: under {share} of the girth",
            height=say_height(verdict.too_little_at.height_mm, job.unit),
            share=share,
        )
    stop = stopped_by(verdict.course)
    if stop is not None:
        yield message(
            "the next opening would be {length}: {limit}",
            length=say_length(verdict.course.opening.opening_mm, job.unit),
            limit=LIMIT_WORDS[stop],
        )
    if verdict.course.stop is None:
        yield _not_enough(case.max_rounds, verdict.course.within_max)


def _not_enough(rounds: int, within_most: float) -> str:
    """That so many rounds may not be enough. within_most: how probably they are."""
    if within_most >= book.ABOUT_EVEN:
        return message_n(
            "{count} more round may not do it",
            "{count} more rounds may not do it",
            rounds,
        )
    return message_n(
        "{count} more round will probably not do it",
        "{count} more rounds will probably not do it",
        rounds,
    )


def _course(job: Job, side: Side, case: Case, course: Course, limits: Limits) -> Iterator[str]:
    yield message(
        "usual for this leather: {usual}, one round {round}, never over {most}",
        usual=percent(limits.routine),
        round=percent(limits.round),
        most=percent(limits.ceiling),
    )
    yield from kept_sentences(side, case, course)
    opening = course.opening
    yield message(
        "the next opening is {length}, limited by {limit}",
        length=say_length(opening.opening_mm, job.unit),
        limit=LIMIT_WORDS[opening.limited_by],
    )
    if look_at_grain(course):
        yield LOOK_AT_GRAIN_WORDS
    yield from odds_sentences(case, course)


def kept_sentences(side: Side, case: Case, course: Course) -> Iterator[str]:
    """How much of an opening stays, what that rests on, and what the other boot says of it."""
    kept = course.stand.kept
    yield message(
        "{share} of an opening stays after a day on the tree: {basis}",
        share=about(kept.mean),
        basis=_basis(kept.boots, kept.rounds),
    )
    moved = with_other_boot(case.prior, case.other_rounds).mean - case.prior.mean
    if abs(moved) >= book.OTHER_BOOT_SAID:
        other = next(name for name in SIDES if name != side.name)
        names = {"other": _OTHER[other], "side": _OTHER[side.name]}
        yield (
            message(
                "the {other} boot kept more than usual; we expect it of the {side} too", **names
            )
            if moved > 0
            else message(
                "the {other} boot kept less than usual; we expect it of the {side} too", **names
            )
        )


def _basis(boots: int, rounds: int) -> str:
    """What a kept share rests on."""
    table = (
        message_n("{count} of the shop’s boots", "{count} of the shop’s boots", boots)
        if boots
        else message("the table, a guess")
    )
    if not rounds:
        return table
    return message_n(
        "{basis} and {count} round of this boot",
        "{basis} and {count} rounds of this boot",
        rounds,
        basis=table,
    )


def look_at_grain(course: Course) -> bool:
    """True where the next opening strains the leather as far as a ball test would."""
    stand = course.stand
    strain = (course.opening.girth_mm - stand.first_mm) / stand.leather_mm
    return strain >= leather_book.LOOK_AT_GRAIN - SAME_STRAIN


def _within_most(case: Case, course: Course, boots: int) -> str:
    """How many rounds, and in how many of ten boots the most of them is enough."""
    rounds = rounds_sentence(course.odds)
    if not tenths_said(course.within_max, boots):
        return message("{rounds}; not within {most}", rounds=rounds, most=case.max_rounds)
    odds = odds_in_ten(course.within_max, boots)
    return message("{rounds}; {odds} within {most}", rounds=rounds, odds=odds, most=case.max_rounds)


def odds_sentences(case: Case, course: Course) -> Iterator[str]:
    """How many rounds, and how likely; where a stop rule holds, that rule instead of the odds."""
    if course.stop is not None:
        yield STOPS[course.stop]
        return
    boots = course.stand.kept.boots
    yield _within_most(case, course, boots)
    if course.odds.fits is not None and course.within_max >= book.DONE_ODDS:
        yield fits_words(course.odds.fits, boots)


def _besides(job: Job, side: Side) -> Iterator[str]:
    """What is said beside the answer and never decides it."""
    boot = side.boot
    heel = heel_measure_mm(side)
    if will_not_pass(side) and heel is not None and boot.throat_mm is not None:
        yield message(
            "will not pass: the opening is {opening}, the heel measure {heel}",
            opening=say_length(boot.throat_mm, job.unit),
            heel=say_length(heel, job.unit),
        )
    if side.target != "gap" and boot.elastic is not None and boot.elastic.width_mm > 0:
        give = leather_book.ELASTIC_YIELD * boot.elastic.width_mm
        yield message(
            "the elastic gives another {length} under a gentle pull; that is no growth",
            length=say_length(give, job.unit),
        )
    if any(turn.on_tree_mm is None for turn in side.rounds):
        yield message(
            "a round without a reading on the tree, taken the same way, does not say what stays"
        )
    methods = {turn.method for turn in side.rounds}
    if len(methods) > 1:
        yield message("the rounds were measured in two ways: each is compared with its own start")
    for finding in side.findings:
        if finding not in _KNOWN_FINDINGS:
            yield message("what we saw: {finding}", finding=finding)
