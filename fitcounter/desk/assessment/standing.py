"""Where one boot stands: what it is short by now, how far the next round may open it, how many
there will be.

The stored rows go through the computation (`fit.assess`), one boot at a time. None where it was not
measured, is no boot that is stretched, or its rows cannot be computed: the bench goes on without
figures then.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from fitcounter.desk.assessment import learnt_from_own_boots, limits
from fitcounter.desk.assessment.job import PairRows, build_job, pair_rows
from fitcounter.desk.assessment.learnt_from_own_boots import Learnt
from fitcounter.desk.assessment.readings import exact_readings
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import FitCounterError
from fitcounter.fit.assessment.assess import case_of
from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job import Job
from fitcounter.fit.assessment.kept_fraction import Keeping, corrected, with_other_boot
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.assessment.no_further_round import stop_sentences
from fitcounter.fit.assessment.one_round import kept_words
from fitcounter.fit.assessment.opening_ahead import Opening, Stand, next_opening
from fitcounter.fit.assessment.verdict import Case, Verdict, judge, stand_at
from fitcounter.fit.handbook.leg import FLAT_FACTOR, TOLERANCE_MM
from fitcounter.fit.tape import room_inches
from fitcounter.store import findings, fits, readings
from fitcounter.store.database import Store
from fitcounter.store.records import Item

# The limits of an opening in the order that decides ties, and what is said of one that is passed.
LIMIT_WORDS = {
    "round": marked("one round may open the boot at most"),
    "ceiling": marked("this leather may give at most another"),
    "zip": marked("the zipper may carry at most"),
    "seam": marked("the seams may carry at most"),
}
_PASSED = {
    "round": marked(
        "This opens the boot {opening}; one round may open {most}."
        " Turn back, or pick a reason to go on."
    ),
    "ceiling": marked(
        "This opens the boot {opening}; this leather may give {most} more."
        " Turn back: past this, leather cracks."
    ),
    "zip": marked(
        "This opens the boot {opening}; the zipper may carry {most}."
        " Check the slider, the tape ends and the stitches beside them."
    ),
    "seam": marked(
        "This opens the boot {opening}; the seams may carry {most}. Check the stitch holes."
    ),
}


MOST_KEPT = 1024


@dataclass(frozen=True, slots=True)
class Standing:
    """One boot now. case: what it rests on; verdict: the answer as of now."""

    case: Case
    verdict: Verdict

    @property
    def need_mm(self) -> float:
        """Short by at the tightest place, now."""
        return self.verdict.worst.need_mm

    @property
    def done(self) -> bool:
        return not self.verdict.worst.short

    @property
    def stand(self) -> Stand:
        return stand_at(self.case, self.verdict.worst, self.verdict.limits)

    def place_at(self, mark_mm: float | None) -> PlaceNow:
        """The evaluated place nearest a mark; the tightest where there is no mark."""
        if mark_mm is None:
            return self.verdict.worst
        return min(self.verdict.places, key=lambda place: abs(place.height_mm - mark_mm))

    def bounds_mm(self, mark_mm: float | None) -> dict[str, float]:
        """How far one round may open at a mark, by each limit, from the girth before it.

        0 where the leather is refused.
        """
        if (
            self.case.leather.refused
        ):  # it keeps nothing, so there is no forecast to take a limit from
            return dict.fromkeys(LIMIT_WORDS, 0.0)
        place = self.place_at(mark_mm)
        stand = replace(stand_at(self.case, place, self.verdict.limits), tree_mm=None)
        return {
            name: max(0.0, girth - stand.girth_mm)
            for name, girth in stand.bounds(stand.girth_mm).items()
        }

    def opening_mm(self, mark_mm: float | None) -> Opening | None:
        """The next opening at a mark, None where nothing is to be gained."""
        if self.verdict.course is None:
            return None
        stand = stand_at(self.case, self.place_at(mark_mm), self.verdict.limits)
        return next_opening(replace(stand, running=None))


def standing(
    store: Store,
    item: Item,
    known: Mapping[str, Learnt] | None = None,
    pair: PairRows | None = None,
) -> Standing | None:
    """Where a boot that is stretched stands, or None where that cannot be said. known: what the
    shop's boots say, pair: its own; each where it was asked just now.
    """
    return as_measured(store, item, known, pair) if item.work == "stretch" else None


def as_measured(
    store: Store,
    item: Item,
    known: Mapping[str, Learnt] | None = None,
    pair: PairRows | None = None,
) -> Standing | None:
    """The same whatever is done to the boot: one that gets a panel was judged, too."""
    if item.fit_id is None or item.side is None:
        return None
    try:
        boots = pair.boots if pair else fits.boots(store, item.fit_id)
        stored = readings.brought_in(store, item.fit_id, [boot.id for boot in boots])
        if not stored.boots[item.id]:
            return None
        fit, own = fits.get(store, item.fit_id), limits.of_shop(store)
        pair = pair or pair_rows(store, boots)
        read = [
            boot
            for boot in pair.boots
            if stored.boots[boot.id] and (boot.id == item.id or boot.material == item.material)
        ]
        told = learnt_from_own_boots.learnt(store, own) if known is None else known
        records = learnt_from_own_boots.records(store, fit.id, told)
        exact = exact_readings(stored, read)
        job = build_job(store, fit, read, records=records, read=exact, pair=pair)
        return _judged(job, str(item.side), item.target == "safe", own)
    except FitCounterError:
        return None


@lru_cache(maxsize=MOST_KEPT)
def _judged(job: Job, name: str, safe: bool, own: Own) -> Standing:
    """Judged once for the same rows, because a boot's page, the bench and the plan all ask.

    job: of a pair, whose other boot is evidence; name: of the side. Raises FitCounterError.
    """
    asked = limits.checked(job, own, safe=safe)
    case = case_of(asked, next(side for side in asked.sides if side.name == name), own)
    return Standing(case, judge(case))


def over_limit(found: Standing, mark_mm: float | None, opening_mm: float, unit: str) -> str:
    """The sentence for an opening past a limit, with the number; empty where it stays within all of
    them.
    """
    bounds = found.bounds_mm(mark_mm)
    limit = min(LIMIT_WORDS, key=lambda name: bounds.get(name, float("inf")))
    if opening_mm <= bounds[limit] + 1e-6:
        return ""
    most = say_room(bounds[limit], unit)
    return say(_PASSED[limit], opening=say_length(opening_mm, unit), most=most)


def planned_reading(
    found: Standing, mark_mm: float | None, before_mm: float, method: str, unit: str
) -> str:
    """What the tape is to read on the tree, rounded down so that no limit is passed, as it is
    typed; empty where nothing is to open.
    """
    opening = found.opening_mm(mark_mm)
    if opening is None or opening.opening_mm <= TOLERANCE_MM / 2:
        return ""
    aim_mm = before_mm + opening.opening_mm / (FLAT_FACTOR if method == "flat" else 1)
    if aim_mm <= before_mm:
        return ""
    return room_inches(aim_mm) if unit == "in" else say_length(int(aim_mm), "cm")


def kept_sentence(found: Standing, unit: str) -> str:
    """What the last round kept: "Kept 7/16 in of 15/16 in (estimate: half)."; "" before any was
    read.
    """
    last = found.case.rounds[-1] if found.case.rounds else None
    if last is None or last.gain_mm is None:
        return ""
    return f"{_kept(found, last.gain_mm, last.opening_mm, unit)}."


def _kept(found: Standing, gain: float, opening: float | None, unit: str) -> str:
    gained = say_length(max(0.0, gain), unit)
    if found.case.leather.refused:
        return say("Gave {gain}; no estimate, as this is not leather to stretch", gain=gained)
    if opening is None or opening <= 0:
        return say("Gave {gain}; no share kept, as you measured in two ways", gain=gained)
    return say(
        "Kept {gain} of {opening} (estimate: {share})",
        gain=gained,
        opening=say_length(opening, unit),
        share=kept_words(_guess(found)),
    )


def _guess(found: Standing) -> float:
    """What was thought this very round would keep, before it was read: by leather, records, the
    rounds before, its hold and preparing.
    """
    *before, last = found.case.rounds
    prior = with_other_boot(found.case.prior, found.case.other_rounds)
    thought = corrected(prior, before)
    return Keeping.of(last.hold_h, last.dry, len(found.case.rounds)).kept(thought.mean)


def stops(store: Store, found: Standing, item: Item) -> list[str]:
    """Why to stop before another round, a sentence each."""
    stop = found.verdict.course.stop if found.verdict.course else None
    seen = {one.word for one in findings.of_item(store, item.id) if one.moment != "before"}
    return stop_sentences(stop, seen)


def say_room(mm: float, unit: str) -> str:
    """A length that may be used up, rounded down."""
    return f"{room_inches(mm)} in" if unit == "in" else say_length(int(mm), unit)
