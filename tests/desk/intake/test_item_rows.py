"""The rows of a new pair: what was measured, else the guess of its leather, and what was seen."""

from __future__ import annotations

import json

from support.new_jobs import WHO, boots, taken_in

from fitcounter.desk import shop
from fitcounter.desk.intake.job_records import NewJob, Seen
from fitcounter.store import findings, fits
from fitcounter.store.database import Act, Store


def test_what_was_not_measured_is_the_guess_of_its_class(store: Store, act: Act):
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(lining="none")))
    left = fits.boots(store, fit_id or 0)[0]
    assert (left.thickness_um, left.lining_um, left.wall_um) == (1200, 0, 1200)
    assert json.loads(left.zip) == {
        "band_um": 30_000,
        "from_um": 60_000,
        "to_um": 900_000,
        "state": "sound",
    }
    assert (left.elastic, left.rigid) == ("", "[]")


def test_what_was_measured_replaces_the_guess(store: Store, act: Act):
    told = boots(
        closure="pull-on",
        thickness_um=1500,
        elastic_um=40_000,
        backstay_um=22_000,
        throat_um=300_000,
    )
    _, fit_id = taken_in(store, act, NewJob(WHO, told))
    left = fits.boots(store, fit_id or 0)[0]
    assert (left.zip, left.wall_um, left.throat_um) == ("", 2300, 300_000)
    assert json.loads(left.elastic)["width_um"] == 40_000
    assert json.loads(left.rigid)[0]["width_um"] == 22_000


def test_a_finding_stands_on_its_own_side_and_says_what_it_means(store: Store, act: Act):
    seen = (Seen("left", "zip-damaged", "at the top"), Seen("right", "dry-leather"))
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(seen=seen)))
    left, right = fits.boots(store, fit_id or 0)
    assert (json.loads(left.zip)["state"], json.loads(right.zip)["state"]) == ("damaged", "sound")
    assert (left.age, right.age) == ("sound", "dry-or-old")
    assert [(one.word, one.place, one.moment) for one in findings.of_item(store, left.id)] == [
        ("zip-damaged", "at the top", "before")
    ]


def test_the_fit_has_the_shops_dial_and_the_hour_of_the_shop(store: Store, act: Act):
    shop.choose(store, act, limits="usual", max_rounds=5)
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(), worn_with="sock"))
    fit = fits.get(store, fit_id or 0)
    assert (fit.limits, fit.max_rounds, fit.over) == ("usual", 5, "sock")
    assert fit.part_of_day == "morning"  # 14:00 UTC is ten o'clock in New York
