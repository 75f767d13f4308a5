"""The numbers that decided, as sentences for the counter: what the need comes from, where it is
tightest, what stopped it.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.fit.assessment.cautions import heel_measure_mm, will_not_pass
from fitcounter.fit.assessment.course import STOPS
from fitcounter.fit.assessment.job import SIDES, Job, Side
from fitcounter.fit.assessment.kept import with_other_boot
from fitcounter.fit.assessment.materials import (
    OPEN_SEAM,
    PRIOR_STRETCH,
    REFUSING_FINDINGS,
    Limits,
)
from fitcounter.fit.assessment.note_words import note_sentences
from fitcounter.fit.assessment.verdict import Case, Course, Verdict, repairs, stopped_by
from fitcounter.fit.assessment.words import (
    LIMIT_WORDS,
    about,
    fits_words,
    goes_sentence,
    odds_in_ten,
    odds_word,
    percent,
)
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import FEW_STATIONS
from fitcounter.fit.handbook.load import SAME_STRAIN
from fitcounter.fit.tape import say_length, say_short_by

_MENDS = {"zip": "the zip is damaged: mend it first", "seam": "a seam is open: mend it first"}
LOOK_AT_GRAIN_WORDS = "from here on look at the grain at every turn of the tree"
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
    by = {"leg": "by leg", "gap": "by the gap at the zip", "amount": "by the amount asked for"}[
        side.target
    ]
    where = say_length(worst.height_mm, job.unit)
    if not worst.short:
        yield f"nowhere short by more than reading error ({by})"
        return
    yield f"short by {say_short_by(worst.need_mm, job.unit)} at {where}, the tightest place ({by})"
    yield (
        f"that is {percent(worst.strain_total)} of the leather there, counted from the boot as"
        " first brought in"
    )
    if side.target == "leg" and min(len(side.leg), len(side.shaft)) <= FEW_STATIONS:
        yield "few heights were read: rough between readings"


def _why_panel(job: Job, case: Case, verdict: Verdict) -> Iterator[str]:
    if verdict.tier != "panel" or verdict.course is None:
        return
    if verdict.too_little_at is not None:
        share = percent(leather_book.TOO_LITTLE_LEATHER)
        yield (
            "too little leather to stretch at"
            f" {say_length(verdict.too_little_at.height_mm, job.unit)}: under {share} of the girth"
        )
    stop = stopped_by(verdict.course)
    if stop is not None:
        yield (
            f"the next opening would be {say_length(verdict.course.opening.opening_mm, job.unit)}:"
            f" {LIMIT_WORDS[stop]}"
        )
    if verdict.course.stop is None:
        yield f"done within {case.max_rounds} more rounds: {odds_word(verdict.course.within_max)}"


def _course(job: Job, side: Side, case: Case, course: Course, limits: Limits) -> Iterator[str]:
    yield (
        f"usual for this leather: {percent(limits.routine)}, one round {percent(limits.round)},"
        f" never over {percent(limits.ceiling)}"
    )
    yield from kept_sentences(side, case, course)
    opening = course.opening
    yield (
        f"the next opening is {say_length(opening.opening_mm, job.unit)}, limited by"
        f" {LIMIT_WORDS[opening.limited_by]}"
    )
    if look_at_grain(course):
        yield LOOK_AT_GRAIN_WORDS
    yield from odds_sentences(case, course)


def kept_sentences(side: Side, case: Case, course: Course) -> Iterator[str]:
    """How much of an opening stays, what that rests on, and what the other boot says of it."""
    kept = course.stand.kept
    basis = f"{kept.boots} of the shop's boots" if kept.boots else "the table, a guess"
    own = f" and {kept.rounds} of this boot's own rounds" if kept.rounds else ""
    yield f"it keeps {about(kept.mean)} of an opening after a day on the tree: {basis}{own}"
    moved = with_other_boot(case.prior, case.other_rounds).mean - case.prior.mean
    if abs(moved) >= book.OTHER_BOOT_SAID:
        other = next(name for name in SIDES if name != side.name)
        much = "more" if moved > 0 else "less"
        yield f"the {other} boot kept {much} than usual, so we expect the {side.name} to"


def look_at_grain(course: Course) -> bool:
    """True where the next opening strains the leather as far as a ball test would."""
    stand = course.stand
    strain = (course.opening.girth_mm - stand.first_mm) / stand.leather_mm
    return strain >= leather_book.LOOK_AT_GRAIN - SAME_STRAIN


def odds_sentences(case: Case, course: Course) -> Iterator[str]:
    """How many rounds, and how likely; where a stop rule holds, that rule instead of the odds."""
    if course.stop is not None:
        yield STOPS[course.stop][:1].lower() + STOPS[course.stop][1:].removesuffix(".")
        return
    boots = course.stand.kept.boots
    yield (
        f"{goes_sentence(course.odds)}; {odds_in_ten(course.within_max, boots)} within"
        f" {case.max_rounds}"
    )
    if course.odds.fits is not None and course.within_max >= book.DONE_ODDS:
        yield fits_words(course.odds.fits, boots)


def _besides(job: Job, side: Side) -> Iterator[str]:
    """What is said beside the answer and never decides it."""
    boot = side.boot
    heel = heel_measure_mm(side)
    if will_not_pass(side) and heel is not None and boot.throat_mm is not None:
        yield (
            f"will not pass: the throat is {say_length(boot.throat_mm, job.unit)}, the heel measure"
            f" {say_length(heel, job.unit)}"
        )
    if side.target != "gap" and boot.elastic is not None and boot.elastic.width_mm > 0:
        give = leather_book.ELASTIC_YIELD * boot.elastic.width_mm
        yield (
            f"the elastic gives another {say_length(give, job.unit)} under a gentle pull; that is"
            " no growth"
        )
    if any(turn.on_tree_mm is None for turn in side.rounds):
        yield "a round without a reading on the tree by the same method gives no kept fraction"
    methods = {turn.method for turn in side.rounds}
    if len(methods) > 1:
        yield (
            f"the rounds were read by {' and '.join(sorted(methods))}: each is compared with its"
            " own start"
        )
    for finding in side.findings:
        if finding not in _KNOWN_FINDINGS:
            yield f"what we saw: {finding.replace('-', ' ')}"
