"""The verdict on one boot from what it is short by: where it is tightest now, what the next round
may do, and the tier.

Everything here is a function of one Case, so that the same verdict can be asked again with another
need, another ease or more rounds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from fitcounter.fit.assessment import kept_fraction, load, opening_ahead, rounds_ahead, shaft
from fitcounter.fit.assessment.girth_now import PlaceNow, Room, places_now, room_of, tightest
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.assessment.load import Load, load_of
from fitcounter.fit.assessment.materials import (
    OPEN_SEAM,
    Factors,
    Limits,
    Narrowing,
    limits,
    refusals,
)
from fitcounter.fit.assessment.need import Place
from fitcounter.fit.assessment.no_further_round import stop_rule
from fitcounter.fit.assessment.notes import elastic_give_mm, notes_of
from fitcounter.fit.assessment.opening_ahead import Opening, Running, Stand
from fitcounter.fit.assessment.panel import Panel, panel_of
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook import load as load_book
from fitcounter.fit.handbook import rounds as rounds_book
from fitcounter.fit.handbook.leather import Leather
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM

TIERS = ("none", "routine", "stages", "repair-first", "panel", "refuse")
HARD_STOPS = ("round", "ceiling", "zip", "seam", "tree")


@dataclass(frozen=True, slots=True)
class Case:
    """All that the verdict on one boot rests on.

    places: as first brought in, lowest first; prior: its class's kept fraction. target: "leg",
    "gap" or "amount"; outside: notes of what was read outside the boot's readings; other_rounds: of
    the other boot, where both are of one leather.
    """

    places: tuple[Place, ...]
    boot: Boot
    leather: Leather
    factors: Factors
    dial: str
    findings: tuple[str, ...]
    rounds: tuple[MeasuredRound, ...]
    prior: Kept
    hold_h: float
    max_rounds: int
    tree_max_mm: float | None
    target: str = "leg"
    outside: tuple[str, ...] = ()
    other_rounds: tuple[MeasuredRound, ...] = ()

    @property
    def narrowing(self) -> Narrowing:
        """What narrows the limits of this boot."""
        return Narrowing(self.boot.lining, self.boot.age, self.dial, self.findings)


@dataclass(frozen=True, slots=True)
class Ahead:
    """What lies ahead of a boot that is short: where it stands (with its kept fraction), next
    opening, odds of further rounds, probability of done within the rounds agreed.
    """

    stand: Stand
    opening: Opening
    odds: Odds
    within_max: float


@dataclass(frozen=True, slots=True)
class Course(Ahead):
    """How stretching would go: what lies ahead, with the load of the next opening, growth in mm
    after 1 … as many rounds as agreed, and the rule that says to stop before another one, if any.
    """

    load: Load
    reach_mm: tuple[float, ...]
    stop: str | None


@dataclass(frozen=True, slots=True)
class Outlook:
    """The tier of a boot and its likely further rounds, where there is a number."""

    tier: str
    likely: int | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer for one boot.

    course: None for none and refuse; panel: for panel and refuse only; room: where it is too wide;
    notes: codes, in their order.
    """

    tier: str
    places: tuple[PlaceNow, ...]
    worst: PlaceNow
    limits: Limits
    refused: tuple[str, ...]
    too_little_at: PlaceNow | None
    course: Course | None
    panel: Panel | None
    room: Room | None = None
    notes: tuple[str, ...] = ()

    @property
    def likely(self) -> int | None:
        return self.course.odds.likely if self.course else None


def fits_already(case: Case) -> bool:
    """True where nothing is short now."""
    return not tightest(places_now(case.places, kept_fraction.growth_mm(case.rounds))).short


def outlook(case: Case) -> Outlook:
    """What `judge` says of tier and likely rounds, without the rest of it."""
    now = places_now(case.places, kept_fraction.growth_mm(case.rounds))
    worst = tightest(now)
    refused = refusals(case.leather, case.findings, case.boot.signed_off)
    ahead = None
    if worst.short and not refused:
        ahead = _ahead(
            case, now, worst, limits(case.leather, case.narrowing, case.factors), fits=False
        )
    tier = _tier(case, worst, _too_little_at(now) is not None, ahead)
    return Outlook(tier, ahead.odds.likely if ahead else None)


def judge(case: Case) -> Verdict:
    """The verdict on one boot."""
    now = places_now(case.places, kept_fraction.growth_mm(case.rounds))
    worst, bounds = tightest(now), limits(case.leather, case.narrowing, case.factors)
    refused = tuple(refusals(case.leather, case.findings, case.boot.signed_off))
    too_little = _too_little_at(now)
    course = _course(case, now, worst, bounds) if worst.short and not refused else None
    tier = _tier(case, worst, too_little is not None, course)
    panel = None
    if tier in ("panel", "refuse"):
        panel = panel_of(now, worst, elastic_give_mm(case.boot, case.target, worst.height_mm))
    notes = case.outside
    if tier != "refuse":
        notes = (*notes, *notes_of(case.boot, case.target, case.rounds, now, worst))
    return Verdict(
        tier, now, worst, bounds, refused, too_little, course, panel, room_of(now), notes
    )


def _too_little_at(now: Sequence[PlaceNow]) -> PlaceNow | None:
    """The lowest short height with too little leather to stretch."""
    least = leather_book.TOO_LITTLE_LEATHER
    return next(
        (
            place
            for place in now
            if place.short and place.first.leather_mm < least * place.first.girth_mm
        ),
        None,
    )


