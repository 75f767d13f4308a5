"""The pull on zip and seams at every height: the worked zip that ends below the tightest place, and
the words.
"""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import answer, example, job, left

from fitcounter.fit.assessment import load, shaft
from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job_json import read_job
from fitcounter.fit.assessment.load import Opened
from fitcounter.fit.assessment.need import Place

WALL = shaft.layers(1.3, 0.25, "leather", 0.8)


def place(height: float, leather: float, share: float = 1.0) -> PlaceNow:
    first = Place(height, None, None, leather + 50, leather, 20.0 * share, 2.0)
    return PlaceNow(first, leather + 50, 20.0 * share, share)


def boot(**zip_of: Any) -> Any:
    """A boot with a zip from 50 to 250 mm."""
    data = job(boot={"zip": {"from_mm": 50, "to_mm": 250, **zip_of}})
    return read_job(data).sides[0].boot


def test_a_zip_that_ends_below_the_tightest_place_limits_the_opening_there() -> None:
    """20 mm at 300 mm of leather, eight tenths of it over 200 at the zip's top end."""
    places = [place(250, 200, 0.8), place(300, 300)]
    opened = load.opened_from(places, places[1])
    assert [each.share for each in opened] == [0.8, 1.0]
    on_zip = load.on_zip(opened, boot())
    assert load.least_leather_mm(on_zip) == pytest.approx(250)
    assert on_zip[0].strain(20) == pytest.approx(0.08)
    sound, worn = (load.zip_strength(boot(state=state)) / 3 for state in ("sound", "worn"))
    assert shaft.strain_at_tension(sound, WALL) == pytest.approx(0.1197, abs=5e-5)
    assert shaft.strain_at_tension(worn, WALL) == pytest.approx(0.0781, abs=5e-5)
    assert 250 * shaft.strain_at_tension(worn, WALL) == pytest.approx(19.52, abs=5e-3)


def test_zip_and_seams_hold_by_the_place_where_they_are_strained_most() -> None:
    """The least leather for its share of the opening, of all that open."""
    opened = [Opened(place(200, 150, 0.5), 0.5), Opened(place(250, 200), 1.0)]
    assert load.least_leather_mm(opened) == 200
    assert load.least_leather_mm(opened[:1]) == 300


def test_a_damaged_zip_is_reckoned_whole() -> None:
    """It is mended first."""
    assert load.zip_strength(boot(state="damaged")) == load.zip_strength(boot()) == 10.0


def test_the_load_is_told_where_it_strains_most_and_the_zips_where_that_does() -> None:
    """Lowest on a tie; no word where no zip spans."""
    places = [place(200, 150, 0.4), place(250, 200, 0.8), place(300, 300), place(350, 300)]
    opened = load.opened_from(places, places[2])
    found = load.load_of(20, opened, boot(), WALL)
    assert (found.height_mm, found.strain) == (250, pytest.approx(0.08))
    assert (found.zip, found.zip_height_mm) == ("ok", 250)
    assert load.load_of(20, opened, boot(state="worn"), WALL).zip == "hold"
    high = load.load_of(20, opened, boot(from_mm=340, to_mm=400), WALL)
    assert (high.zip, high.zip_height_mm) == ("ok", 350)
    none = load.load_of(20, opened, boot(from_mm=340, to_mm=345), WALL)
    assert (none.zip, none.zip_height_mm) == (None, None)
    tied = load.opened_from([place(200, 300), place(300, 300)], place(300, 300))
    assert load.load_of(20, tied, boot(), WALL).height_mm == 200


def test_a_height_that_does_not_open_limits_nothing() -> None:
    """a(h) > 0 only."""
    closed = [Opened(place(200, 100), 0.0), Opened(place(300, 300), 1.0)]
    assert load.least_leather_mm(closed) == 300
    assert load.least_leather_mm(closed[:1]) is None
    places = [place(200, 100, 0.5), place(300, 300, 0.0)]
    assert [each.share for each in load.opened_from(places, places[1])] == [0.0, 1.0]


def test_a_worn_zip_opens_less_than_a_sound_one_all_through() -> None:
    """By name, in the answer."""
    more = {"amounts": [{"height": "200", "amount": "36"}, {"height": "300", "amount": "40"}]}
    zip_of = {"from_mm": 0, "to_mm": 250}
    sound = left(job(more, {"zip": zip_of}))
    worn = left(job(more, {"zip": {**zip_of, "state": "worn"}}))
    assert (sound["next"]["limited_by"], worn["next"]["limited_by"]) == ("round", "zip")
    assert worn["next"]["opening_mm"] < sound["next"]["opening_mm"]
    assert worn["load"]["zip_height_mm"] == 250.0
    assert worn["load"]["zip"] == "watch"


def test_the_example_of_common_practice_is_in_stages_with_its_zip_on_watch() -> None:
    """14½ in, supple, leather-lined, zip and a 40 mm gusset, leg 16¼: most likely three rounds."""
    whole = answer(example("e"))
    assert whole["verdict"] == "stages"
    for side in ("left", "right"):
        assert (whole[side]["likely"], whole[side]["load"]["zip"]) == (3, "watch")
