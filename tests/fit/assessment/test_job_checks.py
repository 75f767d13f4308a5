"""A job built from records is refused at the fields, and in the words, in which the same job is
refused as JSON.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from support.assess_jobs import example, job, leg, shaft
from support.wrong_fields import ROUND

from fitcounter.errors import BadInput, BadReading, FitCounterError
from fitcounter.fit.assessment.assess import read_job
from fitcounter.fit.assessment.job import Asked, Ease, FootReading, Job, Reading, Side
from fitcounter.fit.assessment.job_checks import check_job
from fitcounter.fit.assessment.kept_fraction import Kept
from fitcounter.fit.assessment.shaft import Strip
from fitcounter.fit.handbook.job import LIST_MOST, READINGS_MOST
from fitcounter.fit.tape import Length, parse_length

Change = Callable[[Any], object]


def good() -> dict[str, Any]:
    """A job with every kind of field in it."""
    side = {
        "leg": [
            *leg(("calf", "300", "420"), ("none", "350", "410")),
            {"station": "ball", "girth": ["230"]},
        ],
        "amounts": [{"height": "300", "amount": "5"}],
        "boot": shaft(("300", "400"), ("350", "405")),
        "gaps": [{"height": "300", "gap": ["5", "6"]}, {"height": "350", "gap": "4"}],
        "rounds": [dict(ROUND), {**ROUND, "rested": None}],
        "heel": "330",
        "findings": ["scuffs"],
    }
    data = job({"target": "leg", **side})
    data["leg"] = {}
    data["boot"].update(
        zip={"from_mm": 0, "to_mm": 400},
        elastic={"width_mm": 30, "from_mm": 100, "to_mm": 300},
        rigid=[{"name": "strap", "width_mm": 20, "to_mm": 400}],
        throat_mm=340,
    )
    data["records"] = {"goat": {"mean": 0.5, "sd": 0.1, "boots": 3}}
    data["tree_max_mm"] = 430
    return data


def refusal(way: Callable[[], object]) -> FitCounterError:
    with pytest.raises((BadInput, BadReading)) as refused:
        way()
    return refused.value


def left(**changes: object) -> Change:
    """Changes of the left side."""
    return lambda whole: replace(
        whole, sides=(replace(whole.sides[0], **changes), *whole.sides[1:])
    )


def both_boots(**changes: object) -> Change:
    """Changes of the boot of both sides."""
    return lambda whole: replace(
        whole, sides=tuple(replace(s, boot=replace(s.boot, **changes)) for s in whole.sides)
    )


def of_left(change: Callable[[Side], dict[str, object]]) -> Change:
    return lambda whole: left(**change(whole.sides[0]))(whole)


def in_json(path: str, value: object) -> Change:
    """The same in a job of JSON."""

    def changed(data: Any) -> Any:
        *way, last = path.split(".")
        place = data
        for key in way:
            place = place[int(key)] if key.isdigit() else place[key]
        place[int(last) if last.isdigit() else last] = value
        return data

    return changed


def mm(text: str) -> Length:
    return parse_length(text, "mm", zero_ok=True)


def first_girth(side: Side, kind: str, text: str) -> dict[str, object]:
    first, *others = getattr(side, kind)
    return {kind: (first.of(first.station, first.height, (mm(text),)), *others)}


def first_round(side: Side, **changes: object) -> dict[str, object]:
    return {"rounds": (replace(side.rounds[0], **changes), *side.rounds[1:])}


SAME: list[tuple[str, object, Change]] = [
    ("unit", "ft", lambda job: replace(job, unit="ft")),
    ("limits", "bold", lambda job: replace(job, dial="bold")),
    ("leg.time", "noon", lambda job: replace(job, leg=replace(job.leg, time="noon"))),
    ("leg.layer_mm", 51, lambda job: replace(job, leg=replace(job.leg, layer_mm=51.0))),
    ("ease", "loose", lambda job: replace(job, ease=Ease("loose", 0.0))),
    ("ease", {"mm": 101}, lambda job: replace(job, ease=Ease(None, 101.0))),
    ("hold_h", 0, lambda job: replace(job, hold_h=0.0)),
    ("max_rounds", 7, lambda job: replace(job, max_rounds=7)),
    ("tree_max_mm", 5, lambda job: replace(job, tree_max_mm=5.0)),
    (
        "records.goat.mean",
        1.0,
        lambda job: replace(job, records={"goat": Kept(1.0, 0.1, boots=3)}),
    ),
    (
        "records",
        {"cow": {"mean": 0.5, "sd": 0.1, "boots": 3}},
        lambda job: replace(job, records={"cow": Kept(0.5, 0.1, boots=3)}),
    ),
    ("boot.lining", "silk", both_boots(lining="silk")),
    ("boot.thickness_mm", 0, both_boots(thickness_mm=0.0)),
    ("boot.thickness_mm", float("nan"), both_boots(thickness_mm=float("nan"))),
    ("boot.rise_mm", 140, both_boots(rise_mm=140.0)),
    ("boot.throat_mm", 1, both_boots(throat_mm=1.0)),
    ("boot.top_mm", 1501, both_boots(top_mm=1501.0)),
    ("boot.rigid.0.name", "", both_boots(rigid=(Strip("", 20.0, 0.0, 400.0),))),
    ("boot.rigid.0.to_mm", 1501, both_boots(rigid=(Strip("strap", 20.0, 0.0, 1501.0),))),
    ("boot.elastic.to_mm", 50, both_boots(elastic=Strip("elastic", 30.0, 100.0, 50.0))),
    ("left.target", "hope", left(target="hope")),
    ("left.boot", [], left(shaft=())),
    ("left.leg.0.station", "thigh", of_left(
        lambda side: {"leg": (side.leg[0]._replace(station="thigh"), *side.leg[1:])}
    )),
    ("left.leg.0.girth", ["41.3"], of_left(lambda side: first_girth(side, "leg", "41.3"))),
    ("left.leg.0.girth", ["90"], of_left(lambda side: first_girth(side, "leg", "90"))),
    ("left.boot.0.girth", ["0"], of_left(lambda side: first_girth(side, "shaft", "0"))),
    ("left.boot.0.girth", ["2001"], of_left(lambda side: first_girth(side, "shaft", "2001"))),
    ("left.boot.1.height", "300", of_left(
        lambda side: {"shaft": (side.shaft[0], side.shaft[1]._replace(height=mm("300")))}
    )),
    ("left.gaps.0.gap", ["5", "301"], of_left(
        lambda side: {"gaps": (Asked(mm("300"), (mm("5"), mm("301"))), side.gaps[1])}
    )),
    ("left.heel", "100", left(heel=mm("100"))),
    ("left.findings", ["\n"], left(findings=("\n",))),
    ("left.findings", ["scuffs"] * 61, left(findings=("scuffs",) * 61)),
    ("left.rounds.0.on_tree", "400", of_left(lambda side: first_round(side, on_tree_mm=400.0))),
    ("left.rounds.0.rested", None, of_left(lambda side: first_round(side, rested_mm=None))),
    ("left.rounds.0.before", "9", of_left(lambda side: first_round(side, before_mm=9.0))),
    ("left.rounds.0.method", "guess", of_left(lambda side: first_round(side, method="guess"))),
]  # fmt: skip


@pytest.mark.parametrize(
    ("path", "value", "change"), SAME, ids=[f"{path}-{n}" for n, (path, _, _) in enumerate(SAME)]
)
def test_a_record_is_refused_as_its_json_is(path: str, value: object, change: Change) -> None:
    """Whatever is wrong: the same kind of error, at the same field, with the same sentence."""
    there = refusal(lambda: read_job(in_json(path, value)(good())))
    built: Any = change(read_job(good()))
    here = refusal(lambda: check_job(built))
    assert (type(here), here.field, here.sentence) == (type(there), there.field, there.sentence)


def test_what_differs_on_one_side_is_refused_at_that_side() -> None:
    """The first boot is the job's, the other one has what differs."""
    built = read_job(good())
    first, second = built.sides
    thin = replace(second, boot=replace(second.boot, thickness_mm=0.0))
    refused = refusal(lambda: check_job(replace(built, sides=(first, thin))))
    assert refused.field == "right.differs.thickness_mm"


