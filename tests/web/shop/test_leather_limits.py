"""Limits by leather: the owner's own figures beside the handbook's, and every answer by them."""

from __future__ import annotations

import ast
import json
import re
from html import unescape
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.assessment import limits, standing
from fitcounter.desk.data import export_and_import
from fitcounter.desk.plan import plan_inputs
from fitcounter.fit.assessment.materials import HANDBOOK
from fitcounter.fit.handbook.leather import LEATHERS
from fitcounter.store import fits, items, settings
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

PAGE = "/shop/leathers/supple-full-grain"


@pytest.fixture
def fit_id(store: Store, clock: Clock) -> int:
    """A pair of supple leather, short by 5/8 at its tightest, taken in as usual."""
    act = Act(clock.now, 3)
    shop.choose(store, act, limits="usual")
    return measured_pair(store, act)[1]


def keep(owner: Counter, path: str = PAGE, **typed: str):
    owner.get(path)
    return owner.post(path, submission_id=f"limits-{len(owner.pages):08}", **typed)


def test_a_changed_limit_changes_the_answer_everywhere_it_is_given(
    owner: Counter, store: Store, fit_id: int
) -> None:
    """Can it be done?, the next opening at the bench, the rows the plan is reckoned from; and back
    again with an empty field.
    """
    boot = fits.boots(store, fit_id)[0]
    before = standing.standing(store, boot)
    stamp = plan_inputs.reckon(store, shop.read(store), [boot])[boot.id].stamp
    page = owner.get(f"/fits/{fit_id}/verdict").text
    assert before is not None
    assert "Yes, in one or two rounds" in page
    assert "the shop's own figures" not in unescape(page)

    assert keep(owner, routine="1", round="1", ceiling="1.5").status_code == 303
    page = unescape(owner.get(f"/fits/{fit_id}/verdict").text)
    assert "Not by stretching: add a panel" in page
    assert "1.5 %" in page
    assert "the shop's own figures" in page
    after = standing.standing(store, items.get(store, boot.id))
    assert after is not None
    assert after.verdict.tier == "panel"
    assert after.bounds_mm(None)["round"] == pytest.approx(before.bounds_mm(None)["round"] / 10)
    assert plan_inputs.reckon(store, shop.read(store), [boot])[boot.id].stamp != stamp

    assert keep(owner, routine="", round="", ceiling="").status_code == 303
    assert limits.of_shop(store) == HANDBOOK
    assert "Yes, in one or two rounds" in owner.get(f"/fits/{fit_id}/verdict").text


def test_what_narrows_them_all_is_the_shops_too(owner: Counter, store: Store, fit_id: int) -> None:
    """A pair taken in as careful goes by the shop's own half."""
    store.db.execute("UPDATE fits SET limits = 'careful'")
    store.db.conn.commit()
    boot = fits.boots(store, fit_id)[0]
    halved = standing.standing(store, boot)
    assert keep(owner, "/shop/leathers/every", careful="25").status_code == 303
    quartered = standing.standing(store, boot)
    assert halved is not None
    assert quartered is not None
    assert quartered.verdict.limits.ceiling == pytest.approx(halved.verdict.limits.ceiling / 2)
    assert "careful: 25 % of the usual" in quartered.verdict.limits.because