def _ahead(
    case: Case, now: Sequence[PlaceNow], worst: PlaceNow, bounds: Limits, *, fits: bool
) -> Ahead:
    """fits: False where only the rounds are asked for."""
    stand = _stand(case, now, worst, bounds)
    opening = opening_ahead.next_opening(stand)
    odds = rounds_ahead.odds(stand, opening, fits=fits)
    return Ahead(stand, opening, odds, odds.within(case.max_rounds))


def _course(case: Case, now: Sequence[PlaceNow], worst: PlaceNow, bounds: Limits) -> Course:
    ahead = _ahead(case, now, worst, bounds, fits=True)
    stand, opening = ahead.stand, ahead.opening
    return Course(
        stand=stand,
        opening=opening,
        odds=ahead.odds,
        within_max=ahead.within_max,
        load=load_of(opening.opening_mm, load.opened_from(now, worst), case.boot, _wall(case)),
        reach_mm=tuple(opening_ahead.reach_mm(stand, case.max_rounds)),
        stop=stop_rule(case.rounds, stand.known.surprise, opening, case.max_rounds),
    )


def _wall(case: Case) -> tuple[shaft.Layer, ...]:
    return shaft.layers(
        case.boot.thickness_mm, case.leather.strain_10mpa, case.boot.lining, case.boot.lining_mm
    )


def stand_at(case: Case, place: PlaceNow, bounds: Limits) -> Stand:
    """Where the boot stands for the forecast, opened at a place of it as it is now."""
    now = places_now(case.places, kept_fraction.growth_mm(case.rounds))
    here = next(other for other in now if other.first is place.first)
    return _stand(case, now, here, bounds)


def _stand(case: Case, now: Sequence[PlaceNow], worst: PlaceNow, bounds: Limits) -> Stand:
    wall, opened = _wall(case), load.opened_from(now, worst)
    zip_leather = load.least_leather_mm(load.on_zip(opened, case.boot))
    prior = kept_fraction.with_other_boot(case.prior, case.other_rounds)
    own = kept_fraction.belief(prior, case.rounds)
    seam_pull = load_book.SEAM_N_PER_MM * load_book.SEAM_HOLD
    return Stand(
        first_mm=worst.first.girth_mm,
        leather_mm=worst.first.leather_mm,
        girth_mm=worst.girth_mm,
        need_mm=worst.need_mm,
        need_u_mm=worst.first.need_u_mm,
        round_strain=bounds.round,
        ceiling_strain=bounds.ceiling,
        zip_strain=None if zip_leather is None else _zip_strain(case.boot, wall),
        seam_strain=shaft.strain_at_tension(seam_pull, wall),
        tree_mm=case.tree_max_mm,
        kept=own.kept(prior),
        hold_h=case.hold_h,
        lived=len(case.rounds),
        running=_running(case.rounds),
        zip_leather_mm=zip_leather,
        seam_leather_mm=load.least_leather_mm(opened),
        belief=own,
        flat=bool(case.rounds) and case.rounds[-1].method == "flat",
    )


def _zip_strain(boot: Boot, wall: tuple[shaft.Layer, ...]) -> float:
    """The strain at which the zip says hold here. boot: with a zip."""
    return shaft.strain_at_tension(load.zip_strength(boot) * load_book.ZIP_HOLD, wall)


def _running(rounds: Sequence[MeasuredRound]) -> Running | None:
    last = rounds[-1] if rounds else None
    if last is None or last.rested_mm is not None or last.opening_mm is None:
        return None
    return Running(last.opening_mm, last.hold_h, last.dry)


def _tier(case: Case, worst: PlaceNow, too_little: bool, ahead: Ahead | None) -> str:
    """ahead: None where nothing is short or the boot is refused."""
    if not worst.short:
        return "none"
    if ahead is None:
        return "refuse"
    if too_little or stopped_by(ahead) is not None or ahead.within_max < rounds_book.DONE_ODDS:
        return "panel"
    if repairs(case):
        return "repair-first"
    likely = ahead.odds.likely
    routine = (
        ahead.odds.within(rounds_book.ROUTINE_ROUNDS) >= rounds_book.DONE_ODDS
        and likely is not None
        and likely <= rounds_book.ROUTINE_ROUNDS
    )
    return "routine" if routine else "stages"


def stopped_by(ahead: Ahead) -> str | None:
    """What keeps the next opening within tolerance, so that nothing can be gained: round, ceiling,
    zip, seam or tree.
    """
    opening = ahead.opening
    return (
        opening.limited_by
        if opening.limited_by in HARD_STOPS and opening.opening_mm <= TOLERANCE_MM + TIE
        else None
    )


def repairs(case: Case) -> tuple[str, ...]:
    """What must be mended before any stretching: "zip", "seam"."""
    damaged = case.boot.zip is not None and case.boot.zip.state == "damaged"
    return (*(("zip",) if damaged else ()), *(("seam",) if OPEN_SEAM in case.findings else ()))


def with_need(case: Case, change: Callable[[Place], float]) -> Case:
    """The same case, each place short by so many mm more (less where negative)."""
    return replace(case, places=tuple(place.needing(change(place)) for place in case.places))


def heavier(first: str, second: str) -> str:
    """The tier of a pair: the heavier of its two."""
    return max(first, second, key=TIERS.index)
