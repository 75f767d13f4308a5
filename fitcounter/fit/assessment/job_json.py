"""A job read from JSON, checked field by field, in the form that `fitcounter assess` takes.

read_job takes any JSON value and gives a Job or raises BadInput or BadReading, whose sentence names
the field and says what to write. It fills in what may be left out; it computes nothing but exact
lengths.
"""

from __future__ import annotations

from fitcounter.fit.assessment import legs, materials
from fitcounter.fit.assessment.job import (
    SIDES,
    TARGETS,
    Asked,
    Ease,
    FootReading,
    Job,
    LegTerms,
    Reading,
    Side,
    settled,
)
from fitcounter.fit.assessment.job_boot import BOOT_KEYS, METHODS, Boot, read_boot
from fitcounter.fit.assessment.job_checks import (
    STATIONS,
    check_opening,
    check_running,
    check_whole_side,
    refuse_typing_errors,
    wrong_ease,
)
from fitcounter.fit.assessment.job_fields import REQUIRED, Fields, read_lengths, read_word
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.handbook import job as ranges
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook import rounds as rounds_book
from fitcounter.fit.tape import MM_PER_UNIT, Length

_JOB_KEYS = (
    "unit",
    "leg",
    "ease",
    "limits",
    "boot",
    *SIDES,
    "hold_h",
    "max_rounds",
    "tree_max_mm",
    "records",
)
_SIDE_KEYS = ("target", "leg", "boot", "gaps", "amounts", "heel", "findings", "rounds", "differs")


def read_job(data: object, sides: tuple[str, ...] = SIDES) -> Job:
    """Reads a job of the form that `fitcounter assess` takes. sides: ("left",) for a boot that
    comes alone.

    Raises BadInput or BadReading on anything else, whatever JSON value it is.
    """
    job = Fields(data, "", _JOB_KEYS)
    unit, shared = job.choice("unit", tuple(MM_PER_UNIT)), read_boot(job.get("boot"), "boot")
    return Job(
        unit=unit,
        leg=_read_leg_terms(job.get("leg", {})),
        ease=_read_ease(job.get("ease", "close")),
        dial=job.choice("limits", materials.DIALS, "usual"),
        sides=tuple(_read_side(job, name, unit, shared) for name in sides),
        hold_h=job.number("hold_h", rounds_book.HOLD_H),
        max_rounds=job.whole("max_rounds", 1, rounds_book.MOST_ROUNDS, rounds_book.PLANNED_ROUNDS),
        tree_max_mm=job.number_or_none("tree_max_mm", "girth_mm"),
        records=_read_records(job.get("records", {})),
    )


def _read_leg_terms(value: object) -> LegTerms:
    leg = Fields(value, "leg", ("posture", "over", "layer_mm", "time", "marked", "on_block"))
    return LegTerms(
        posture=leg.choice("posture", legs.POSTURES, "standing"),
        over=leg.choice("over", legs.LAYERS, "skin"),
        layer_mm=leg.number("layer_mm", 0),
        time=leg.choice("time", legs.TIMES, "evening"),
        marked=leg.flag("marked"),
        on_block=leg.flag("on_block"),
    )


def _read_ease(value: object) -> Ease:
    if isinstance(value, dict):
        return Ease(None, Fields(value, "ease", ("mm",)).number("mm", range_of="ease_mm"))
    if not isinstance(value, str) or value not in legs.EASES:
        raise wrong_ease(value)
    return Ease(value, 0.0)


def _read_records(value: object) -> dict[str, Kept]:
    records = Fields(value, "records", tuple(leather_book.LEATHERS))
    return {code: _read_record(kept, f"records.{code}") for code, kept in records.values.items()}


def _read_record(value: object, path: str) -> Kept:
    record = Fields(value, path, ("mean", "sd", "boots"))
    return Kept(
        record.number("mean"),
        record.number("sd"),
        boots=record.whole("boots", 0, ranges.BOOTS_MOST),
    )


