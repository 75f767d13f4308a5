"""What a job may say, whichever way it came: `check_job` refuses one that was built from stored
rows in the words, and at the fields, in which `read_job` refuses the same job written as JSON.

What one value cannot tell (heights given twice, a target without readings, a round that opened
nothing) is checked by the same functions for both.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeVar

from fitcounter.errors import BadInput, message
from fitcounter.fit.assessment import legs, materials
from fitcounter.fit.assessment.job import TARGETS, Asked, Ease, FootReading, Job, Reading, Side
from fitcounter.fit.assessment.job_boot import DATUMS, METHODS, ZIP_STATES, Boot, check_span
from fitcounter.fit.assessment.job_fields import (
    heights_once,
    in_range,
    in_reading_range,
    known,
    length_in,
    listed,
    listed_readings,
    one_of,
    read_word,
    whole_in,
    wrong,
    wrong_text,
)
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.assessment.shaft import Strip
from fitcounter.fit.handbook import job as ranges
from fitcounter.fit.handbook import plausible
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.fit.handbook.rounds import MOST_ROUNDS
from fitcounter.fit.tape import MM_PER_UNIT, Length

Part = TypeVar("Part")
STATIONS = (*legs.STATIONS, "none")
# Which girths each station may have, mm; None: of a boot, and of a further height.
_GIRTHS_MM = dict.fromkeys((*STATIONS, None), ranges.RANGES["girth_mm"]) | plausible.REFUSE_MM
_NO_GIRTH = (math.inf, -math.inf)  # of a station that there is none of
_BOOT_NUMBERS = ("thickness_mm", "lining_mm", "wall_mm", "seat_mm", "shaft_mm", "rise_mm")


def check_job(job: Job) -> None:
    """Raises BadInput or BadReading, naming the field as `fitcounter assess` does, where a value of
    the job cannot be.
    """
    shared = job.sides[0].boot
    one_of("unit", job.unit, tuple(MM_PER_UNIT))
    _check_boot(shared, "boot")
    one_of("leg.posture", job.leg.posture, legs.POSTURES)
    one_of("leg.over", job.leg.over, legs.LAYERS)
    in_range("leg.layer_mm", job.leg.layer_mm, "layer_mm")
    one_of("leg.time", job.leg.time, legs.TIMES)
    _check_ease(job.ease)
    one_of("limits", job.dial, materials.DIALS)
    for side in job.sides:
        _check_side(side, shared)
    in_range("hold_h", job.hold_h, "hold_h")
    whole_in("max_rounds", job.max_rounds, 1, MOST_ROUNDS)
    if job.tree_max_mm is not None:
        in_range("tree_max_mm", job.tree_max_mm, "girth_mm")
    known("records", job.records, tuple(LEATHERS))
    for code, kept in job.records.items():
        _check_record(kept, f"records.{code}")


def check_whole_side(side: Side, readings: Sequence[Reading | FootReading]) -> None:
    """What one field of a side cannot tell: its target has readings, its heel measure is one, no
    height is given twice, and only the last round is still running.

    readings: of the leg, in the order in which they were given. Raises BadInput or BadReading.
    """
    needed = {
        "leg": ("leg", side.leg),
        "gap": ("gaps", side.gaps),
        "amount": ("amounts", side.amounts),
    }
    for key, entries in (needed[side.target], ("boot", side.shaft)):
        if not entries:
            raise wrong(
                f"{side.name}.{key}", message("write at least one height with its reading.")
            )
    if side.heel is not None:
        refuse_typing_errors("heel", (side.heel,), (f"{side.name}.heel",))
    heights_once(
        f"{side.name}.leg",
        [None if isinstance(entry, FootReading) else entry.height for entry in readings],
    )
    for key, rows in (("boot", side.shaft), ("gaps", side.gaps), ("amounts", side.amounts)):
        heights_once(f"{side.name}.{key}", [row.height for row in rows])


def check_running(rounds: Sequence[MeasuredRound], path: str) -> None:
    """Raises BadInput where another round than the last has no rested reading."""
    for place, turn in enumerate(rounds[:-1]):
        if turn.rested_mm is None:
            raise wrong(
                f"{path}[{place}].rested",
                message("only the last round may still be running; write its rested reading."),
            )


def check_opening(before_mm: float, on_tree_mm: float | None, path: str, typed: object) -> None:
    """Raises BadInput where a round opened nothing."""
    if on_tree_mm is not None and on_tree_mm <= before_mm:
        raise wrong(
            f"{path}.on_tree",
            message("write a reading larger than before: a tree that opens nothing is no round."),
            typed,
        )


def refuse_typing_errors(
    station: str | None, girths: Sequence[Length], fields: Sequence[str]
) -> None:
    """Raises BadReading where no leg has such a girth at that station. fields: one a girth."""
    for girth, field in zip(girths, fields, strict=True):
        legs.refuse_typing_error(station, girth.float_mm, girth.text, field)


def wrong_ease(value: object) -> BadInput:
    """The refusal of a room that is neither a word nor an amount."""
    return wrong(
        "ease",
        message(
            "write one of {options}, or {example}.",
            options=", ".join(legs.EASES),
            example='{"mm": 6}',
        ),
        value,
    )


def _check_ease(ease: Ease) -> None:
    if ease.word is None:
        in_range("ease.mm", ease.mm, "ease_mm")
    elif ease.word not in legs.EASES:
        raise wrong_ease(ease.word)


def _check_record(kept: Kept, path: str) -> None:
    in_range(f"{path}.mean", kept.mean, "mean")
    in_range(f"{path}.sd", kept.sd, "sd")
    whole_in(f"{path}.boots", kept.boots, 0, ranges.BOOTS_MOST)


def _check_boot(boot: Boot, path: str) -> None:
    one_of(f"{path}.lining", boot.lining, materials.LININGS)
    one_of(f"{path}.age", boot.age, materials.AGES)
    for name in _BOOT_NUMBERS:
        in_range(f"{path}.{name}", getattr(boot, name), name)
    one_of(f"{path}.method", boot.method, METHODS)
    one_of(f"{path}.heights_from", boot.heights_from, DATUMS)
    if boot.zip is not None:
        _check_strip(boot.zip.strip, f"{path}.zip", "band_mm")
        one_of(f"{path}.zip.state", boot.zip.state, ZIP_STATES)
        number = boot.zip.lateral_n_per_25mm
        in_range(f"{path}.zip.lateral_n_per_25mm", number, "lateral_n_per_25mm")
    if boot.elastic is not None:
        _check_strip(boot.elastic, f"{path}.elastic")
    for place, strip in enumerate(_entries(f"{path}.rigid", boot.rigid)):
        read_word(strip.name, f"{path}.rigid[{place}].name")
        _check_strip(strip, f"{path}.rigid[{place}]")
    if boot.throat_mm is not None:
        in_range(f"{path}.throat_mm", boot.throat_mm, "girth_mm")
    if boot.top_mm is not None:
        in_range(f"{path}.top_mm", boot.top_mm, "height_mm")


def _check_strip(strip: Strip, path: str, width: str = "width_mm") -> None:
    in_range(f"{path}.{width}", strip.width_mm, "width_mm")
    in_range(f"{path}.from_mm", strip.from_mm, "height_mm")
    in_range(f"{path}.to_mm", strip.to_mm, "height_mm")
    check_span(strip.from_mm, strip.to_mm, f"{path}.to_mm")


def _check_side(side: Side, shared: Boot) -> None:
    name = side.name
    one_of(f"{name}.target", side.target, TARGETS)
    read: tuple[Reading | FootReading, ...] = (*side.leg, *side.foot)
    _check_readings(f"{name}.leg", read, not side.foot and _are_sound(side.leg))
    _check_readings(f"{name}.boot", side.shaft, _are_sound(side.shaft))
    for key, kind, rows in (("gaps", "gap", side.gaps), ("amounts", "amount", side.amounts)):
        for place, asked in enumerate(_entries(f"{name}.{key}", rows)):
            _check_asked(asked, f"{name}.{key}[{place}]", kind)
    if side.heel is not None:
        length_in(f"{name}.heel", side.heel, "girth_mm")
    for place, word in enumerate(_entries(f"{name}.findings", side.findings)):
        read_word(word, f"{name}.findings[{place}]")
    for place, turn in enumerate(_entries(f"{name}.rounds", side.rounds)):
        _check_round(turn, f"{name}.rounds[{place}]")
    check_running(side.rounds, f"{name}.rounds")
    if side.boot is not shared and side.boot != shared:
        _check_boot(side.boot, f"{name}.differs")
    check_whole_side(side, read)


def _entries(path: str, rows: tuple[Part, ...]) -> tuple[Part, ...]:
    """The rows of a list, where they are no more than a job has."""
    listed(path, rows)
    return rows


def _are_sound(readings: Sequence[Reading]) -> bool:
    """Whether `_check_reading` refuses none of them, seen at a glance: so it is with nearly all,
    each read once, and no field needs its name then.
    """
    lowest, highest = ranges.RANGES["height_mm"]
    for station, height, girths, _ in readings:
        low, high = _GIRTHS_MM.get(station, _NO_GIRTH)
        if not (
            len(girths) == 1
            and low <= girths[0].float_mm <= high
            and lowest <= height.float_mm <= highest
        ):
            return False
    return True


def _check_readings(
    path: str, readings: tuple[Reading | FootReading, ...], are_sound: bool
) -> None:
    listed(path, readings)
    for place, reading in () if are_sound else enumerate(readings):
        _check_reading(reading, f"{path}[{place}]")


def _check_reading(reading: Reading | FootReading, path: str) -> None:
    station, girths, field = reading.station, reading.girths, f"{path}.girth"
    if station is not None:
        one_of(f"{path}.station", station, STATIONS)
    listed_readings(field, girths)
    for place, girth in enumerate(girths):
        length_in(f"{field}[{place}]", girth, "girth_mm")
    if station is not None:  # a boot has none, and takes any girth
        fields = [f"{field}[{place}]" for place in range(len(girths))]
        refuse_typing_errors(station, girths, fields)
    if isinstance(reading, Reading):
        length_in(f"{path}.height", reading.height, "height_mm")


def _check_asked(asked: Asked, path: str, kind: str) -> None:
    """kind: gap, read up to nine times, or amount, said once."""
    length_in(f"{path}.height", asked.height, "height_mm")
    if kind == "amount" and len(asked.readings) != 1:
        raise wrong_text(f"{path}.{kind}", asked.readings)
    listed_readings(f"{path}.{kind}", asked.readings)
    alone = len(asked.readings) == 1
    for place, length in enumerate(asked.readings):
        length_in(f"{path}.{kind}" if alone else f"{path}.{kind}[{place}]", length, "gap_mm")


def _check_round(turn: MeasuredRound, path: str) -> None:
    in_reading_range(f"{path}.before", turn.before_mm)
    for key, read_mm in (("rested", turn.rested_mm), ("on_tree", turn.on_tree_mm)):
        if read_mm is not None:
            in_reading_range(f"{path}.{key}", read_mm)
    if turn.rested_mm is None and turn.on_tree_mm is None:
        raise wrong(f"{path}.on_tree", message("is missing; write it."))
    check_opening(turn.before_mm, turn.on_tree_mm, path, turn.on_tree_mm)
    one_of(f"{path}.method", turn.method, METHODS)
    in_range(f"{path}.hold_h", turn.hold_h, "hold_h")
