"""The front door of the computation: a job in, an Assessment out.

read_job takes any JSON value and refuses what it cannot read with a sentence that names the field;
assess answers what was read. "Cannot" is an answer with its reason. The same job gives the same
answer, to the last digit.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

from fitcounter.fit.assessment import safety_warnings
from fitcounter.fit.assessment.answer_json import side_json
from fitcounter.fit.assessment.cheaper_answers import what_would_change
from fitcounter.fit.assessment.heel_seat_heights import boot_span_mm
from fitcounter.fit.assessment.job import SIDES, Job, Side
from fitcounter.fit.assessment.job_json import read_job
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.assessment.materials import HANDBOOK, Own
from fitcounter.fit.assessment.need import check_places, places, span_of
from fitcounter.fit.assessment.reasons import reasons
from fitcounter.fit.assessment.second_reading import GOOD_ENOUGH, could_move, second_readings
from fitcounter.fit.assessment.slips import Slip, reading_slips
from fitcounter.fit.assessment.verdict import Case, Verdict, heavier, judge

__all__ = ["Assessment", "SideAnswer", "assess", "read_job"]


@dataclass(frozen=True, slots=True)
class SideAnswer:
    """The answer for one boot. case: what it rests on, for asking again with something changed;
    second_look: a second reading could change it.
    """

    side: Side
    case: Case
    verdict: Verdict
    reasons: tuple[str, ...]
    would_change: tuple[str, ...]
    slips: tuple[Slip, ...]
    second_look: bool = False

    @property
    def name(self) -> str:
        return self.side.name


@dataclass(frozen=True, slots=True)
class Assessment:
    """The answer for a pair, or for one boot that came alone.

    verdict: the heavier tier of its boots.
    """

    job: Job
    sides: tuple[SideAnswer, ...]
    cautions: tuple[str, ...]

    @property
    def verdict(self) -> str:
        return reduce(heavier, (answer.verdict.tier for answer in self.sides))

    @property
    def reasons(self) -> list[str]:
        return self._said([answer.reasons for answer in self.sides])

    @property
    def would_change(self) -> list[str]:
        return self._said([answer.would_change for answer in self.sides])

    def _said(self, by_side: list[tuple[str, ...]]) -> list[str]:
        """Each side's sentences under its name; what both say alike is said once."""
        if len(by_side) > 1 and by_side[0] == by_side[1]:
            return [f"Both: {sentence}." for sentence in by_side[0]]
        named = zip((answer.name.capitalize() for answer in self.sides), by_side, strict=True)
        return [f"{name}: {sentence}." for name, sentences in named for sentence in sentences]

    def as_json(self) -> dict[str, object]:
        """The answer in the form that `fitcounter assess` prints; a side that was not asked for is
        null.
        """
        sides = {
            answer.name: side_json(answer.verdict, answer.slips, answer.second_look)
            for answer in self.sides
        }
        return {
            "verdict": self.verdict,
            "reasons": self.reasons,
            "would_change": self.would_change,
            "cautions": list(self.cautions),
            **{name: sides.get(name) for name in SIDES},
        }


def assess(job: Job, own: Own = HANDBOOK) -> Assessment:
    """Answers a job. own: the shop's limits where it has edited the handbook's.

    Raises BadInput where leg (gaps, amounts) and boot share no height, or a height or a wall cannot
    be.
    """
    asked = reading_slips(job)
    sides = tuple(
        _answer(job, side, own, [slip for slip in asked if slip.side == side.name])
        for side in job.sides
    )
    return Assessment(job, sides, tuple(safety_warnings.cautions(job)))


def can_be_answered(job: Job) -> None:
    """Raises BadInput where assess would, without reckoning the answer: nothing after the places of
    need can fail.
    """
    for side in job.sides:
        check_places(job, side)


def _answer(job: Job, side: Side, own: Own, asked: list[Slip]) -> SideAnswer:
    case = case_of(job, side, own)
    verdict = judge(case)
    said = reasons(job, side, case, verdict)
    second_look = could_move(case, verdict)
    if second_look:
        asked = [*asked, *second_readings(job, side, verdict)]
    elif side.target != "amount" and verdict.tier != "refuse":
        said.append(GOOD_ENOUGH)
    return SideAnswer(
        side,
        case,
        verdict,
        tuple(said),
        tuple(what_would_change(job, side, case, verdict)),
        tuple(asked),
        second_look,
    )


def case_of(job: Job, side: Side, own: Own) -> Case:
    """All that the verdict on one boot rests on. Raises BadInput as assess does."""
    leather = own.row(side.boot.leather)
    return Case(
        places=tuple(places(job, side)),
        boot=side.boot,
        leather=leather,
        factors=own.factors,
        dial=job.dial,
        findings=side.findings,
        rounds=side.rounds,
        prior=job.records.get(leather.code, Kept(leather.kept_mean, leather.kept_sd)),
        hold_h=job.hold_h,
        max_rounds=job.max_rounds,
        tree_max_mm=job.tree_max_mm,
        target=side.target,
        outside=span_of(job, side, boot_span_mm(side)),
        other_rounds=_other_rounds(job, side),
    )


def _other_rounds(job: Job, side: Side) -> tuple[MeasuredRound, ...]:
    """The rounds of the other boot, where both are of one leather."""
    return next(
        (
            other.rounds
            for other in job.sides
            if other.name != side.name and other.boot.leather.code == side.boot.leather.code
        ),
        (),
    )
