"""The numbers that decided, as sentences for the counter: what the need comes from, where it is
tightest, what stopped it.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.fit.assessment.cautions import heel_measure_mm, will_not_pass
from fitcounter.fit.assessment.job import Job, Side
from fitcounter.fit.assessment.materials import OPEN_SEAM, PRIOR_STRETCH, REFUSING_FINDINGS
from fitcounter.fit.assessment.verdict import Case, Course, Verdict, repairs, stopped_by
from fitcounter.fit.assessment.words import (
    LIMIT_WORDS,
    about,
    goes_sentence,
    odds_in_ten,
    odds_word,
    percent,
)
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook.leg import FEW_STATIONS
from fitcounter.fit.tape import say_length, say_short_by

_MENDS = {"zip": "the zip is damaged: mend it first", "seam": "a seam is open: mend it first"}
_KNOWN_FINDINGS = (*REFUSING_FINDINGS, OPEN_SEAM, PRIOR_STRETCH)


def reasons(job: Job, side: Side, case: Case, verdict: Verdict) -> list[str]:
    """Sentences without a capital, in the order they weigh."""
    return [
        *deciding(job, side, case, verdict),
        *(_course(job, case, verdict.course, verdict) if verdict.course else ()),
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
    yield f"done within {case.max_rounds} more rounds: {odds_word(verdict.course.within_max)}"


def _course(job: Job, case: Case, course: Course, verdict: Verdict) -> Iterator[str]:
    limits = verdict.limits
    yield (
        f"usual for this leather: {percent(limits.routine)}, one round {percent(limits.round)},"
        f" never over {percent(limits.ceiling)}"
    )
    kept = course.stand.kept
    basis = f"{kept.boots} of the shop's boots" if kept.boots else "the table, a guess"
    own = f" and {kept.rounds} of this boot's own rounds" if kept.rounds else ""
    yield f"it keeps {about(kept.mean)} of an opening after a day on the tree: {basis}{own}"
    opening = course.opening
    yield (
        f"the next opening is {say_length(opening.opening_mm, job.unit)}, limited by"
        f" {LIMIT_WORDS[opening.limited_by]}"
    )
    yield (
        f"{goes_sentence(course.odds)}; {odds_in_ten(course.within_max, kept.boots)} within"
        f" {case.max_rounds}"
    )


def _besides(job: Job, side: Side) -> Iterator[str]:
    """What is said beside the answer and never decides it."""
    boot = side.boot
    heel = heel_measure_mm(side)
    if will_not_pass(side) and heel is not None and boot.throat_mm is not None:
        yield (
            f"will not pass: the throat is {say_length(boot.throat_mm, job.unit)}, the heel measure"
            f" {say_length(heel, job.unit)}"
        )
    if boot.elastic is not None and boot.elastic.width_mm > 0:
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