@pytest.mark.parametrize("name", ["a", "b", "c"])
def test_what_was_read_from_json_passes(name: str) -> None:
    """Else every refusal above would prove nothing."""
    for data in (example(name), good()):
        check_job(read_job(data))


def test_a_job_can_stand_for_its_answer() -> None:
    """Two jobs that say the same are one key, whatever the shop's records; others are not."""
    built: Job = read_job(good())
    assert hash(built) == hash(read_job(good()))
    assert built == read_job(good())
    other = replace(built, records={})
    assert other != built
    assert len({built: 1, read_job(good()): 2, other: 3}) == 2


def test_a_running_round_was_read_on_the_tree() -> None:
    blind = of_left(
        lambda side: {"rounds": (side.rounds[0], replace(side.rounds[1], on_tree_mm=None))}
    )
    refused = refusal(lambda: check_job(blind(read_job(good()))))
    assert refused.sentence == "left.rounds[1].on_tree: is missing; write it."


def test_an_amount_that_was_read_twice_is_no_amount() -> None:
    """It is asked for once; a gap may be read as often as it takes."""
    twice = Asked(mm("300"), (mm("5"), mm("6")))
    refused = refusal(lambda: check_job(left(amounts=(twice,))(read_job(good()))))
    assert refused.field == "left.amounts[0].amount"


READING = Reading.of(None, Length(Fraction(300), "300 mm", "mm"), (mm("400"),))
FAR = Length(Fraction(5000), "5000 mm", "mm")


@pytest.mark.parametrize(
    ("reading", "field"),
    [
        (Reading.of(None, READING.height, (mm("400"), FAR)), "boot[1].girth[1]"),
        (Reading.of(None, READING.height, (mm("400"),) * (READINGS_MOST + 1)), "boot[1].girth"),
        (READING._replace(height=FAR), "boot[1].height"),
        (READING._replace(girths=()), "boot[1].girth"),
    ],
)
def test_a_reading_that_cannot_be_is_named_among_those_that_can(
    reading: Reading, field: str
) -> None:
    beside = (READING._replace(height=mm("350")), reading)
    refused = refusal(lambda: check_job(left(shaft=beside)(read_job(good()))))
    assert refused.field == f"left.{field}"


@pytest.mark.parametrize(("key", "field"), [("shaft", "left.boot"), ("leg", "left.leg")])
def test_more_readings_than_a_job_has_are_refused_though_each_can_be(key: str, field: str) -> None:
    heights = (mm(str(height)) for height in range(100, 101 + LIST_MOST))
    many = tuple(READING._replace(height=height) for height in heights)
    refused = refusal(lambda: check_job(left(**{key: many})(read_job(good()))))
    assert refused.field == field


def test_a_girth_of_the_foot_that_cannot_be_is_named_behind_those_of_the_leg() -> None:
    sound = read_job(good())
    foot = (FootReading("ball", (mm("900"),)),)
    refused = refusal(lambda: check_job(left(foot=foot)(sound)))
    assert refused.field == f"left.leg[{len(sound.sides[0].leg)}].girth[0]"