def test_what_a_leather_keeps_and_how_thick_it_is_are_the_shops_too(
    owner: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """The kept fraction counts before the book knows better; the thickness for boots taken in from
    now on.
    """
    assert (
        keep(owner, kept_mean="40", thickness_from_mm="2", thickness_to_mm="2,4").status_code == 303
    )
    boot = fits.boots(store, fit_id)[0]
    assert (found := standing.standing(store, boot)) is not None
    assert found.case.prior.mean == 0.40
    assert boot.thickness_um == 1200
    newer = fits.boots(store, measured_pair(store, Act(clock.now, 3))[1])[0]
    assert newer.thickness_um == 2200


def test_every_figure_stands_with_the_handbooks_its_reason_and_what_it_changes(
    owner: Counter, bench: Counter, store: Store
) -> None:
    page = unescape(owner.get(PAGE).text).replace("\u00a0", " ")
    row = LEATHERS["supple-full-grain"]
    for key, value in limits.figures_of(row).items():
        shown = f"{value:g} mm" if key.startswith("thickness") else f"{value * 100:g} %"
        assert f'name="{key}"' in page
        assert f"Handbook: {shown}." in page
    assert page.count("shop's choice: ") >= len(limits.figures_of(row))
    assert row.reason in page
    assert "strained 15.2 % on average" in page
    assert "The load on zipper and seams." in page

    keep(owner, ceiling="12")
    listed = unescape(owner.get("/shop/leathers").text).replace("\u00a0", " ")
    assert re.search(r">12</span>% at most.*?usual 4 %, one round 10 %, stays 50 %", listed, re.S)
    assert listed.count("your own") == 1
    told = bench.get("/handbook").text
    assert told.count("In this shop: 12 %") == 1
    assert re.search(r"17 %<br>\s*<strong>In this shop: 12 %", told)


@pytest.mark.parametrize(
    ("path", "key", "typed", "words"),
    [
        (PAGE, "ceiling", "21", "from 0 to 20"),
        (PAGE, "ceiling", "-1", "percent"),
        (PAGE, "round", "a lot", "percent"),
        (PAGE, "round", "18", "Too much for one round"),
        (PAGE, "routine", "11", "Too much for the usual"),
        (PAGE, "kept_mean", "100", "from 5 to 95"),
        (PAGE, "kept_sd", "0", "from 1 to 40"),
        (PAGE, "routine", "1.234", "like 4 or 2.5"),
        (PAGE, "thickness_from_mm", "1.5", "thicker figure"),
        (PAGE, "thickness_to_mm", "1e1", "millimeters from 0.3 to 8"),
        (PAGE, "ceiling", "٣", "percent"),
        ("/shop/leathers/every", "careful", "101", "from 10 to 100"),
        ("/shop/leathers/every", "dry_or_old", "0", "from 10 to 100"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_everything_typed_is_still_there(
    owner: Counter, store: Store, path: str, key: str, typed: str, words: str
) -> None:
    also = ("prior_stretch", "40") if path.endswith("every") else ("strain_10mpa", "22")
    answer = keep(owner, path, **{key: typed, also[0]: also[1]})
    assert answer.status_code == 422
    assert words in answer.text
    assert f'value="{typed}"' in answer.text
    assert f'value="{also[1]}"' in answer.text
    assert limits.of_shop(store) == HANDBOOK
    assert settings.leather_version(store, path.rsplit("/", 1)[-1]) == 0


def test_two_owners_at_one_leather_see_each_others_figure_and_sent_twice_changes_once(
    owner: Counter, store: Store
) -> None:
    """The later one gets 409 with both texts; another leather, and the shop's other choices, are no
    conflict.
    """
    owner.get(PAGE)
    stamp = settings.stamp(store)
    first = {"submission_id": "limits-first-0001", "version": "0", "ceiling": "12"}
    assert owner.post(PAGE, **first).status_code == 303
    assert owner.post(PAGE, **first).status_code == 303
    assert settings.leather_version(store, "supple-full-grain") == 1
    late = owner.post(PAGE, submission_id="limits-second-001", version="0", ceiling="11")
    assert late.status_code == 409
    assert "12 %" in late.text
    assert 'value="11"' in late.text
    assert (
        owner.post(
            "/shop/leathers/goat", submission_id="limits-third-0001", version="0", ceiling="8"
        ).status_code
        == 303
    )
    assert settings.stamp(store) == stamp
    [detail] = store.rows("SELECT detail FROM audit WHERE what = 'limits' ORDER BY id")[:1]
    assert json.loads(detail["detail"]) == {
        "leather": "supple-full-grain",
        "figures": {"ceiling": 0.12},
    }


def test_what_is_never_stretched_has_no_limits_to_set(owner: Counter, store: Store) -> None:
    for code in ("coated", "synthetic", "granite"):
        assert owner.get(f"/shop/leathers/{code}").status_code == 404
        assert owner.post(f"/shop/leathers/{code}", ceiling="5").status_code == 404
    assert limits.of_shop(store) == HANDBOOK


def test_a_stored_figure_that_cannot_be_is_passed_over(store: Store) -> None:
    """A file that somebody wrote by hand stops no answer."""
    with store.write_tx():
        settings.put(
            store, "leather:goat", {"ceiling": "much", "round": 0.04, "routine": 5, "colour": 1}
        )
        settings.put(store, "leather:granite", {"ceiling": 0.1})
        settings.put(store, "leather:every", ["careful"])
    goat = limits.leather_of(store, "goat")
    assert (goat.routine, goat.round, goat.ceiling) == (0.04, 0.04, 0.09)
    assert limits.of_shop(store).factors == HANDBOOK.factors


def test_the_whole_shop_as_a_file_carries_them(
    owner: Counter, store: Store, clock: Clock, tmp_path: Path
) -> None:
    """Out, and into an empty folder."""
    keep(owner, ceiling="12")
    export_and_import.export(tmp_path, tmp_path / "whole.json", clock.now)
    export_and_import.bring_in(tmp_path / "whole.json", tmp_path / "again")
    other = open_store(tmp_path / "again" / "shop.db")
    assert limits.of_shop(other) == limits.of_shop(store) != HANDBOOK
    other.close()


def test_every_answer_of_the_desk_goes_by_the_shops_limits() -> None:
    """Whoever asks the computation hands the shop's limits in: nobody but these two imports what
    answers, and none without them.
    """
    asking = {"assess", "case_of", "judge"}
    found = {}
    for path in sorted(Path(limits.__file__).parent.glob("*.py")):
        names = {
            alias.name
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }
        if names & asking:
            found[path.stem] = "own" in path.read_text(encoding="utf-8")
    assert found == {"limits": True, "standing": True}