def _read_side(job: Fields, name: str, unit: str, shared: Boot) -> Side:
    side = Fields(job.get(name), name, _SIDE_KEYS)
    differs = Fields(side.get("differs", {}), f"{name}.differs", BOOT_KEYS)
    readings = side.items("leg", lambda value, field: _read_leg_reading(value, field, unit))
    read = Side(
        name=name,
        target=side.choice("target", TARGETS, "leg"),
        leg=tuple(reading for reading in readings if isinstance(reading, Reading)),
        foot=tuple(reading for reading in readings if isinstance(reading, FootReading)),
        shaft=side.items(
            "boot", lambda value, field: _read_shaft_reading(value, field, unit), REQUIRED
        ),
        gaps=side.items("gaps", lambda value, field: _read_asked(value, field, unit, "gap")),
        amounts=side.items(
            "amounts", lambda value, field: _read_asked(value, field, unit, "amount")
        ),
        heel=side.length_or_none("heel", unit),
        findings=side.items("findings", read_word),
        rounds=_read_rounds(side, unit),
        boot=_read_differing(job, differs) if differs.values else shared,
    )
    check_whole_side(read, readings)
    return read


def _read_differing(job: Fields, differs: Fields) -> Boot:
    """The job's boot with what differs on one side."""
    return read_boot(
        {**Fields(job.get("boot"), "boot", BOOT_KEYS).values, **differs.values}, differs.path
    )


def _read_leg_reading(value: object, path: str, unit: str) -> Reading | FootReading:
    reading = Fields(value, path, ("station", "height", "girth"))
    said = "none" if reading.get("station", None) is None else reading.choice("station", STATIONS)
    station = None if said == "none" else said
    girths = read_lengths(reading.get("girth"), f"{path}.girth", unit)
    fields = [f"{path}.girth[{place}]" for place in range(len(girths))]
    refuse_typing_errors(station, girths, fields)
    if station in legs.FOOT_STATIONS:
        reading.length_or_none("height", unit, "height_mm")
        return FootReading(station, girths)
    return Reading.of(station, reading.length("height", unit, "height_mm"), girths)


def _read_shaft_reading(value: object, path: str, unit: str) -> Reading:
    reading = Fields(value, path, ("height", "girth"))
    return Reading.of(
        None,
        reading.length("height", unit, "height_mm"),
        read_lengths(reading.get("girth"), f"{path}.girth", unit),
    )


def _read_asked(value: object, path: str, unit: str, key: str) -> Asked:
    asked = Fields(value, path, ("height", key))
    height, said = asked.length("height", unit, "height_mm"), asked.get(key)
    if key == "gap" and isinstance(said, list):
        return Asked(height, read_lengths(said, f"{path}.{key}", unit, "gap_mm"))
    return Asked(height, (asked.length(key, unit, "gap_mm"),))


def _read_rounds(side: Fields, unit: str) -> tuple[MeasuredRound, ...]:
    rounds = side.items("rounds", lambda value, field: _read_round(value, field, unit))
    check_running(rounds, side.field("rounds"))
    return rounds


def _read_round(value: object, path: str, unit: str) -> MeasuredRound:
    turn = Fields(value, path, ("before", "on_tree", "rested", "method", "hold_h", "prepared"))
    before = _read_girth(turn, "before", unit)
    rested = None if turn.get("rested", None) is None else _read_girth(turn, "rested", unit)
    on_tree = None
    if rested is None or turn.get("on_tree", None) is not None:
        on_tree = _read_girth(turn, "on_tree", unit)
    before_mm = float(settled(before))
    on_tree_mm = None if on_tree is None else float(settled(on_tree))
    check_opening(before_mm, on_tree_mm, path, on_tree and on_tree[-1].text)
    return MeasuredRound(
        before_mm=before_mm,
        on_tree_mm=on_tree_mm,
        rested_mm=None if rested is None else float(settled(rested)),
        method=turn.choice("method", METHODS, "outside"),
        hold_h=turn.number("hold_h", rounds_book.HOLD_H),
        dry=turn.choice("prepared", ("conditioned", "dry"), "conditioned") == "dry",
        before_count=len(before),
        rested_count=1 if rested is None else len(rested),
    )


def _read_girth(turn: Fields, key: str, unit: str) -> tuple[Length, ...]:
    """A reading of a round, or the list of as many as were taken."""
    value = turn.get(key)
    if isinstance(value, list):
        return read_lengths(value, turn.field(key), unit)
    return (turn.length(key, unit),)
